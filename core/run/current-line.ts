import { choleskyInPlace, solveInto } from './cholesky.ts';
import type { EvenRamp } from './even-ramp.ts';
import { median } from './held-level.ts';
import { sampleNoise, WANDER_MEMORY_S } from './noise-tracker.ts';
import { passOverSpoiled } from './spoiled-reading.ts';
import { atLeast } from './trace-signal.ts';
import type { Sample, WatchTrace } from './watch-trace.ts';

/**
 * ln I over a voltage that a supply raises evenly. When a share f of the area lets go it falls at once by −ln(1 − f), however little
 * current flows and whatever the oxide's law is. What else bends it goes with voltage, charge or time and is smooth: the oxide's curve,
 * the barrier layer as it is built, the start-up peak as it dies away. Least squares with all of that left free within bounds.
 */
export interface CurrentLine {
  /** A step from sample `onset` of the window on, below zero for a loss, and its deviation. */
  readonly stepFrom: (onset: number) => CurrentStep;
  /** Without any one of the last three samples, or of the two it begins between, it still stands: one spoiled reading is never a step. */
  readonly holds: (onset: number, step: number) => boolean;
  /** d ln I / dV up to a sample, 1/V. */
  readonly slopeBefore: (onset: number) => number;
}

export interface CurrentStep {
  readonly step: number;
  readonly sd: number;
}

/** How far level, slope and bend of ln I over the voltage may be off none: deviations, none, 1/V and 1/V². */
const FREE = { level: 3, perV: 1, perV2: 0.1 } as const;
/** What dies away with the charge passed, C/m²: the barrier layer being built, the start-up peak; deviations of ln I. */
const DYING = [
  { sd: 1, decayC: 400 },
  { sd: 0.5, decayC: 2500 },
  { sd: 0.15, decayC: 6000 },
] as const;
/** Anything else that is smooth: deviation of ln I and how long it takes to change, s. Nothing that lets go is as slow. */
const SMOOTH = { sd: 0.1, memoryS: 40 } as const;
const LEAST_NOISE = 0.006;
/** Wander of a reading over a minute, in units of its noise from sample to sample. */
const WANDER_SHARE = 0.6;
/** The ramp's end may be off by so many deviations of where the voltage shows it. */
const END_DEVIATIONS = 1.5;
const LAST = 3;
/** Where the voltage has hardly risen its slope can't be told, 1/V. */
const SLOPE = { low: 0.1, unknown: 0.3, high: 1.5 } as const;

export function createCurrentLine(
  window: readonly Sample[],
  { voltageV, end }: EvenRamp,
  trace: WatchTrace,
): CurrentLine {
  const n = window.length;
  const current = Float64Array.from(window, ({ currentA }) => atLeast(trace, currentA));
  const rest = Float64Array.from(current, (a) => Math.log(a / current[0]!));
  const white = Math.max(sampleNoise(rest), LEAST_NOISE);
  passOverSpoiled(rest, white);
  const middleV = (voltageV[0]! + voltageV[n - 1]!) / 2;
  // At its end the ramp's slope leaves ln I at once: were that earlier or later, it would look like a step, from that sample on.
  const endStep = end ? END_DEVIATIONS * end.sdS * riseBefore(window, rest, end.atS) : 0;
  const bends: Float64Array[] = [
    new Float64Array(n).fill(FREE.level),
    voltageV.map((v) => FREE.perV * (v - middleV)),
    voltageV.map((v) => FREE.perV2 * (v - middleV) ** 2),
    Float64Array.from(window, ({ tS }) => (end && tS >= end.atS ? endStep : 0)),
    ...DYING.map(({ sd, decayC }) =>
      Float64Array.from(window, ({ chargePerAreaC }) => sd * Math.exp(-chargePerAreaC / decayC)),
    ),
  ];
  const digitA = Number.isFinite(trace.digitA) ? trace.digitA / Math.sqrt(12) : 0;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const apartS = window[i]!.tS - window[j]!.tS;
      let sum =
        (WANDER_SHARE * white) ** 2 * Math.exp(-apartS / WANDER_MEMORY_S) +
        SMOOTH.sd ** 2 * Math.exp(-((apartS / SMOOTH.memoryS) ** 2) / 2);
      for (const bend of bends) sum += bend[i]! * bend[j]!;
      matrix[i * n + j] = sum + (i === j ? white ** 2 + (digitA / current[i]!) ** 2 : 0);
    }
  }
  const factor = choleskyInPlace(matrix, n);
  const weighed = (column: Float64Array): Float64Array => solveInto(factor, n, Float64Array.from(column));
  const solved = weighed(rest);
  const from = (onset: number): Float64Array => new Float64Array(n).fill(1, onset);
  return {
    stepFrom: (onset) => {
      const change = from(onset);
      const information = dot(change, weighed(change));
      return { step: dot(change, solved) / information, sd: 1 / Math.sqrt(information) };
    },
    holds: (onset, step) => {
      const change = from(onset);
      const stepWeighed = weighed(change);
      const [ofStep, seen] = [dot(change, stepWeighed), dot(change, solved)];
      for (const i of new Set([onset - 1, onset, ...lastOf(n)])) {
        const ofOne = weighed(new Float64Array(n).fill(1, i, i + 1))[i]!;
        // Least squares of the step with sample i left free.
        const without =
          (ofOne * seen - stepWeighed[i]! * solved[i]!) / (ofOne * ofStep - stepWeighed[i]! ** 2);
        if (!(without / step > 0.6)) return false;
      }
      return true;
    },
    slopeBefore: (onset) => {
      const half = Math.min(5, onset >> 1);
      const level = (values: Float64Array): number => median(Array.from(values));
      const rise =
        level(rest.subarray(onset - half, onset)) - level(rest.subarray(onset - 2 * half, onset - half));
      const riseV = voltageV[onset - 1]! - voltageV[onset - 1 - half]!;
      return riseV > 0 ? Math.min(SLOPE.high, Math.max(SLOPE.low, rise / riseV)) : SLOPE.unknown;
    },
  };
}

const lastOf = (n: number): number[] => Array.from({ length: LAST }, (_, k) => n - LAST + k);

/** d ln I / dt up to a moment, 1/s; never below zero. */
function riseBefore(window: readonly Sample[], rest: Float64Array, atS: number): number {
  let last = window.length - 1;
  while (last > 0 && window[last]!.tS > atS) last--;
  const from = Math.max(0, last - 5);
  if (last === from) return 0;
  return Math.max(0, (rest[last]! - rest[from]!) / (window[last]!.tS - window[from]!.tS));
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
