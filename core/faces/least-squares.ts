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
  const width = n + 1;
  let end = 0;
  rows((c, right) => {
    if (end + width > scratch.length) makeRoom(end + width);
    for (let i = 0; i < n; i++) scratch[end + i] = c[i];
    scratch[end + n] = right;
    end += width;
  });
  return solveRows(n, end / width);
}

/**
 * Room for `count` rows of `width` numbers, one after the other: the same from fit to fit, so it holds until the next asks for some.
 */
export function roomForRows(width: number, count: number): Float64Array {
  if (width * count > scratch.length) makeRoom(width * count);
  return scratch;
}

/** As leastSquares, of `count` equations that lie in that room, each as its n coefficients and its right-hand side. */
export function solveRows(n: number, count: number): Float64Array {
  const width = n + 1;
  const end = width * count;
  const m = new Float64Array(n * width);
  for (let i = 0; i < n; i++) for (let j = i; j < width; j += 4) addProductsInto(m, width, i, j, end);
  for (let i = 1; i < n; i++) for (let j = 0; j < i; j++) m[i * width + j] = m[j * width + i];
  return solvePivoting(m, n);
}

/** Rows of the fit at hand. */
let scratch = new Float64Array(8192);

function makeRoom(least: number): void {
  const larger = new Float64Array(Math.max(least, 2 * scratch.length));
  larger.set(scratch);
  scratch = larger;
}

/**
 * Sums of the products of column `i` with columns `j` to `j + 3`, as far as there are: added up in sums of their own, not in memory, and
 * four side by side, since each waits for the one before it.
 */
function addProductsInto(m: Float64Array, width: number, i: number, j: number, end: number): void {
  const rows = scratch;
  const k2 = Math.min(j + 1, width - 1);
  const k3 = Math.min(j + 2, width - 1);
  const k4 = Math.min(j + 3, width - 1);
  let one = 0;
  let two = 0;
  let three = 0;
  let four = 0;
  for (let at = 0; at < end; at += width) {
    const own = rows[at + i];
    one += own * rows[at + j];
    two += own * rows[at + k2];
    three += own * rows[at + k3];
    four += own * rows[at + k4];
  }
  m[i * width + j] = one;
  m[i * width + k2] = two;
  m[i * width + k3] = three;
  m[i * width + k4] = four;
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
  const width = n + 1;
  const r = new Float64Array(sampleCount);
  const trial = new Float64Array(sampleCount);
  residuals(x, r);
  let sum = sumOfSquares(r);
  for (let iteration = 0; iteration < iterations && sum > enough * enough * sampleCount; iteration++) {
    const rows = roomForRows(width, sampleCount);
    for (let j = 0; j < n; j++) {
      const moved = x.slice();
      moved[j] += steps[j];
      residuals(moved, trial);
      const step = steps[j];
      for (let i = 0; i < sampleCount; i++) rows[i * width + j] = (trial[i] - r[i]) / step;
    }
    for (let i = 0; i < sampleCount; i++) rows[i * width + n] = -r[i];
    const delta = solveRows(n, sampleCount);
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
