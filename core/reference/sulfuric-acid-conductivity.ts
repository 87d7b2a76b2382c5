import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';
import { readCurve, readSmoothCurve, type CurveReading, type CurveTable } from './curve-table.ts';

const SOURCE: Source = {
  standing: 'from memory',
  text: 'conductivity of sulfuric acid at 18 °C with its change per kelvin, Kohlrausch and Holborn, as carried into the International Critical Tables',
};

/** Specific conductivity of sulfuric acid at 18 °C. Uncertainty 1 % of the value. Dissolved aluminium is not in it. */
export const SULFURIC_CONDUCTIVITY_18C: CurveTable = {
  name: 'conductivity of sulfuric acid',
  argument: 'strengths',
  argumentUnit: 'weight %',
  valueUnit: 'S/m',
  conditions: '18 °C, pure acid in water, no dissolved metal',
  source: SOURCE,
  rows: [
    [5, 20.85, 0.21],
    [10, 39.15, 0.4],
    [15, 54.32, 0.55],
    [20, 65.27, 0.66],
    [25, 71.71, 0.72],
    [30, 73.88, 0.74],
    [35, 72.43, 0.73],
    [40, 68.0, 0.68],
    [50, 54.05, 0.55],
    [60, 37.26, 0.38],
    [70, 21.57, 0.22],
    [80, 11.05, 0.12],
  ],
};

/** Relative change per kelvin, referred to the value at 18 °C. */
export const SULFURIC_CONDUCTIVITY_PER_KELVIN: CurveTable = {
  name: 'temperature coefficient of the conductivity of sulfuric acid',
  argument: 'strengths',
  argumentUnit: 'weight %',
  valueUnit: '1/K',
  conditions: 'relative to 18 °C',
  source: SOURCE,
  rows: [
    [5, 0.0121, 0.0005],
    [10, 0.0128, 0.0005],
    [15, 0.0136, 0.0005],
    [20, 0.0145, 0.0005],
    [25, 0.0154, 0.0005],
    [30, 0.0162, 0.0005],
    [35, 0.017, 0.0005],
    [40, 0.0178, 0.0005],
    [50, 0.0193, 0.001],
    [60, 0.0213, 0.001],
    [70, 0.0256, 0.001],
    [80, 0.0349, 0.002],
  ],
};

export const SULFURIC_CONDUCTIVITY_SOURCE: Source = SOURCE;

const REFERENCE_K = 291.15;
const COLDEST_K = 268.15;
const WARMEST_K = 313.15;
const WELL_KNOWN_SPAN_K = 12;

/**
 * Conductivity of sulfuric acid, S/m, of mass fraction 0.05-0.8 at −5 to 40 °C: κ = κ₁₈ · (1 + a · (T − 18 °C)).
 * Within 2 % from 10 to 30 °C; the straight line in temperature is carried to cold baths with another 1 % for every
 * 5 K beyond. Dissolved aluminium lowers it (1-2 % per g/L, from memory), which is not taken off here.
 * Fails with `outside-table`.
 */
export function sulfuricConductivity(massFraction: number, temperatureK: number): Result<CurveReading> {
  const at18 = readSmoothCurve(SULFURIC_CONDUCTIVITY_18C, massFraction * 100);
  if (!at18.ok) return at18;
  const perKelvin = readCurve(SULFURIC_CONDUCTIVITY_PER_KELVIN, massFraction * 100);
  if (!perKelvin.ok) return perKelvin;
  if (!(temperatureK >= COLDEST_K && temperatureK <= WARMEST_K)) {
    return failure(
      'outside-table',
      `The conductivity of sulfuric acid is known from −5 to 40 °C, and ${(temperatureK - 273.15).toFixed(1)} °C is outside it.`,
      'Check the temperature of the bath, or type a conductivity you measured.',
    );
  }
  const warmerK = temperatureK - REFERENCE_K;
  const value = at18.value.value * (1 + perKelvin.value.value * warmerK);
  const beyondK = Math.max(0, Math.abs(warmerK) - WELL_KNOWN_SPAN_K);
  const relative = 0.01 + 0.01 * Math.min(1, Math.abs(warmerK) / 8) + (0.01 * beyondK) / 5;
  return success({ value, uncertainty: value * relative });
}
