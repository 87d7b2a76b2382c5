import { askedAndDone, type AskedCurrent } from './asked-current.ts';
import { currentNoiseA, READ_OFF, STEP_DEVIATIONS } from './current-steps.ts';
import { sampleNoise } from './noise-tracker.ts';
import type { Readings } from './readings.ts';

/** What flows from the last reading on, as far as it can be told. */
export interface CurrentNow {
  /** A */
  readonly levelA: number;
  /** It may as well be this. */
  readonly lowA: number;
  readonly highA: number;
  /** Of a supply that still ramps up, A/s; 0 where the current is not rising. */
  readonly riseAPerS: number;
  /** How many readings it is the mean of. */
  readonly readings: number;
  /** Somebody was told to set it to `levelA`, and no reading yet shows what came of that; what flowed last. Else null. */
  readonly insteadOfA: number | null;
}

export interface RampPlan {
  readonly plannedA: number;
  readonly rampS: number;
}

const RECENT_S = 60;
const RISING_SHARE_PER_S = 0.02 / 60;
/** The rise over the readings looked at, share of the current. */
const SMALLEST_RISE = 0.05;
/** From this share of the planned current on the ramp is over. */
const RAMPED_SHARE = 0.98;
/** A lone reading away from those before it is believed at once where it is typed, or where the next one is as far off as this. */
const LONE_S = 15;
/** So long may it take to get to the supply and set it; by then a reading that shows the old current says that nobody did. */
const SET_WITHIN_S = 60;
/** Readings that tell how noisy they are. */
const NOISE_READINGS = 15;

/**
 * The mean of the last minute's readings since the current last stepped, or of the last two where they come more slowly; after a step
 * the last reading alone. A single quick reading away from the rest may be a slip of the meter: until the next one the lower
 * of both counts, so that no end is told too early. Readings of a ramp lie on a line, whose end is what flows now.
 * Of no readings undefined.
 */
export function currentNow(
  readings: Readings,
  { plannedA, rampS }: RampPlan,
  asked: readonly AskedCurrent[] = [],
): CurrentNow | undefined {
  const { tS, currentA, origin } = readings;
  const last = tS.length - 1;
  if (last < 0) return undefined;
  const nowS = tS[last]!;
  const newest = Math.max(0, last + 1 - NOISE_READINGS);
  const noiseA = currentNoiseA(readings, newest);
  const flows = meanBack(readings, last, noiseA);
  const ask = askedAndDone(readings, asked).at(-1);
  const waits = ask?.stands === true && ask.doneFromS === null && nowS < ask.atS + SET_WITHIN_S;
  const upToA = ask?.stands ? Math.min(plannedA, ask.toA) : plannedA;
  const rise = riseOf(readings, rampS);
  if (rise && rise.slopeAPerS > RISING_SHARE_PER_S * plannedA && rise.levelA < RAMPED_SHARE * upToA) {
    const { levelA, slopeAPerS, count } = rise;
    return { levelA, lowA: levelA, highA: levelA, riseAPerS: slopeAPerS, readings: count, insteadOfA: null };
  }
  const lastA = currentA[last]!;
  // A range may be too wide: here steps that pass for noise do no harm.
  const offA = (2 * sampleNoise(currentA.subarray(newest))) / Math.sqrt(flows.count);
  const lowA = Math.max(0, Math.min(flows.meanA - offA, lastA));
  const highA = Math.max(flows.meanA + offA, lastA);
  const known = { levelA: flows.meanA, lowA, highA, riseAPerS: 0, readings: flows.count, insteadOfA: null };
  if (waits) {
    return {
      ...known,
      levelA: ask.toA,
      lowA: Math.min(lowA, ask.toA),
      insteadOfA: flows.meanA,
      readings: 0,
    };
  }
  const isLone = flows.count === 1 && last >= 2 && origin !== 'typed' && nowS - tS[last - 1]! <= LONE_S;
  const before = isLone ? meanBack(readings, last - 1, noiseA) : null;
  if (before && before.count >= 2) {
    return {
      ...known,
      levelA: Math.min(lastA, before.meanA),
      lowA: Math.min(lowA, before.meanA),
      highA: Math.max(highA, before.meanA),
    };
  }
  return known;
}

/** Mean of the readings up to one that are at its level: a single one off it is passed over, two are a step. */
function meanBack(
  { tS, currentA }: Readings,
  to: number,
  noiseA: number,
): { readonly meanA: number; readonly count: number } {
  let sumA = currentA[to]!;
  let count = 1;
  const belongs = (i: number): boolean => {
    const meanA = sumA / count;
    const sdA = Math.max(noiseA, READ_OFF * Math.abs(meanA));
    return Math.abs(currentA[i]! - meanA) <= STEP_DEVIATIONS * sdA * Math.sqrt(1 + 1 / count);
  };
  for (let i = to - 1; i >= 0; i--) {
    if (tS[to]! - tS[i]! > RECENT_S && i < to - 1) break;
    if (belongs(i)) {
      sumA += currentA[i]!;
      count++;
    } else if (i === 0 || tS[to]! - tS[i - 1]! > RECENT_S || !belongs(i - 1)) break;
  }
  return { meanA: sumA / count, count };
}

/** The straight line through the newest readings, where they lie on one better than on two levels; undefined where they do not rise. */
function riseOf(
  { tS, currentA }: Readings,
  rampS: number,
): { readonly levelA: number; readonly slopeAPerS: number; readonly count: number } | undefined {
  const last = tS.length - 1;
  // Of two readings in the ramp the second is higher because the ramp rises; later it was turned up.
  const fewest = tS[last]! <= rampS ? 2 : 3;
  let from = last;
  while (from > 0 && (tS[last]! - tS[from - 1]! <= RECENT_S || last - from + 1 < fewest)) from--;
  const count = last - from + 1;
  if (count < fewest) return undefined;
  const [times, values] = [tS.subarray(from), currentA.subarray(from)];
  const meanS = mean(times);
  const meanA = mean(values);
  let tt = 0;
  let ti = 0;
  times.forEach((t, i) => {
    tt += (t - meanS) ** 2;
    ti += (t - meanS) * (values[i]! - meanA);
  });
  const slopeAPerS = tt > 0 ? ti / tt : 0;
  if (!(slopeAPerS * (times.at(-1)! - times[0]!) > SMALLEST_RISE * Math.abs(meanA))) return undefined;
  const offLine = squares(values) - slopeAPerS * ti;
  if (count > 2 && offLine >= offTwoLevels(values)) return undefined;
  return { levelA: meanA + slopeAPerS * (times.at(-1)! - meanS), slopeAPerS, count };
}

const mean = (values: Float64Array): number => values.reduce((sum, each) => sum + each, 0) / values.length;

function squares(values: Float64Array): number {
  const middle = mean(values);
  return values.reduce((sum, each) => sum + (each - middle) ** 2, 0);
}

/** What is left of the scatter about two levels, with the step where it fits best. */
function offTwoLevels(values: Float64Array): number {
  let least = squares(values);
  for (let cut = 1; cut < values.length; cut++)
    least = Math.min(least, squares(values.subarray(0, cut)) + squares(values.subarray(cut)));
  return least;
}
