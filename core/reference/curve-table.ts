import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';

/**
 * A published curve as rows of argument, value and uncertainty (half-width, same unit as the value). Rows ascend in the
 * argument. A look-up outside the rows is refused: no table is carried on beyond what was measured.
 */
export interface CurveTable {
  /** As it reads in a sentence: "density of sulfuric acid". */
  readonly name: string;
  readonly argument: string;
  readonly argumentUnit: string;
  readonly valueUnit: string;
  readonly conditions: string;
  readonly source: Source;
  readonly rows: readonly (readonly [argument: number, value: number, uncertainty: number])[];
}

export interface CurveReading {
  readonly value: number;
  readonly uncertainty: number;
}

/** Straight lines between rows; fails with `outside-table`. */
export function readCurve(table: CurveTable, argument: number): Result<CurveReading> {
  const outside = refuse(table, argument);
  if (outside) return outside;
  const i = segment(table, argument);
  const [x0, y0, u0] = table.rows[i]!;
  const [x1, y1, u1] = table.rows[i + 1]!;
  const t = (argument - x0) / (x1 - x0);
  return success({ value: y0 + (y1 - y0) * t, uncertainty: Math.max(u0, u1) });
}

/**
 * A smooth curve through the rows that never overshoots them: cubic Hermite with limited slopes (Fritsch and Carlson,
 * SIAM J. Numer. Anal. 17 (1980) 238). Fails with `outside-table`.
 */
export function readSmoothCurve(table: CurveTable, argument: number): Result<CurveReading> {
  const outside = refuse(table, argument);
  if (outside) return outside;
  const i = segment(table, argument);
  const [x0, y0, u0] = table.rows[i]!;
  const [x1, y1, u1] = table.rows[i + 1]!;
  const h = x1 - x0;
  const t = (argument - x0) / h;
  const m0 = slopeAt(table, i) * h;
  const m1 = slopeAt(table, i + 1) * h;
  const value =
    (1 + 2 * t) * (1 - t) ** 2 * y0 + t * (1 - t) ** 2 * m0 + t * t * (3 - 2 * t) * y1 + t * t * (t - 1) * m1;
  return success({ value, uncertainty: Math.max(u0, u1) });
}

function refuse(table: CurveTable, argument: number) {
  if (Number.isNaN(argument)) throw new RangeError(`readCurve: argument of the ${table.name} is NaN`);
  const low = table.rows[0]![0];
  const high = table.rows.at(-1)![0];
  if (argument >= low && argument <= high) return undefined;
  const unit = table.argumentUnit === '' ? '' : ` ${table.argumentUnit}`;
  return failure(
    'outside-table',
    `The ${table.name} is known for ${table.argument} from ${low} to ${high}${unit} only, and ${Number(argument.toPrecision(4))}${unit} is outside it.`,
    `Stay between ${low} and ${high}${unit}, or measure it yourself.`,
  );
}

function segment(table: CurveTable, argument: number): number {
  let i = 0;
  while (i < table.rows.length - 2 && argument > table.rows[i + 1]![0]) i++;
  return i;
}

function chord(table: CurveTable, i: number): number {
  const [x0, y0] = table.rows[i]!;
  const [x1, y1] = table.rows[i + 1]!;
  return (y1 - y0) / (x1 - x0);
}

/** Slope at row i: weighted harmonic mean of the chords, zero at a turning point, one chord at the ends. */
function slopeAt(table: CurveTable, i: number): number {
  const last = table.rows.length - 1;
  if (i === 0) return chord(table, 0);
  if (i === last) return chord(table, last - 1);
  const before = chord(table, i - 1);
  const after = chord(table, i);
  if (before * after <= 0) return 0;
  const h0 = table.rows[i]![0] - table.rows[i - 1]![0];
  const h1 = table.rows[i + 1]![0] - table.rows[i]![0];
  const w0 = 2 * h1 + h0;
  const w1 = h1 + 2 * h0;
  return (w0 + w1) / (w0 / before + w1 / after);
}
