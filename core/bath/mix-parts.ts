import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { sulfuricDensity, SULFURIC_DENSITY_SOURCE } from '../reference/sulfuric-density.ts';
import { waterDensityKgPerM3 } from '../reference/water-density.ts';
import { failure, success, type Result } from '../result.ts';
import { acidStrength, type AcidStatement } from './acid-strength.ts';
import { mixtureFigures, MIXING_REFERENCE_K } from './mix-bath.ts';
import { mixLiquids } from './mixing-heat.ts';

export interface PartsMix {
  readonly finalConcentration: Figure;
  readonly finalStrength: Figure;
  readonly heat: Figure;
  readonly rise: Figure;
  readonly temperature: Figure;
  /** Finished volume over the volumes poured: less than one, the mix shrinks. */
  readonly volumeRatio: Figure;
}

/**
 * What strength a recipe in parts by volume gives, both liquids measured at 20 °C.
 * Fails with `no-parts` and the failures of `acidStrength`.
 */
export function mixParts(acid: AcidStatement, acidParts: number, waterParts: number): Result<PartsMix> {
  if (!(acidParts > 0 && waterParts >= 0)) {
    return failure(
      'no-parts',
      'A recipe needs some acid and no negative parts.',
      'Type parts such as 1 : 3.',
    );
  }
  const strength = acidStrength(acid, MIXING_REFERENCE_K);
  if (!strength.ok) return strength;
  const water = waterDensityKgPerM3(MIXING_REFERENCE_K);
  if (!water.ok) return water;
  if (!(strength.value.massFraction > 0)) {
    return failure('no-acid', 'This acid holds no acid.', 'Type the strength printed on the container.');
  }
  const mixed = mixLiquids([
    { massKg: waterParts * water.value, massFraction: 0, temperatureK: MIXING_REFERENCE_K },
    {
      massKg: acidParts * strength.value.densityKgPerM3,
      massFraction: strength.value.massFraction,
      temperatureK: MIXING_REFERENCE_K,
    },
  ]);
  if (!mixed.ok) return mixed;
  const density = sulfuricDensity(mixed.value.massFraction, MIXING_REFERENCE_K);
  if (!density.ok) return density;
  const { heat, ...perPart } = mixtureFigures(mixed.value, density.value.value, MIXING_REFERENCE_K);
  return success({
    ...perPart,
    heat: {
      ...heat,
      label: 'Heat of mixing, per m³ poured',
      valueSi: heat.valueSi / (acidParts + waterParts),
      lowSi: heat.lowSi / (acidParts + waterParts),
      highSi: heat.highSi / (acidParts + waterParts),
    },
    volumeRatio: {
      label: 'Finished volume over what was poured',
      kind: 'fraction',
      valueSi: mixed.value.massKg / density.value.value / (acidParts + waterParts),
      formula: 'V / (V_a + V_w) = m / (ρ · (V_a + V_w))',
      inputs: [
        figureInput('V_a', 'parts of acid', 'count', acidParts),
        figureInput('V_w', 'parts of water', 'count', waterParts),
        figureInput('ρ', 'density of the mix', 'density', density.value.value),
      ],
      source: SULFURIC_DENSITY_SOURCE,
    },
  });
}
