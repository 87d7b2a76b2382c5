import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { strengthFromDensity, sulfuricDensity } from '../reference/sulfuric-density.ts';
import { WATER_DENSITY_SOURCE, waterDensityKgPerM3 } from '../reference/water-density.ts';
import { failure, success, type Result } from '../result.ts';

/** Cubic expansion of a glass float, per K (soda-lime glass, from memory). */
const GLASS_PER_K = 25e-6;

/** Density that dissolved aluminium adds as its sulfate, kg/m³ per kg/m³ of aluminium (from memory, weak). */
export const ALUMINIUM_DENSITY = {
  low: 5.5,
  usual: 5.75,
  high: 6,
  source: {
    standing: 'from memory',
    text: 'aluminium sulfate adds 0.0055-0.006 g/cm³ per g/L Al; the direction is sure, the size is not',
  } satisfies Source,
} as const;

export interface HydrometerReading {
  /** As read on the stem. */
  readonly specificGravity: number;
  readonly sampleK: number;
  /** Printed on the stem, such as 20 °C (60 °F on others); its water reads 1.000 there. */
  readonly calibrationK: number;
  /** From a titration; null when it has not been measured. */
  readonly aluminiumKgPerM3: number | null;
}

export interface HydrometerStrength {
  /** The sample's true density at its own temperature. */
  readonly density: Figure;
  readonly strength: Figure;
  /** At 20 °C, where bath strengths are quoted. */
  readonly concentration: Figure;
  /** What to say beside the figures. */
  readonly warning: string | null;
}

/**
 * Strength of a bath from a hydrometer: the float's glass is corrected to the sample's temperature, the share of
 * dissolved aluminium taken off, the density table inverted at the sample's temperature. Fails with `hydrometer-reading`
 * (out of 0.99-1.9), `density-not-unique`, `density-below-water`, `outside-table`.
 */
export function hydrometerStrength(reading: HydrometerReading): Result<HydrometerStrength> {
  const { specificGravity, sampleK, calibrationK, aluminiumKgPerM3 } = reading;
  if (!(specificGravity > 0.99 && specificGravity < 1.9)) {
    return failure(
      'hydrometer-reading',
      'No hydrometer for acid reads this.',
      'Type the specific gravity as printed on the stem, such as 1.110.',
    );
  }
  if (aluminiumKgPerM3 !== null && !(aluminiumKgPerM3 >= 0 && aluminiumKgPerM3 < 50)) {
    return failure(
      'aluminium-out-of-range',
      'Dissolved aluminium in an anodizing bath lies between 0 and 50 g/L.',
      'Type the titrated aluminium in g/L, or leave it open.',
    );
  }
  const water = waterDensityKgPerM3(calibrationK);
  if (!water.ok) return water;
  const density = specificGravity * water.value * (1 - GLASS_PER_K * (sampleK - calibrationK));
  const at = (aluminiumFactor: number): Result<{ strength: number; acidKgPerM3: number }> => {
    const strength = strengthFromDensity(density - aluminiumFactor * (aluminiumKgPerM3 ?? 0), sampleK);
    if (!strength.ok) return strength;
    const at20 = sulfuricDensity(strength.value, 293.15);
    if (!at20.ok) return at20;
    return success({ strength: strength.value, acidKgPerM3: strength.value * at20.value.value });
  };
  const usual = at(ALUMINIUM_DENSITY.usual);
  if (!usual.ok) return usual;
  const low = at(ALUMINIUM_DENSITY.high);
  if (!low.ok) return low;
  const high = at(ALUMINIUM_DENSITY.low);
  if (!high.ok) return high;
  const inputs = [
    figureInput('SG', 'hydrometer', 'count', specificGravity, '', 5),
    figureInput('T', 'sample', 'temperature', sampleK),
    figureInput('T_c', 'calibrated at', 'temperature', calibrationK),
  ];
  const correctedInputs = [
    figureInput('ρ', 'density of the sample', 'density', density),
    figureInput('T', 'sample', 'temperature', sampleK),
    figureInput('Al', 'dissolved aluminium', 'massConcentration', aluminiumKgPerM3 ?? 0, 'g/L'),
  ];
  const source =
    aluminiumKgPerM3 === null || aluminiumKgPerM3 === 0
      ? ({ standing: 'published', text: 'density table of sulfuric acid, inverted' } satisfies Source)
      : ALUMINIUM_DENSITY.source;
  return success({
    density: {
      label: 'Density of the sample',
      kind: 'density',
      valueSi: density,
      formula: 'ρ = SG · ρ_w(T_c) · (1 − 25·10⁻⁶ · (T − T_c))',
      inputs,
      source: {
        standing: WATER_DENSITY_SOURCE.standing,
        text: `${WATER_DENSITY_SOURCE.text}; expansion of the glass from memory`,
      },
    },
    strength: {
      label: 'Strength',
      kind: 'fraction',
      valueSi: usual.value.strength,
      lowSi: low.value.strength,
      highSi: high.value.strength,
      formula: 'w from ρ − 5.75 · Al at T, by the density table',
      inputs: correctedInputs,
      source,
    },
    concentration: {
      label: 'Sulfuric acid by hydrometer',
      kind: 'massConcentration',
      unit: 'g/L',
      valueSi: usual.value.acidKgPerM3,
      lowSi: low.value.acidKgPerM3,
      highSi: high.value.acidKgPerM3,
      formula: 'c = w · ρ(w, 20 °C)',
      inputs: correctedInputs,
      source,
    },
    warning:
      aluminiumKgPerM3 === null
        ? 'Dissolved aluminium makes a hydrometer read too much acid, about 9 g/L for every g/L of aluminium; titrate a bath that has been used.'
        : null,
  });
}
