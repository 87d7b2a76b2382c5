import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { sulfuricDensity, SULFURIC_DENSITY_SOURCE } from '../reference/sulfuric-density.ts';
import { waterDensityKgPerM3 } from '../reference/water-density.ts';
import { failure, success, type Result } from '../result.ts';
import { acidStrength, type AcidStatement } from './acid-strength.ts';
import { amountFigures, mixtureFigures, MIXING_REFERENCE_K, waterParts } from './mix-bath.ts';
import { mixLiquids } from './mixing-heat.ts';
import { mixingSteps, strongAcidCaution, type MixingStep } from './mixing-steps.ts';

export interface PartsMix {
  readonly acidVolume: Figure;
  readonly acidMass: Figure;
  readonly waterVolume: Figure;
  readonly waterMass: Figure;
  readonly finalConcentration: Figure;
  readonly finalStrength: Figure;
  readonly heat: Figure;
  readonly rise: Figure;
  readonly temperature: Figure;
  /** Always the acid into the water; more than one where a single pour gets too hot. */
  readonly steps: readonly MixingStep[];
  readonly waterParts: Figure;
  /** To be said of a strong acid; null for others. */
  readonly caution: string | null;
  /** Finished volume over the volumes poured: less than one, the mix shrinks. */
  readonly volumeRatio: Figure;
}

/** Without a volume, one part is a litre. */
const PART_M3 = 1e-3;

/**
 * What strength a recipe in parts by volume gives, both liquids measured at 20 °C.
 * @param finishedM3 volume the finished mix should have; without it a part is a litre
 * Fails with `no-parts`, `no-acid`, `mixing-too-hot` and the failures of `acidStrength`.
 */
export function mixParts(
  acid: AcidStatement,
  acidParts: number,
  partsOfWater: number,
  finishedM3?: number,
): Result<PartsMix> {
  if (!(acidParts > 0 && partsOfWater > 0) || (finishedM3 !== undefined && !(finishedM3 > 0))) {
    return failure(
      'no-parts',
      'A recipe needs some acid and some water.',
      'Type parts, acid first, such as 1:3.',
    );
  }
  const strength = acidStrength(acid, MIXING_REFERENCE_K);
  if (!strength.ok) return strength;
  const water = waterDensityKgPerM3(MIXING_REFERENCE_K);
  if (!water.ok) return water;
  if (!(strength.value.massFraction > 0)) {
    return failure('no-acid', 'This acid holds no acid.', 'Type the strength printed on the container.');
  }
  const acidPerPartKg = acidParts * strength.value.densityKgPerM3;
  const waterPerPartKg = partsOfWater * water.value;
  const massFraction = (acidPerPartKg * strength.value.massFraction) / (acidPerPartKg + waterPerPartKg);
  const density = sulfuricDensity(massFraction, MIXING_REFERENCE_K);
  if (!density.ok) return density;
  const finishedPerPart = (acidPerPartKg + waterPerPartKg) / density.value.value;
  const partM3 = finishedM3 === undefined ? PART_M3 : finishedM3 / finishedPerPart;
  const acidKg = acidPerPartKg * partM3;
  const waterKg = waterPerPartKg * partM3;
  const mixed = mixLiquids([
    { massKg: waterKg, massFraction: 0, temperatureK: MIXING_REFERENCE_K },
    { massKg: acidKg, massFraction: strength.value.massFraction, temperatureK: MIXING_REFERENCE_K },
  ]);
  if (!mixed.ok) return mixed;
  const pour = { massKg: acidKg, massFraction: strength.value.massFraction };
  const steps = mixingSteps(pour, waterKg, MIXING_REFERENCE_K);
  if (!steps.ok) return steps;
  const parts = [
    figureInput('n_a', 'parts of acid', 'count', acidParts, '', 4),
    figureInput('n_w', 'parts of water', 'count', partsOfWater, '', 4),
    figureInput('V₁', 'one part', 'volume', partM3),
  ];
  const amounts = amountFigures({
    acidKg,
    waterKg,
    acidDensityKgPerM3: strength.value.densityKgPerM3,
    waterDensityKgPerM3: water.value,
    massFormula: 'm_a = n_a · V₁ · ρ_a',
    massInputs: [
      ...parts,
      figureInput('ρ_a', 'density of the acid', 'density', strength.value.densityKgPerM3),
    ],
  });
  return success({
    ...amounts,
    waterMass: { ...amounts.waterMass, formula: 'm_w = n_w · V₁ · ρ_w' },
    ...mixtureFigures(mixed.value, density.value.value, MIXING_REFERENCE_K),
    steps: steps.value,
    waterParts: waterParts(acidParts * partM3, partsOfWater * partM3),
    caution: strongAcidCaution(strength.value.massFraction),
    volumeRatio: {
      label: 'Finished volume over what was poured',
      kind: 'fraction',
      valueSi: finishedPerPart / (acidParts + partsOfWater),
      formula: 'V / (V_a + V_w) = m / (ρ · (V_a + V_w))',
      inputs: [...parts, figureInput('ρ', 'density of the mix', 'density', density.value.value)],
      source: SULFURIC_DENSITY_SOURCE,
    },
  });
}
