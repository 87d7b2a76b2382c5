/**
 * Solves the normal equations of a small linear least-squares problem. Columns that depend on others (a cone known by
 * two rings only) are left at 0 instead of blowing up.
 *
 * @param rows calls `add(coefficients, right)` once an equation
 * @returns the unknowns, n of them
 */
export function leastSquares(
  n: number,
  rows: (add: (coefficients: ArrayLike<number>, right: number) => void) => void,
): Float64Array {
  const m = new Float64Array(n * (n + 1));
  const width = n + 1;
  let end = 0;
  rows((c, right) => {
    if (end + width > scratch.length) {
      const larger = new Float64Array(2 * scratch.length);
      larger.set(scratch);
      scratch = larger;
    }
    for (let i = 0; i < n; i++) scratch[end + i] = c[i];
    scratch[end + n] = right;
    end += width;
  });
  for (let i = 0; i < n; i++) for (let j = i; j < width; j += 2) addProductsInto(m, width, i, j, end);
  for (let i = 1; i < n; i++) for (let j = 0; j < i; j++) m[i * width + j] = m[j * width + i];
  return solvePivoting(m, n);
}

/** Rows of the fit at hand, kept from fit to fit: their products are added up in sums of their own, not in memory. */
let scratch = new Float64Array(8192);

/** Sums of the products of column `i` with columns `j` and `j + 1`, where there is one. */
function addProductsInto(m: Float64Array, width: number, i: number, j: number, end: number): void {
  const rows = scratch;
  const k = Math.min(j + 1, width - 1);
  let one = 0;
  let two = 0;
  for (let at = 0; at < end; at += width) {
    const own = rows[at + i];
    one += own * rows[at + j];
    two += own * rows[at + k];
  }
  m[i * width + j] = one;
  m[i * width + k] = two;
}

/** Gauss–Jordan with diagonal pivoting on a symmetric system; m is n rows of n + 1 and is used up. */
function solvePivoting(m: Float64Array, n: number): Float64Array {
  const width = n + 1;
  const scale = Float64Array.from({ length: n }, (_, i) => m[i * width + i]);
  const used = new Uint8Array(n);
  const x = new Float64Array(n);
  for (;;) {
    let pivot = -1;
    let best = 1e-11;
    for (let i = 0; i < n; i++) {
      if (used[i] || scale[i] <= 0) continue;
      const relative = m[i * width + i] / scale[i];
      if (relative > best) {
        best = relative;
        pivot = i;
      }
    }
    if (pivot < 0) break;
    used[pivot] = 1;
    const d = m[pivot * width + pivot];
    for (let j = 0; j < width; j++) m[pivot * width + j] /= d;
    for (let i = 0; i < n; i++) {
      if (i === pivot) continue;
      const factor = m[i * width + pivot];
      if (factor === 0) continue;
      for (let j = 0; j < width; j++) m[i * width + j] -= factor * m[pivot * width + j];
    }
  }
  for (let i = 0; i < n; i++) if (used[i]) x[i] = m[i * width + n];
  return x;
}

/**
 * A few Gauss–Newton steps with the slopes taken by differences; keeps a step only when it makes the residuals
 * smaller.
 *
 * @param start first guess; not changed
 * @param steps per unknown: the difference to take the slope over
 * @param enough stop once the residuals' root mean square is below this
 * @param residuals writes one residual a sample into `out`
 */
export function gaussNewton(
  start: Float64Array,
  steps: ArrayLike<number>,
  sampleCount: number,
  enough: number,
  residuals: (unknowns: Float64Array, out: Float64Array) => void,
  iterations = 12,
): Float64Array {
  let x = start.slice();
  const n = x.length;
  const r = new Float64Array(sampleCount);
  const trial = new Float64Array(sampleCount);
  const slopes = Array.from({ length: n }, () => new Float64Array(sampleCount));
  residuals(x, r);
  let sum = sumOfSquares(r);
  for (let iteration = 0; iteration < iterations && sum > enough * enough * sampleCount; iteration++) {
    for (let j = 0; j < n; j++) {
      const moved = x.slice();
      moved[j] += steps[j];
      residuals(moved, slopes[j]);
      for (let i = 0; i < sampleCount; i++) slopes[j][i] = (slopes[j][i] - r[i]) / steps[j];
    }
    const c = new Float64Array(n);
    const delta = leastSquares(n, (add) => {
      for (let i = 0; i < sampleCount; i++) {
        for (let j = 0; j < n; j++) c[j] = slopes[j][i];
        add(c, -r[i]);
      }
    });
    // A full step may overshoot far from the answer: shorten it until it helps.
    let share = 1;
    let next = x;
    let nextSum = Infinity;
    for (; share > 1e-2; share /= 2) {
      next = x.map((value, j) => value + share * delta[j]);
      residuals(next, trial);
      nextSum = sumOfSquares(trial);
      if (nextSum < sum) break;
    }
    if (!(nextSum < sum)) break;
    const settled = share === 1 && nextSum > sum * 0.999;
    x = next;
    sum = nextSum;
    r.set(trial);
    if (settled) break;
  }
  return x;
}

function sumOfSquares(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
