/** Coefficients of a linear least-squares fit with their standard deviations. */
export interface LinearFit {
  readonly coefficients: Float64Array;
  readonly deviations: Float64Array;
  /** Of a single point about the fit; 0 where there are as many points as coefficients. */
  readonly residualSd: number;
  readonly residuals: Float64Array;
  readonly freedom: number;
}

/**
 * Ordinary least squares by Householder QR, without the squared condition of the normal equations.
 * @param columns one array a coefficient, all as long as `values`
 * @returns undefined where the columns do not determine the coefficients (too few points, or points all alike)
 */
export function leastSquares(columns: readonly Float64Array[], values: Float64Array): LinearFit | undefined {
  const n = values.length;
  const p = columns.length;
  if (p === 0) throw new RangeError('leastSquares: no columns');
  const odd = columns.find((column) => column.length !== n);
  if (odd) throw new RangeError(`leastSquares: a column of ${odd.length} for ${n} values`);
  if (n < p) return undefined;
  const a = columns.map((column) => Float64Array.from(column));
  const y = Float64Array.from(values);
  const diagonal = new Float64Array(p);
  for (let k = 0; k < p; k++) {
    const column = a[k]!;
    const before = norm(columns[k]!, 0);
    const length = norm(column, k);
    if (!(length > 1e-10 * before)) return undefined;
    const alpha = column[k]! > 0 ? -length : length;
    column[k]! -= alpha;
    diagonal[k] = alpha;
    const squared = dot(column, column, k);
    for (const other of [...a.slice(k + 1), y]) {
      const factor = (2 * dot(column, other, k)) / squared;
      for (let i = k; i < n; i++) other[i]! -= factor * column[i]!;
    }
  }
  // R is a[j][i] above the diagonal.
  const solve = (right: Float64Array): Float64Array => {
    const x = new Float64Array(p);
    for (let i = p - 1; i >= 0; i--) {
      let sum = right[i]!;
      for (let j = i + 1; j < p; j++) sum -= a[j]![i]! * x[j]!;
      x[i] = sum / diagonal[i]!;
    }
    return x;
  };
  const coefficients = solve(y);
  const residuals = values.map(
    (value, i) => value - columns.reduce((sum, column, j) => sum + column[i]! * coefficients[j]!, 0),
  );
  const freedom = n - p;
  const residualSd = freedom > 0 ? Math.sqrt(dot(residuals, residuals, 0) / freedom) : 0;
  // Variances are the squared rows of R⁻¹.
  const variances = new Float64Array(p);
  for (let k = 0; k < p; k++) {
    const unit = new Float64Array(p);
    unit[k] = 1;
    solve(unit).forEach((value, i) => (variances[i]! += value * value));
  }
  return {
    coefficients,
    deviations: variances.map((variance) => residualSd * Math.sqrt(variance)),
    residualSd,
    residuals,
    freedom,
  };
}

function dot(left: Float64Array, right: Float64Array, from: number): number {
  let sum = 0;
  for (let i = from; i < left.length; i++) sum += left[i]! * right[i]!;
  return sum;
}

function norm(values: Float64Array, from: number): number {
  return Math.sqrt(dot(values, values, from));
}

/** Student's t, two-sided 95 %, by degrees of freedom (standard tables, NIST/SEMATECH e-Handbook 1.3.6.7.2). */
const T_95 = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145, 2.131,
  2.12, 2.11, 2.101, 2.093, 2.086, 2.08, 2.074, 2.069, 2.064, 2.06, 2.056, 2.052, 2.048, 2.045, 2.042,
];

export function studentT95(freedom: number): number {
  if (!(freedom >= 1)) throw new RangeError(`studentT95: freedom is ${freedom}`);
  const row = Math.floor(freedom);
  if (row <= T_95.length) return T_95[row - 1]!;
  // Between the table's end and the normal 1.960, by 1/freedom: within 0.002.
  return 1.96 + ((2.042 - 1.96) * 30) / row;
}

/**
 * Which of the values lie far from the rest: more than 3.5 robust deviations (median absolute deviation times 1.4826) from
 * the median, as Iglewicz and Hoaglin (1993) recommend; more where values are few, because their median deviation itself
 * scatters. Needs five values; fewer have no outliers.
 */
export function outliersOf(values: Float64Array): number[] {
  if (values.length < 5) return [];
  const middle = medianOf(values);
  const deviation = 1.4826 * medianOf(values.map((value) => Math.abs(value - middle)));
  const limit = 3.5 * (1 + 5 / values.length);
  const floor = 1e-9 * Math.abs(middle);
  const far: number[] = [];
  values.forEach((value, i) => {
    if (Math.abs(value - middle) > limit * Math.max(deviation, floor)) far.push(i);
  });
  return far;
}

function medianOf(values: Float64Array): number {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
