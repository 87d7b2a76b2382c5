import { median } from './held-level.ts';
import { WANDER_MEMORY_S } from './noise-tracker.ts';
import { stepFilters, type StepFilterBank } from './step-filter.ts';
import {
  atLeast,
  growthPerS,
  lastDigits,
  LONGEST_LAG_S,
  noiseNow,
  overPotential,
  warmingPerS,
} from './trace-signal.ts';
import { newest, type Sample, type WatchTrace } from './watch-trace.ts';

/**
 * Finds a step in the signal of the last minutes by a bank of least-squares step filters (step-filter.ts). A step counts when it
 * stands THRESHOLD deviations clear, is at least SMALLEST_STEP and more than the last digit of a display makes, has held for three
 * samples, and shows in the quantity the supply leaves free. While the supply ramps, ramp-rule.ts looks instead.
 */
export interface FoundStep {
  /** First sample after it. */
  readonly onset: number;
  /** Change of the signal, below zero for a loss, and its deviation. */
  readonly step: number;
  readonly stepSd: number;
  /** Large enough for lost area, and found as soon as that is. */
  readonly large: boolean;
  /** It has stood for some time, however small: a contact may have got worse. */
  readonly lasting: boolean;
  /** The held quantity's meter wandered and nothing else moved. */
  readonly metersOwn: boolean;
}

export interface StepRule {
  readonly find: (trace: WatchTrace) => FoundStep | undefined;
}

const THRESHOLD = 6.5;
const SMALLEST_STEP = 0.085;
/** A contact lets go within seconds: what shows only later than this is growth, wander or a warming bath more often than that, s. */
const LOSS_SHOWS_WITHIN_S = 60;
/** A current of a few digits falls by one of them again and again. */
const MORE_THAN_DIGITS = 1.5;
const SMALL_STEP_THRESHOLD = 7;
const SMALLEST_RESISTANCE_STEP = 0.02;
const WINDOW_COUNTS = [10, 12, 14, 17, 20, 24, 29, 35, 42, 50] as const;
export const REFINE_S = 120;

/** Samples of the longest window that begins at `from` or later. */
export function windowCount(trace: WatchTrace, from: number): number | undefined {
  const available = trace.samples.length - from;
  return WINDOW_COUNTS.findLast((count) => count <= available);
}

export function createStepRule(): StepRule {
  const banks = new Map<string, StepFilterBank>();

  const bankFor = (trace: WatchTrace, count: number): { bank: StepFilterBank; scale: number } => {
    const { whiteSd, wanderSd } = noiseNow(trace);
    const slopeSd = warmingPerS(trace) + growthPerS(trace) / 2;
    // Everything goes with whiteSd, so the bank is kept per rounded ratio.
    const ratio = Math.round(4 * Math.log(Math.max(wanderSd / whiteSd, 0.05)));
    const slope = Math.round(3 * Math.log(slopeSd / whiteSd));
    const window = trace.samples.slice(-count);
    const firstS = window[0]!.tS;
    const stepS = (window.at(-1)!.tS - firstS) / (count - 1);
    const even = window.every((sample, i) => Math.abs(sample.tS - firstS - i * stepS) < 0.25 * stepS);
    const key = even ? `${count} ${ratio} ${slope} ${Math.round(10 * stepS)}` : '';
    let bank = banks.get(key);
    if (!bank || !even) {
      const lags: number[] = [];
      for (let lag = 2; lag <= count - 6 && (lag <= 3 || lag * stepS <= REFINE_S); lag++) lags.push(lag);
      const times = Float64Array.from(window, (sample, i) => (even ? i * stepS : sample.tS - firstS));
      bank = stepFilters(times, lags, {
        whiteSd: 1,
        wanderSd: Math.exp(ratio / 4),
        memoryS: WANDER_MEMORY_S,
        slopeSdPerS: Math.exp(slope / 3),
      });
      if (even) banks.set(key, bank);
    }
    return { bank, scale: whiteSd };
  };

  const find = (trace: WatchTrace): FoundStep | undefined => {
    const { samples } = trace;
    const count = windowCount(trace, trace.segmentFrom);
    if (count === undefined) return undefined;
    const { bank, scale } = bankFor(trace, count);
    const now = newest(trace);
    let best = -1;
    let bestZ = 0;
    let bestStep = 0;
    for (let k = 0; k < bank.lags.length; k++) {
      const lag = bank.lags[k]!;
      if (lag > 3 && now.tS - samples[samples.length - lag]!.tS > LONGEST_LAG_S) break;
      if (lag < 3 && trace.usualStepS < 15) continue;
      const step = stepOf(trace, bank, k);
      const z = step / (bank.deviations[k]! * scale);
      if (Math.abs(z) > Math.abs(bestZ)) {
        best = k;
        bestZ = z;
        bestStep = step;
      }
    }
    if (best < 0) return undefined;
    const lag = bank.lags[best]!;
    const onset = samples.length - lag;
    const isSoon = bestStep > 0 || now.tS - samples[onset]!.tS <= LOSS_SHOWS_WITHIN_S;
    const large = isSoon && Math.abs(bestStep) >= SMALLEST_STEP && Math.abs(bestZ) >= THRESHOLD;
    const lasting =
      lag >= 6 && Math.abs(bestStep) >= SMALLEST_RESISTANCE_STEP && Math.abs(bestZ) >= SMALL_STEP_THRESHOLD;
    if (!(large || lasting) || isDigits(trace, onset, bestStep) || !holds(trace, onset, bestStep))
      return undefined;
    return {
      onset,
      step: bestStep,
      stepSd: bank.deviations[best]! * scale,
      large,
      lasting,
      metersOwn: !responds(trace, onset, bestStep),
    };
  };

  return { find };
}

/** The step after lag `bank.lags[k]`, growth's usual slope taken out. */
function stepOf(trace: WatchTrace, bank: StepFilterBank, k: number): number {
  const { samples } = trace;
  const weights = bank.weights[k]!;
  const from = samples.length - bank.count;
  const growth = growthPerS(trace) / 2;
  const { tS: startS, x: startX } = samples[from]!;
  let step = 0;
  for (let i = 0; i < bank.count; i++) {
    const sample = samples[from + i]!;
    step += weights[i]! * (sample.x - startX + growth * (sample.tS - startS));
  }
  return step;
}

const before = (trace: WatchTrace, onset: number): Sample[] =>
  trace.samples.slice(Math.max(trace.segmentFrom, onset - 9), onset);

function isDigits(trace: WatchTrace, onset: number, step: number): boolean {
  const earlier = before(trace, onset);
  const { inCurrent, inVoltage } = lastDigits(trace, {
    currentA: median(earlier.map(({ currentA }) => currentA)),
    voltageV: median(earlier.map(({ voltageV }) => voltageV)),
  });
  return Math.abs(step) < MORE_THAN_DIGITS * (trace.plan.mode === 'current' ? inVoltage : inCurrent);
}

/** The last three samples all lie on the step's side, so that one spoiled reading is never a step. */
function holds(trace: WatchTrace, onset: number, step: number): boolean {
  const level = median(before(trace, onset).map((sample) => sample.x));
  const after = trace.samples.slice(Math.max(onset, trace.samples.length - 3));
  return after.every((sample) => (sample.x - level) / step > 0.4);
}

/**
 * Whether the quantity the supply leaves free moved too. If only the held one seems to have, and by little, its
 * meter wandered.
 */
function responds(trace: WatchTrace, onset: number, step: number): boolean {
  const earlier = before(trace, onset);
  const after = trace.samples.slice(Math.max(onset, trace.samples.length - 5));
  const change = (pick: (sample: Sample) => number): number =>
    Math.log(median(after.map(pick)) / median(earlier.map(pick)));
  const current = change((sample) => atLeast(trace, sample.currentA));
  const voltage = -change((sample) => overPotential(trace, sample.voltageV));
  const inCurrent = trace.plan.mode === 'current';
  const free = inCurrent ? voltage : current;
  const kept = inCurrent ? current : change((sample) => Math.max(sample.voltageV, 0.01));
  return free / step > 0.5 || Math.abs(kept) > 0.06;
}
