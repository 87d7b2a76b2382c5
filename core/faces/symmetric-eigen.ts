/**
 * Eigenvalues and vectors of a small symmetric matrix by cyclic Jacobi rotations (Golub and Van Loan, Matrix
 * Computations, 8.5), ascending by eigenvalue.
 *
 * @param matrix n rows of n, row after row; not changed
 * @returns values ascending; vectors[i] belongs to values[i] and has unit length
 */
export function symmetricEigen(
  matrix: Float64Array,
  n: number,
): { readonly values: Float64Array; readonly vectors: readonly Float64Array[] } {
  if (matrix.length !== n * n) throw new RangeError(`matrix: needs ${n * n} elements, got ${matrix.length}`);
  const a = matrix.slice();
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i++) v[i * n + i] = 1;
  for (let sweep = 0; sweep < 60; sweep++) {
    let off = 0;
    let size = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        if (i !== j) off += a[i * n + j] ** 2;
        size += a[i * n + j] ** 2;
      }
    }
    if (off <= 1e-32 * size) break;
    for (let p = 0; p < n - 1; p++) {
      for (let q = p + 1; q < n; q++) {
        const apq = a[p * n + q];
        if (apq === 0) continue;
        const theta = (a[q * n + q] - a[p * n + p]) / (2 * apq);
        const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
        const c = 1 / Math.sqrt(t * t + 1);
        const s = t * c;
        for (let k = 0; k < n; k++) {
          const kp = a[k * n + p];
          const kq = a[k * n + q];
          a[k * n + p] = c * kp - s * kq;
          a[k * n + q] = s * kp + c * kq;
        }
        for (let k = 0; k < n; k++) {
          const pk = a[p * n + k];
          const qk = a[q * n + k];
          a[p * n + k] = c * pk - s * qk;
          a[q * n + k] = s * pk + c * qk;
          const vp = v[k * n + p];
          const vq = v[k * n + q];
          v[k * n + p] = c * vp - s * vq;
          v[k * n + q] = s * vp + c * vq;
        }
      }
    }
  }
  const order: number[] = [];
  for (let i = 0; i < n; i++) order.push(i);
  order.sort((i, j) => a[i * n + i] - a[j * n + j]);
  const values = new Float64Array(n);
  const vectors = order.map((i, place) => {
    values[place] = a[i * n + i];
    const vector = new Float64Array(n);
    for (let k = 0; k < n; k++) vector[k] = v[k * n + i];
    return vector;
  });
  return { values, vectors };
}
