import { applyInto, type LinearSystem } from './cell-system.ts';

export interface ConjugateGradientOutcome {
  readonly iterations: number;
  /** Σ|residual| at the end, A. */
  readonly residualA: number;
  readonly stopped: boolean;
}

/**
 * Adds the solution of J·d = r to `x`; `r` is overwritten with what remains. `precondition` puts M⁻¹·r
 * into z, M symmetric; plain without it. Stops at Σ|r| ≤ targetA, at `mostIterations`, or when `onIteration` returns false.
 */
export function conjugateGradient(
  x: Float64Array,
  r: Float64Array,
  linear: LinearSystem,
  precondition: ((z: Float64Array, r: Float64Array) => void) | undefined,
  targetA: number,
  mostIterations: number,
  onIteration?: (iterations: number, residualA: number) => boolean,
): ConjugateGradientOutcome {
  const n = x.length;
  const p = new Float64Array(n);
  const ap = new Float64Array(n);
  const z = precondition ? ap : r;
  let rhoBefore = 0;
  let residualA = sumOfMagnitudes(r);
  let iterations = 0;
  while (residualA > targetA && iterations < mostIterations) {
    // The image of p is done with by now, so its array serves for z.
    precondition?.(z, r);
    let rho = 0;
    for (let i = 0; i < n; i++) rho += r[i] * z[i];
    if (!(rho > 0)) break;
    const beta = iterations === 0 ? 0 : rho / rhoBefore;
    for (let i = 0; i < n; i++) p[i] = z[i] + beta * p[i];
    const curvature = applyInto(ap, linear, p);
    if (!(curvature > 0)) break;
    const alpha = rho / curvature;
    residualA = 0;
    for (let i = 0; i < n; i++) {
      x[i] += alpha * p[i];
      const left = r[i] - alpha * ap[i];
      r[i] = left;
      residualA += left < 0 ? -left : left;
    }
    rhoBefore = rho;
    iterations++;
    if (onIteration && !onIteration(iterations, residualA)) return { iterations, residualA, stopped: true };
  }
  return { iterations, residualA, stopped: false };
}

function sumOfMagnitudes(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += Math.abs(values[i]);
  return sum;
}
