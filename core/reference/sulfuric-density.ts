import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';
import { readCurve, readSmoothCurve, type CurveReading, type CurveTable } from './curve-table.ts';
import { waterDensityKgPerM3 } from './water-density.ts';

/**
 * Density of sulfuric acid at 20 °C. Rows from memory of the handbook table, each confirmed within 0.3 kg/m³ against an
 * independent open table where both have one; Myhre, Nielsen and Saastad (J. Chem. Eng. Data 43 (1998) 617) agrees
 * within 0.5 kg/m³ up to 40 % and 3 kg/m³ up to 90 %.
 */
export const SULFURIC_DENSITY_20C: CurveTable = {
  name: 'density of sulfuric acid',
  argument: 'strengths',
  argumentUnit: 'weight %',
  valueUnit: 'kg/m³',
  conditions: '20 °C, pure acid in water, no dissolved metal',
  source: {
    standing: 'published',
    text: 'density of sulfuric acid at 20 °C, Perry’s Chemical Engineers’ Handbook (International Critical Tables); confirmed within 0.0003 g/cm³ by an independent open table',
  },
  rows: [
    [0, 998.2, 0.1],
    [5, 1031.7, 0.5],
    [10, 1066.1, 0.5],
    [15, 1102.0, 0.5],
    [20, 1139.4, 0.5],
    [25, 1178.3, 0.5],
    [30, 1218.5, 0.6],
    [35, 1259.9, 0.6],
    [37, 1276.9, 0.6],
    [40, 1302.8, 0.6],
    [50, 1395.1, 1],
    [60, 1498.3, 1.5],
    [70, 1610.5, 2],
    [80, 1727.2, 2.5],
    [90, 1814.4, 3],
    [93, 1827.9, 1],
    [95, 1833.7, 1],
    [96, 1835.5, 1],
    [97, 1836.4, 1],
    [98, 1836.1, 1],
    [100, 1830.5, 1],
  ],
};

/**
 * Change of density per kelvin about 20 °C, from the same open table's 15 and 25 °C columns (linear in temperature).
 * Below 20 % water's own curve is blended in, see sulfuricDensity.
 */
export const SULFURIC_DENSITY_SLOPE: CurveTable = {
  name: 'thermal expansion of sulfuric acid',
  argument: 'strengths',
  argumentUnit: 'weight %',
  valueUnit: 'kg/m³ per K',
  conditions: '15-25 °C',
  source: {
    standing: 'published',
    text: 'open sulfuric-acid density table, columns at 15 and 25 °C',
  },
  rows: [
    [20, -0.62, 0.05],
    [30, -0.69, 0.08],
    [40, -0.73, 0.12],
    [50, -0.76, 0.15],
    [60, -0.81, 0.2],
    [70, -0.87, 0.2],
    [80, -0.99, 0.2],
    [90, -1.03, 0.2],
    [100, -1.0, 0.1],
  ],
};

export const SULFURIC_DENSITY_SOURCE: Source = SULFURIC_DENSITY_20C.source;

/** Above this strength density no longer tells the strength: it has its maximum near 97.5 %. */
export const HIGHEST_STRENGTH_FROM_DENSITY = 0.96;
const BLEND_END_PERCENT = 20;

/**
 * Density of sulfuric acid, kg/m³, of mass fraction 0-1 at 0-50 °C. Fails with `outside-table`.
 * ρ(w, T) = ρ₂₀(w) + Δ, where Δ is β·(T − 20 °C) from 20 % up and, below that, a straight blend between it and what
 * water itself does. The uncertainty grows by the slope's own for every kelvin away from 20 °C.
 */
export function sulfuricDensity(massFraction: number, temperatureK: number): Result<CurveReading> {
  const percent = massFraction * 100;
  const at20 = readSmoothCurve(SULFURIC_DENSITY_20C, percent);
  if (!at20.ok) return at20;
  const water = waterDensityKgPerM3(temperatureK);
  if (!water.ok) return water;
  const water20 = waterDensityKgPerM3(293.15);
  if (!water20.ok) return water20;
  const slope = readCurve(SULFURIC_DENSITY_SLOPE, Math.max(percent, BLEND_END_PERCENT));
  if (!slope.ok) return slope;
  const warmerK = temperatureK - 293.15;
  const share = Math.min(1, percent / BLEND_END_PERCENT);
  const change = share * slope.value.value * warmerK + (1 - share) * (water.value - water20.value);
  return success({
    value: at20.value.value + change,
    uncertainty: at20.value.uncertainty + share * slope.value.uncertainty * Math.abs(warmerK),
  });
}

/**
 * Strength (mass fraction) from density at a temperature. Fails with `density-not-unique` above 96 %,
 * `density-below-water` under pure water, `outside-table` for the temperature.
 */
export function strengthFromDensity(densityKgPerM3: number, temperatureK: number): Result<number> {
  const top = sulfuricDensity(HIGHEST_STRENGTH_FROM_DENSITY, temperatureK);
  if (!top.ok) return top;
  const bottom = sulfuricDensity(0, temperatureK);
  if (!bottom.ok) return bottom;
  if (densityKgPerM3 > top.value.value) {
    return failure(
      'density-not-unique',
      'Above 96 % the density of sulfuric acid hardly changes and then falls, so it does not tell the strength.',
      'Take the strength printed on the container, in weight per cent.',
    );
  }
  if (densityKgPerM3 < bottom.value.value - bottom.value.uncertainty) {
    return failure(
      'density-below-water',
      'This density is below that of pure water.',
      'Check the reading and its temperature: a hydrometer for acid starts at 1.000.',
    );
  }
  let low = 0;
  let high = HIGHEST_STRENGTH_FROM_DENSITY;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    const density = sulfuricDensity(middle, temperatureK);
    if (!density.ok) return density;
    if (density.value.value < densityKgPerM3) low = middle;
    else high = middle;
  }
  return success((low + high) / 2);
}

/**
 * Strength (mass fraction) of an acid that holds so many kg H₂SO₄ per m³ (equal to g/L) at a temperature.
 * Grams per litre rise with strength all the way, so this one is unique. Fails with `outside-table`.
 */
export function strengthFromConcentration(acidKgPerM3: number, temperatureK: number): Result<number> {
  const most = sulfuricDensity(1, temperatureK);
  if (!most.ok) return most;
  if (!(acidKgPerM3 >= 0 && acidKgPerM3 <= most.value.value)) {
    return failure(
      'outside-table',
      `Sulfuric acid holds from 0 to ${most.value.value.toFixed(0)} g/L, and ${acidKgPerM3} g/L is outside it.`,
      'Check the number and its unit.',
    );
  }
  let low = 0;
  let high = 1;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    const density = sulfuricDensity(middle, temperatureK);
    if (!density.ok) return density;
    if (middle * density.value.value < acidKgPerM3) low = middle;
    else high = middle;
  }
  return success((low + high) / 2);
}
