/**
 * Least squares with a known covariance, by Cholesky's factor of it. Matrices are row-major n × n; only their lower triangle is
 * read. A pivot that rounding has made zero or less is taken as next to nothing rather than refused: covariances here have
 * white noise on their diagonal.
 */
export function choleskyInPlace(matrix: Float64Array, n: number): Float64Array {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= matrix[i * n + k]! * matrix[j * n + k]!;
      matrix[i * n + j] = i === j ? Math.sqrt(Math.max(sum, 1e-300)) : sum / matrix[j * n + j]!;
    }
  }
  return matrix;
}

/** Solves factor · factorᵀ · x = right; x takes the place of `right`. */
export function solveInto(factor: Float64Array, n: number, right: Float64Array): Float64Array {
  for (let i = 0; i < n; i++) {
    let sum = right[i]!;
    for (let k = 0; k < i; k++) sum -= factor[i * n + k]! * right[k]!;
    right[i] = sum / factor[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = right[i]!;
    for (let k = i + 1; k < n; k++) sum -= factor[k * n + i]! * right[k]!;
    right[i] = sum / factor[i * n + i]!;
  }
  return right;
}
