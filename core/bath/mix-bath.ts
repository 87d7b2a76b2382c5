import type { Figure, FigureInput, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { HEAT_OF_SOLUTION_SOURCE } from '../reference/sulfuric-heat-of-solution.ts';
import { SULFURIC_DENSITY_SOURCE } from '../reference/sulfuric-density.ts';
import { waterDensityKgPerM3 } from '../reference/water-density.ts';
import { failure, success, type Result } from '../result.ts';
import { acidStrength, type AcidStatement } from './acid-strength.ts';
import { MIXING_HEAT_UNCERTAINTY, mixLiquids, type MixedLiquid } from './mixing-heat.ts';
import { MIXING_LIMIT_K, mixingSteps, strongAcidCaution, type MixingStep } from './mixing-steps.ts';

/** Volumes and printed strengths are meant at 20 °C, the tables' own temperature. */
export const MIXING_REFERENCE_K = 293.15;

export interface MixRequest {
  readonly acid: AcidStatement;
  readonly target: AcidStatement;
  /** Of the finished bath, at 20 °C. */
  readonly volumeM3: number;
  /** Of acid and water before mixing; 20 °C unless given. */
  readonly startK?: number;
  readonly limitK?: number;
}

export interface BathMix {
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
  /** Water to one part of acid, by volume. */
  readonly waterParts: Figure;
  /** To be said of a strong acid; null for others. */
  readonly caution: string | null;
}

const BALANCE: Source = {
  standing: 'published',
  text: `balance of mass and acid; ${SULFURIC_DENSITY_SOURCE.text}`,
};

/**
 * Acid and water for a bath of a given volume and strength, by mass: m = ρ·V, acid = m·w/w₀, water = m − acid. Volumes
 * are never added. Fails with `acid-too-weak`, `no-volume`, `mixing-too-hot` and the failures of `acidStrength`.
 */
export function mixBath(request: MixRequest): Result<BathMix> {
  if (!(request.volumeM3 > 0)) {
    return failure(
      'no-volume',
      'The bath has no volume.',
      'Type how many litres the finished bath should hold.',
    );
  }
  const acid = acidStrength(request.acid, MIXING_REFERENCE_K);
  if (!acid.ok) return acid;
  const target = acidStrength(request.target, MIXING_REFERENCE_K);
  if (!target.ok) return target;
  if (!(target.value.massFraction > 0)) {
    return failure(
      'no-target',
      'The target holds no acid.',
      'Type the strength the bath should have, such as 180 g/L.',
    );
  }
  if (acid.value.massFraction < target.value.massFraction) {
    return failure(
      'acid-too-weak',
      'This acid is weaker than the bath should be.',
      'Use a stronger acid or ask for a weaker bath.',
    );
  }
  const water = waterDensityKgPerM3(MIXING_REFERENCE_K);
  if (!water.ok) return water;
  const startK = request.startK ?? MIXING_REFERENCE_K;
  const totalKg = target.value.densityKgPerM3 * request.volumeM3;
  const acidKg = (totalKg * target.value.massFraction) / acid.value.massFraction;
  const waterKg = Math.max(0, totalKg - acidKg);
  const mixed = mixLiquids([
    { massKg: waterKg, massFraction: 0, temperatureK: startK },
    { massKg: acidKg, massFraction: acid.value.massFraction, temperatureK: startK },
  ]);
  if (!mixed.ok) return mixed;
  const pour = { massKg: acidKg, massFraction: acid.value.massFraction };
  const steps = mixingSteps(pour, waterKg, startK, request.limitK ?? MIXING_LIMIT_K);
  if (!steps.ok) return steps;
  const strength = figureInput('w', 'strength of the bath', 'fraction', target.value.massFraction);
  const acidIn = figureInput('w₀', 'strength of the acid', 'fraction', acid.value.massFraction);
  const density = figureInput('ρ', 'density of the bath', 'density', target.value.densityKgPerM3);
  const volume = figureInput('V', 'bath volume', 'volume', request.volumeM3);
  return success({
    ...amountFigures({
      acidKg,
      waterKg,
      acidDensityKgPerM3: acid.value.densityKgPerM3,
      waterDensityKgPerM3: water.value,
      massFormula: 'm_a = ρ · V · w / w₀',
      massInputs: [density, volume, strength, acidIn],
    }),
    ...mixtureFigures(mixed.value, target.value.densityKgPerM3, startK),
    steps: steps.value,
    waterParts: waterParts(acidKg / acid.value.densityKgPerM3, waterKg / water.value),
    caution: strongAcidCaution(acid.value.massFraction),
  });
}

/** Water to one part of acid by volume, both at 20 °C. */
export function waterParts(acidM3: number, waterM3: number): Figure {
  return {
    label: 'Water to one part of acid, by volume',
    kind: 'count',
    valueSi: waterM3 / acidM3,
    digits: 4,
    formula: 'n = V_w / V_a',
    inputs: [figureInput('V_w', 'water', 'volume', waterM3), figureInput('V_a', 'acid', 'volume', acidM3)],
    source: BALANCE,
  };
}

interface Amounts {
  readonly acidKg: number;
  readonly waterKg: number;
  readonly acidDensityKgPerM3: number;
  readonly waterDensityKgPerM3: number;
  readonly massFormula: string;
  readonly massInputs: readonly FigureInput[];
}

/** Figures of acid and water to be poured, by mass and by volume at 20 °C. */
export function amountFigures(amounts: Amounts) {
  const { acidKg, waterKg, acidDensityKgPerM3, waterDensityKgPerM3: waterDensity } = amounts;
  return {
    acidMass: {
      label: 'Acid by weight',
      kind: 'mass',
      unit: 'kg',
      valueSi: acidKg,
      formula: amounts.massFormula,
      inputs: amounts.massInputs,
      source: BALANCE,
    },
    acidVolume: {
      label: 'Acid by volume',
      kind: 'volume',
      valueSi: acidKg / acidDensityKgPerM3,
      formula: 'V_a = m_a / ρ_a',
      inputs: [
        figureInput('m_a', 'acid', 'mass', acidKg, 'kg'),
        figureInput('ρ_a', 'density of the acid', 'density', acidDensityKgPerM3),
      ],
      source: BALANCE,
    },
    waterMass: {
      label: 'Water by weight',
      kind: 'mass',
      unit: 'kg',
      valueSi: waterKg,
      formula: 'm_w = ρ · V − m_a',
      inputs: [...amounts.massInputs, figureInput('m_a', 'acid', 'mass', acidKg, 'kg')],
      source: BALANCE,
    },
    waterVolume: {
      label: 'Water by volume',
      kind: 'volume',
      valueSi: waterKg / waterDensity,
      formula: 'V_w = m_w / ρ_w',
      inputs: [
        figureInput('m_w', 'water', 'mass', waterKg, 'kg'),
        figureInput('ρ_w', 'density of water', 'density', waterDensity),
      ],
      source: BALANCE,
    },
  } satisfies Record<string, Figure>;
}

/** Figures of the finished mixture: strength at 20 °C, heat and temperature. */
export function mixtureFigures(mixed: MixedLiquid, densityKgPerM3: number, startK: number) {
  const heatInputs = [
    figureInput('m', 'bath', 'mass', mixed.massKg, 'kg'),
    figureInput('w', 'strength of the bath', 'fraction', mixed.massFraction),
  ];
  const within = (valueSi: number, offset = 0) => ({
    valueSi: offset + valueSi,
    lowSi: offset + valueSi * (1 - MIXING_HEAT_UNCERTAINTY),
    highSi: offset + valueSi * (1 + MIXING_HEAT_UNCERTAINTY),
  });
  return {
    finalStrength: {
      label: 'Strength',
      kind: 'fraction',
      valueSi: mixed.massFraction,
      formula: 'w = m_a · w₀ / (m_a + m_w)',
      inputs: heatInputs,
      source: BALANCE,
    },
    finalConcentration: {
      label: 'Sulfuric acid in the bath',
      kind: 'massConcentration',
      valueSi: mixed.massFraction * densityKgPerM3,
      unit: 'g/L',
      formula: 'c = w · ρ',
      inputs: [...heatInputs.slice(1), figureInput('ρ', 'density of the bath', 'density', densityKgPerM3)],
      source: BALANCE,
    },
    heat: {
      label: 'Heat of mixing',
      kind: 'energy',
      ...within(mixed.heatJ),
      formula: 'Q = n · (H(bath) − H(acid)), n mol of acid',
      inputs: heatInputs,
      source: HEAT_OF_SOLUTION_SOURCE,
    },
    rise: {
      label: 'Rise on mixing',
      kind: 'temperatureDifference',
      ...within(mixed.riseK),
      formula: 'ΔT = Q / (m · c_p), nothing lost to vessel or air',
      inputs: [figureInput('Q', 'heat of mixing', 'energy', mixed.heatJ), ...heatInputs],
      source: HEAT_OF_SOLUTION_SOURCE,
    },
    temperature: {
      label: 'Temperature reached in one pour',
      kind: 'temperature',
      digits: 3,
      ...within(mixed.temperatureK - startK, startK),
      formula: 'T = T₀ + ΔT',
      inputs: [
        figureInput('T₀', 'start', 'temperature', startK),
        figureInput('ΔT', 'rise', 'temperatureDifference', mixed.riseK),
      ],
      source: HEAT_OF_SOLUTION_SOURCE,
    },
  } satisfies Record<string, Figure>;
}
