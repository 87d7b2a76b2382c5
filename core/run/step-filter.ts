import { choleskyInPlace, solveInto } from './cholesky.ts';

/**
 * The best linear estimate of a step in a noisy, wandering level, and its deviation.
 *
 * A window of n samples is level + slope·t + step from sample n−m on + wander + noise. Level unknown, slope unknown
 * within `slopeSd` (growth, warming), wander a first-order process of deviation `wanderSd` and memory `memoryS`, noise
 * white with `whiteSd`. Generalised least squares: with C the covariance of everything but the step s,
 * step = sᵀC⁻¹x / sᵀC⁻¹s, variance 1 / sᵀC⁻¹s (Gauss-Markov). The weights depend on the times and the deviations only, so
 * one bank of filters serves as long as these stay the same.
 */
export interface StepFilterBank {
  readonly count: number;
  /** Samples after the step, ascending; one filter each. */
  readonly lags: readonly number[];
  /** weights[k] · window = step for lags[k]. */
  readonly weights: readonly Float64Array[];
  readonly deviations: Float64Array;
}

export interface StepNoise {
  readonly whiteSd: number;
  readonly wanderSd: number;
  readonly memoryS: number;
  readonly slopeSdPerS: number;
}

/** The level is left free by a deviation this many times the noise's; more would cost digits. */
const LEVEL_PER_WHITE_SD = 1000;

/**
 * @param tS times of the window, ascending
 * @param lags how many of the last samples lie after the step, each 1 … n − 2
 */
export function stepFilters(tS: Float64Array, lags: readonly number[], noise: StepNoise): StepFilterBank {
  const n = tS.length;
  if (n < 3) throw new RangeError(`stepFilters: ${n} samples`);
  if (!(noise.whiteSd > 0)) throw new RangeError(`stepFilters: whiteSd is ${noise.whiteSd}`);
  const bad = lags.find((lag) => !(Number.isInteger(lag) && lag >= 1 && lag <= n - 2));
  if (bad !== undefined) throw new RangeError(`stepFilters: lag ${bad} of ${n} samples`);
  const factor = choleskyInPlace(covariance(tS, noise), n);
  const weights: Float64Array[] = [];
  const deviations = new Float64Array(lags.length);
  for (let k = 0; k < lags.length; k++) {
    const lag = lags[k]!;
    const solved = new Float64Array(n);
    solved.fill(1, n - lag);
    solveInto(factor, n, solved);
    let information = 0;
    for (let i = n - lag; i < n; i++) information += solved[i]!;
    for (let i = 0; i < n; i++) solved[i]! /= information;
    weights.push(solved);
    deviations[k] = 1 / Math.sqrt(information);
  }
  return { count: n, lags, weights, deviations };
}

/** Row-major n × n. */
function covariance(tS: Float64Array, noise: StepNoise): Float64Array {
  const n = tS.length;
  const middle = (tS[0]! + tS[n - 1]!) / 2;
  const matrix = new Float64Array(n * n);
  const level = (LEVEL_PER_WHITE_SD * noise.whiteSd) ** 2;
  const wander = noise.wanderSd ** 2;
  const slope = noise.slopeSdPerS ** 2;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      matrix[i * n + j] =
        level +
        slope * (tS[i]! - middle) * (tS[j]! - middle) +
        wander * Math.exp(-(tS[i]! - tS[j]!) / noise.memoryS) +
        (i === j ? noise.whiteSd ** 2 : 0);
    }
  }
  return matrix;
}
