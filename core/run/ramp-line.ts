import { VOLTAGE_SLOPE_V_M2_PER_A } from '../reference/cell-voltage-table.ts';
import { choleskyInPlace, solveInto } from './cholesky.ts';
import { median } from './held-level.ts';
import { sampleNoise, WANDER_MEMORY_S } from './noise-tracker.ts';
import { medianOf, type Sample } from './watch-trace.ts';

/** The start-up peak as it dies away with the charge passed, C/m²: share of V, usual and deviation (papers, from memory: 5-15 %). */
const PEAKS = [
  { relative: 0.12, relativeSd: 0.1, decayC: 2500 },
  { relative: 0, relativeSd: 0.03, decayC: 6000 },
] as const;
/** How far the oxide's curve may stand off a straight line at the window's ends, share of V. */
const CURVE_RELATIVE_SD = 0.02;
/** The level is left free; the slope is the handbook's over the typed area, and either may be off by this share. */
const LEVEL_RELATIVE_SD = 3;
const SLOPE_RELATIVE_SD = 0.6;
const LAST = 3;
const LEAST_NOISE = 0.006;
/** Wander of the signal over a minute, in units of its noise from sample to sample. */
const WANDER_SHARE = 0.6;

/** How much steeper V against I has become, Ω. */
export interface LineChange {
  readonly ohm: number;
  readonly sdOhm: number;
}

/** V against I over a window, with what may bend it, ready to be asked for a change of its slope. */
export interface RampLine {
  /** Least squares, the change beginning at sample `onset` of the window. */
  readonly changeFrom: (onset: number) => LineChange;
  /** Each of the last three samples shows it, so that one spoiled reading is never a loss. */
  readonly holds: (onset: number, changeOhm: number) => boolean;
}

/** @param areaM2 what is live as best known; the slope may stand off the handbook's over it */
export function createRampLine(window: readonly Sample[], areaM2: number): RampLine {
  const n = window.length;
  const middleA = (window[0]!.currentA + window[n - 1]!.currentA) / 2;
  const slopeOhm = VOLTAGE_SLOPE_V_M2_PER_A.usual / areaM2;
  const voltageV = medianOf(window, 'voltageV');
  const rest = Float64Array.from(
    window,
    ({ voltageV: v, currentA, chargePerAreaC }) =>
      v - voltageV - slopeOhm * (currentA - middleA) - usualPeak(chargePerAreaC) * voltageV,
  );
  const whiteV = noiseOf(window, rest, slopeOhm);
  despikeInto(rest, whiteV);
  const factor = choleskyInPlace(covariance(window, whiteV, voltageV, slopeOhm), n);
  const solved = solveInto(factor, n, Float64Array.from(rest));
  return {
    changeFrom: (onset) => {
      const change = Float64Array.from(window, ({ currentA }, i) => (i < onset ? 0 : currentA));
      const information = dot(change, solveInto(factor, n, Float64Array.from(change)));
      return { ohm: dot(change, solved) / information, sdOhm: 1 / Math.sqrt(information) };
    },
    holds: (onset, changeOhm) => {
      const level = median(Array.from(rest.subarray(Math.max(0, onset - 5), onset)));
      for (let i = n - LAST; i < n; i++) {
        if (rest[i]! - level < 0.4 * changeOhm * window[i]!.currentA) return false;
      }
      return true;
    },
  };
}

/** One spoiled reading between two that agree: the line passes over it. */
function despikeInto(rest: Float64Array, whiteV: number): void {
  for (let i = 1; i < rest.length - 1; i++) {
    const [up, down] = [rest[i]! - rest[i - 1]!, rest[i]! - rest[i + 1]!];
    const spike = Math.min(Math.abs(up), Math.abs(down));
    if (up * down > 0 && spike > 5 * Math.SQRT2 * whiteV && Math.abs(up - down) < 0.5 * spike) {
      rest[i] = (rest[i - 1]! + rest[i + 1]!) / 2;
    }
  }
}

/** Of a reading of the voltage, the current’s share of it included, V; never less than a good meter has. */
function noiseOf(window: readonly Sample[], rest: Float64Array, slopeOhm: number): number {
  const now = window.at(-1)!;
  return Math.max(sampleNoise(rest), LEAST_NOISE * Math.hypot(now.voltageV, slopeOhm * now.currentA));
}

const usualPeak = (chargePerAreaC: number): number =>
  PEAKS.reduce((sum, { relative, decayC }) => sum + relative * Math.exp(-chargePerAreaC / decayC), 0);

function covariance(
  window: readonly Sample[],
  whiteV: number,
  voltageV: number,
  slopeOhm: number,
): Float64Array {
  const n = window.length;
  const middleA = (window[0]!.currentA + window[n - 1]!.currentA) / 2;
  const halfA = Math.max(...window.map(({ currentA }) => Math.abs(currentA - middleA)), 1e-12);
  const levelSd = LEVEL_RELATIVE_SD * voltageV;
  const bends: Float64Array[] = [
    Float64Array.from(window, () => levelSd),
    Float64Array.from(window, ({ currentA }) => SLOPE_RELATIVE_SD * slopeOhm * (currentA - middleA)),
    Float64Array.from(
      window,
      ({ currentA }) => CURVE_RELATIVE_SD * voltageV * ((currentA - middleA) / halfA) ** 2,
    ),
    ...PEAKS.map(({ relativeSd, decayC }) =>
      Float64Array.from(
        window,
        ({ chargePerAreaC }) => relativeSd * voltageV * Math.exp(-chargePerAreaC / decayC),
      ),
    ),
  ];
  const matrix = new Float64Array(n * n);
  const wander = (WANDER_SHARE * whiteV) ** 2;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = wander * Math.exp(-(window[i]!.tS - window[j]!.tS) / WANDER_MEMORY_S);
      for (const bend of bends) sum += bend[i]! * bend[j]!;
      matrix[i * n + j] = sum + (i === j ? whiteV ** 2 : 0);
    }
  }
  return matrix;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
