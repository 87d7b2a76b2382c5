import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';
import { readCurve, type CurveTable } from './curve-table.ts';

export const VAPOUR_SOURCE: Source = {
  standing: 'published',
  text: 'vapour pressure of water over liquid, A. L. Buck, J. Appl. Meteorol. 20 (1981) 1527 (1996 coefficients), within 0.1 % from 0 to 50 °C',
};

/** Saturation pressure over liquid water, Pa, −10 to 60 °C. Fails with `outside-table`. */
export function saturationPressurePa(temperatureK: number): Result<number> {
  const t = temperatureK - 273.15;
  if (!(t >= -10 && t <= 60)) {
    return failure(
      'outside-table',
      `Vapour pressure is taken from −10 to 60 °C here, and ${t.toFixed(1)} °C is outside it.`,
      'Check the temperature typed.',
    );
  }
  return success(611.21 * Math.exp((18.678 - t / 234.5) * (t / (257.14 + t))));
}

/** Water activity of sulfuric acid: its vapour pressure over that of pure water. */
export const SULFURIC_WATER_ACTIVITY: CurveTable = {
  name: 'water activity of sulfuric acid',
  argument: 'strengths',
  argumentUnit: 'weight %',
  valueUnit: '',
  conditions: '25 °C; hardly changes from 0 to 40 °C',
  source: {
    standing: 'from memory',
    text: 'water activity of sulfuric acid at 1, 2, 3 and 4 mol/kg, Robinson and Stokes, Electrolyte Solutions',
  },
  rows: [
    [0, 1, 0.002],
    [8.93, 0.962, 0.01],
    [16.4, 0.914, 0.01],
    [22.7, 0.852, 0.015],
    [28.2, 0.778, 0.015],
  ],
};

/** Fails with `outside-table` above 28.2 %. */
export function waterActivity(massFraction: number): Result<number> {
  const reading = readCurve(SULFURIC_WATER_ACTIVITY, massFraction * 100);
  return reading.ok ? success(reading.value.value) : reading;
}
