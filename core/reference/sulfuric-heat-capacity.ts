import { success, type Result } from '../result.ts';
import { readCurve, type CurveTable } from './curve-table.ts';

const CALORIE_J = 4.184;

/** Weight per cent against cal/(g·K), as the handbook prints it. */
const PRINTED: readonly (readonly [number, number])[] = [
  [0, 0.9995],
  [2.65, 0.9762],
  [5.16, 0.9549],
  [9.82, 0.9177],
  [15.36, 0.8767],
  [21.4, 0.8339],
  [25.39, 0.8041],
  [30.34, 0.7647],
  [35.25, 0.7238],
  [40.49, 0.677],
  [47.57, 0.6153],
  [52.13, 0.5801],
  [57.65, 0.542],
  [64.47, 0.5012],
  [73.13, 0.4628],
  [81.33, 0.4481],
  [85.48, 0.4346],
  [89.36, 0.4016],
  [94.82, 0.3554],
  [97.44, 0.3404],
  [100, 0.3352],
];

export const SULFURIC_HEAT_CAPACITY: CurveTable = {
  name: 'heat capacity of sulfuric acid',
  argument: 'strengths',
  argumentUnit: 'weight %',
  valueUnit: 'J/(kg·K)',
  conditions: '20 °C',
  source: {
    standing: 'from memory',
    text: 'specific heat of aqueous sulfuric acid at 20 °C, Perry’s Chemical Engineers’ Handbook, ±1 %',
  },
  rows: PRINTED.map(
    ([percent, calories]) =>
      [percent, calories * CALORIE_J * 1000, calories * CALORIE_J * 1000 * 0.01] as const,
  ),
};

/** J/(kg·K) at a mass fraction 0-1, near 20 °C. Fails with `outside-table`. */
export function sulfuricHeatCapacityJPerKgK(massFraction: number): Result<number> {
  const reading = readCurve(SULFURIC_HEAT_CAPACITY, massFraction * 100);
  return reading.ok ? success(reading.value.value) : reading;
}
