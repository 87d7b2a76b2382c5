/**
 * Solves the normal equations of a small linear least-squares problem. Columns that depend on others (a cone known by
 * two rings only) are left at 0 instead of blowing up.
 *
 * @param n unknowns, 8 at most
 * @param rows calls `add(coefficients, right)` once an equation
 * @returns the unknowns, n of them
 * @throws RangeError for more unknowns
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
  if (n > MOST_UNKNOWNS) throw new RangeError(`n: at most ${MOST_UNKNOWNS} unknowns, got ${n}`);
  const width = n + 1;
  const end = width * count;
  const m = SUMS;
  for (let i = 0; i < n; i += 2) for (let j = i; j < width; j += 4) addProductsInto(m, n, i, j, end);
  for (let i = 1; i < n; i++) for (let j = 0; j < i; j++) m[i * width + j] = m[j * width + i];
  return solvePivoting(m, n);
}

const MOST_UNKNOWNS = 8;
/** Of the fit at hand: its normal equations, and what solving them needs. */
const SUMS = new Float64Array(MOST_UNKNOWNS * (MOST_UNKNOWNS + 1));
const SCALE = new Float64Array(MOST_UNKNOWNS);
const USED = new Uint8Array(MOST_UNKNOWNS);

/** Rows of the fit at hand. */
let scratch = new Float64Array(8192);

function makeRoom(least: number): void {
  const larger = new Float64Array(Math.max(least, 2 * scratch.length));
  larger.set(scratch);
  scratch = larger;
}

/**
 * Sums of the products of columns `i` and `i + 1` with columns `j` to `j + 3`, as far as there are: added up in sums of their own, not in
 * memory, and eight side by side, since each waits for the one before it.
 */
function addProductsInto(m: Float64Array, n: number, i: number, j: number, end: number): void {
  const rows = scratch;
  const width = n + 1;
  const i2 = Math.min(i + 1, n - 1);
  const k2 = Math.min(j + 1, n);
  const k3 = Math.min(j + 2, n);
  const k4 = Math.min(j + 3, n);
  let one1 = 0;
  let one2 = 0;
  let one3 = 0;
  let one4 = 0;
  let two1 = 0;
  let two2 = 0;
  let two3 = 0;
  let two4 = 0;
  for (let at = 0; at < end; at += width) {
    const one = rows[at + i];
    const two = rows[at + i2];
    const first = rows[at + j];
    const second = rows[at + k2];
    const third = rows[at + k3];
    const fourth = rows[at + k4];
    one1 += one * first;
    one2 += one * second;
    one3 += one * third;
    one4 += one * fourth;
    two1 += two * first;
    two2 += two * second;
    two3 += two * third;
    two4 += two * fourth;
  }
  const row = i * width;
  m[row + j] = one1;
  m[row + k2] = one2;
  m[row + k3] = one3;
  m[row + k4] = one4;
  if (i2 === i) return;
  m[row + width + j] = two1;
  m[row + width + k2] = two2;
  m[row + width + k3] = two3;
  m[row + width + k4] = two4;
}

/** Gauss–Jordan with diagonal pivoting on a symmetric system; m is n rows of n + 1 and is used up. */
function solvePivoting(m: Float64Array, n: number): Float64Array {
  const width = n + 1;
  const scale = SCALE;
  for (let i = 0; i < n; i++) scale[i] = m[i * width + i];
  const used = USED.fill(0);
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
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return sum;
}
