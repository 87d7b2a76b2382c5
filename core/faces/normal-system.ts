/**
 * Least squares for few unknowns, solved again and again: rows are added to the normal equations, which Cholesky
 * solves. Nothing is allocated after the constructor. leastSquares (least-squares.ts) is for single, larger fits.
 */
export class NormalSystem {
  private readonly n: number;
  private readonly matrix: Float64Array;
  private readonly right: Float64Array;
  private readonly values: Float64Array;
  private readonly found: Float64Array;

  constructor(unknowns = 6) {
    this.n = unknowns;
    this.matrix = new Float64Array(unknowns * unknowns);
    this.right = new Float64Array(unknowns);
    this.values = new Float64Array(unknowns);
    this.found = new Float64Array(unknowns);
  }

  clear(): void {
    this.matrix.fill(0);
    this.right.fill(0);
  }

  /** Sets the row that `add` adds next. */
  row(a: number, b: number, c: number, d: number, e: number, f: number): void {
    const { values } = this;
    values[0] = a;
    values[1] = b;
    values[2] = c;
    values[3] = d;
    values[4] = e;
    values[5] = f;
  }

  /** weight · (row · unknowns − value) is to be small. */
  add(weight: number, value: number): void {
    const { n, matrix, right, values } = this;
    const weight2 = weight * weight;
    for (let i = 0; i < n; i++) {
      const w = weight2 * values[i];
      if (w === 0) continue;
      right[i] += w * value;
      for (let j = 0; j <= i; j++) matrix[n * i + j] += w * values[j];
    }
  }

  /** √amount · unknown is to be small. */
  pull(unknown: number, amount: number): void {
    this.matrix[(this.n + 1) * unknown] += amount;
  }

  /** The unknowns; a pivot lost to rounding leaves its unknown at 0. Valid until the next call; clears nothing. */
  solve(): Float64Array {
    const { n, matrix: a, right: b, found: x } = this;
    for (let i = 0; i < n; i++) {
      const whole = a[n * i + i];
      for (let j = 0; j <= i; j++) {
        let sum = a[n * i + j];
        for (let k = 0; k < j; k++) sum -= a[n * i + k] * a[n * j + k];
        if (i === j) a[n * i + i] = sum > 1e-13 * whole ? Math.sqrt(sum) : Infinity;
        else a[n * i + j] = sum / a[n * j + j];
      }
    }
    for (let i = 0; i < n; i++) {
      let sum = b[i];
      for (let k = 0; k < i; k++) sum -= a[n * i + k] * x[k];
      x[i] = sum / a[n * i + i];
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = x[i];
      for (let k = i + 1; k < n; k++) sum -= a[n * k + i] * x[k];
      x[i] = sum / a[n * i + i];
    }
    return x;
  }
}
