import { success, type Result } from '../result.ts';
import { readCurve, type CurveTable } from './curve-table.ts';

/** IUPAC 2021: H 1.008, S 32.06, O 15.999; older tables carry 98.079, used throughout for the tables' sake. */
export const SULFURIC_KG_PER_MOL = 0.098079;
export const WATER_KG_PER_MOL = 0.018015;

/** Thomsen's equation has its half-value at this many moles of water; it also straightens the table below. */
const THOMSEN_HALF_MOL = 1.7983;
export const THOMSEN_FULL_J_PER_MOL = 74_730;

const bend = (molWater: number): number => molWater / (molWater + THOMSEN_HALF_MOL);

/** Moles of water per mole of acid, heat given off per mole of acid (J), half-width (J). */
export const HEAT_OF_SOLUTION_ROWS: readonly (readonly [number, number, number])[] = [
  [0, 0, 0],
  [0.5, 15_730, 500],
  [1, 28_070, 500],
  [2, 41_920, 500],
  [3, 48_990, 500],
  [4, 54_060, 500],
  [5, 58_030, 500],
  [10, 67_030, 500],
  [25, 72_300, 500],
  [50, 73_340, 500],
  [100, 73_970, 500],
  [500, 76_730, 500],
  [1000, 78_570, 500],
];

/** Read along n/(n + 1.7983), in which Thomsen's equation is a straight line, so linear steps follow the curve. */
const TABLE: CurveTable = {
  name: 'heat of solution of sulfuric acid',
  argument: 'dilutions n/(n + 1.798)',
  argumentUnit: '',
  valueUnit: 'J/mol',
  conditions: '25 °C, liquid acid into water',
  source: {
    standing: 'from memory',
    text: 'integral heat of solution of H₂SO₄(l) at 25 °C, textbook table, ±0.5 kJ/mol; Thomsen’s equation agrees within 5 %',
  },
  rows: HEAT_OF_SOLUTION_ROWS.map(([n, heat, uncertainty]) => [bend(n), heat, uncertainty] as const),
};

export const HEAT_OF_SOLUTION_SOURCE = TABLE.source;

/**
 * Heat that has been given off when an acid of this mass fraction was made from liquid H₂SO₄ and water, J per kg of
 * H₂SO₄; relative to the pure acid. Mass fraction 0.0054-1 (1000 mol water per mol). Fails with `outside-table`.
 */
export function heatOfSolutionJPerKgAcid(massFraction: number): Result<number> {
  if (!(massFraction > 0 && massFraction <= 1)) {
    throw new RangeError(`heatOfSolutionJPerKgAcid: massFraction is ${massFraction}`);
  }
  const molWater = ((1 - massFraction) / massFraction) * (SULFURIC_KG_PER_MOL / WATER_KG_PER_MOL);
  const reading = readCurve(TABLE, bend(molWater));
  return reading.ok ? success(reading.value.value / SULFURIC_KG_PER_MOL) : reading;
}
