import { areaLeft, type AreaLeft } from './area-estimate.ts';
import { median } from './held-level.ts';
import { sampleNoise } from './noise-tracker.ts';
import { learnSplit, PAST_PEAK_C_PER_M2, priorSplit, type VoltageSplit } from './ramp-fit.ts';
import { createRampLine, type LineChange } from './ramp-line.ts';
import { liveArea, medianOf, newest, type Sample, type WatchTrace } from './watch-trace.ts';

/**
 * Finds a contact that lets go while the supply still ramps, whichever quantity it ramps and however evenly: the voltage goes with
 * the current as V = E + b·I, b being the film's slope over the live area. When a share f of it lets go, b becomes b / (1 − f) from
 * one sample to the next: V jumps by b·I·f / (1 − f) and rises more steeply from there. The change of b is worked out for each place
 * it may have begun at, by least squares with what else bends the line left free within bounds: the oxide's curve, the start-up
 * peak as it dies away, the meter's noise and wander.
 *
 * It needs some current before the loss to compare with. A supply that ramps its voltage passes next to none until two thirds
 * of the ramp are over; what lets go before that can't be seen in the line.
 */
export interface RampRule {
  /** Looks at the newest sample; a loss it finds it goes on measuring for two minutes. */
  readonly find: (trace: WatchTrace) => RampLoss | undefined;
  /** What is left after the loss found last, measured anew; undefined where there is nothing new to say. */
  readonly measure: (trace: WatchTrace) => AreaLeft | undefined;
  /** Something else has changed since: the loss found last is measured no more. */
  readonly forget: () => void;
}

export interface RampLoss {
  /** First sample after it. */
  readonly onset: number;
  /** Change of ln conductance, below zero. */
  readonly step: number;
  /** What is left of the whole area. */
  readonly left: AreaLeft;
  /** How the voltage split before it. */
  readonly split: VoltageSplit;
}

/** From here on the start-up peak is past its top and the barrier layer stands (some 400 C/m² build it). */
const FROM_C_PER_M2 = 2000;
const FEWEST_BEFORE = 4;
const FEWEST_AFTER = 3;
const LONGEST_WINDOW = 40;
const LONGEST_LAG_S = 60;
const LEVEL_SAMPLES = 5;
const LEAST_V = 2;
const THRESHOLD = 7;
/** A current that falls by so much while the voltage does not needs few statistics: nothing sound does that within a minute. */
const PLAIN_FALL = { share: 0.28, voltageShare: 0.015, threshold: 1 } as const;
/** Smallest loss called, share of the area. */
const SMALLEST_LOSS = 0.15;
/** A contact may take this long to let go; meanwhile the low end of what is left is taken this much lower. */
const LETTING_GO_S = 9;
const MAY_STILL_GO = 0.5;
const MEASURE_S = 120;
const HAND_MOVE = { least: 0.05, most: 0.25 } as const;
const HAND_DEVIATIONS = 5;
const HAND_SAMPLES = 6;
const HAND_SETTLES_S = 25;

/** A loss found: first sample of those compared, first one after it, and what there was before. */
interface Found {
  readonly from: number;
  readonly onset: number;
  readonly leftBefore: AreaLeft;
  readonly areaBeforeM2: number;
}

export function createRampRule(): RampRule {
  let found: Found | undefined;

  const find = (trace: WatchTrace): RampLoss | undefined => {
    const from = windowStart(trace);
    const window = withoutSurges(trace.samples.slice(from));
    if (window.length < FEWEST_BEFORE + FEWEST_AFTER || window.at(-1) !== newest(trace)) return undefined;
    const change = findChange(window, liveArea(trace));
    if (!change) return undefined;
    const fresh = {
      from,
      onset: trace.samples.lastIndexOf(window[change.onset]!),
      leftBefore: trace.left,
      areaBeforeM2: liveArea(trace),
    };
    const { share, step, split } = sizeOf(trace.samples, fresh, change);
    if (share.value > 1 - SMALLEST_LOSS) return undefined;
    found = fresh;
    const left = leftAfter(trace.left, { ...share, low: MAY_STILL_GO * share.low });
    return { onset: fresh.onset, step, left, split };
  };

  /** From all samples but those in which the contact may still have been letting go. */
  const measure = (trace: WatchTrace): AreaLeft | undefined => {
    if (!found) return undefined;
    const { from, onset, leftBefore, areaBeforeM2 } = found;
    const onsetS = trace.samples[onset]!.tS;
    if (newest(trace).tS - onsetS > MEASURE_S) {
      found = undefined;
      return undefined;
    }
    const before = withoutSurges(trace.samples.slice(from, onset));
    const after = trace.samples.slice(onset).filter(({ tS }) => tS > onsetS + LETTING_GO_S);
    if (before.length === 0 || after.length < FEWEST_AFTER) return undefined;
    const change = createRampLine([...before, ...after], areaBeforeM2).changeFrom(before.length);
    return leftAfter(leftBefore, sizeOf(trace.samples, found, change).share);
  };

  return {
    find,
    measure,
    forget: () => {
      found = undefined;
    },
  };
}

const leftAfter = (before: AreaLeft, share: AreaLeft): AreaLeft => ({
  value: before.value * share.value,
  low: before.low * share.low,
  high: before.high * share.high,
});

function findChange(
  window: readonly Sample[],
  areaM2: number,
): (LineChange & { readonly onset: number }) | undefined {
  const line = createRampLine(window, areaM2);
  const nowS = window.at(-1)!.tS;
  let best: (LineChange & { readonly onset: number; readonly z: number }) | undefined;
  for (let onset = window.length - FEWEST_AFTER; onset >= FEWEST_BEFORE; onset--) {
    const sinceS = nowS - window[onset]!.tS;
    if (sinceS > LONGEST_LAG_S) break;
    const change = line.changeFrom(onset);
    const z = change.ohm / change.sdOhm;
    const needed = fallsAgainstVoltage(window, onset) ? PLAIN_FALL.threshold : THRESHOLD;
    if (z > Math.max(needed, best?.z ?? 0)) best = { ...change, onset, z };
  }
  if (!best || !line.holds(best.onset, best.ohm)) return undefined;
  // Below that the cell was off or shorted, and there was no line.
  const before = window.slice(Math.max(0, best.onset - LEVEL_SAMPLES), best.onset);
  const alive = medianOf(before, 'voltageV') > LEAST_V && medianOf(before, 'currentA') > 0;
  return alive ? best : undefined;
}

function windowStart({ samples, rampFrom }: WatchTrace): number {
  let from = samples.length;
  const earliest = Math.max(rampFrom, samples.length - LONGEST_WINDOW);
  while (from > earliest && samples[from - 1]!.chargePerAreaC > FROM_C_PER_M2) from--;
  return from;
}

function fallsAgainstVoltage(window: readonly Sample[], onset: number): boolean {
  const before = window.slice(onset - 3, onset);
  const after = window.slice(-FEWEST_AFTER);
  const fallen = (1 - PLAIN_FALL.share) * medianOf(before, 'currentA');
  const kept = (1 - PLAIN_FALL.voltageShare) * medianOf(before, 'voltageV');
  return medianOf(after, 'voltageV') > kept && after.every(({ currentA }) => currentA < fallen);
}

/**
 * A setting raised by hand makes current or voltage overshoot for some seconds: these samples say nothing of the line. What stands
 * out is a rise of the current by much more than those before it and the meter's noise.
 */
function withoutSurges(samples: readonly Sample[]): Sample[] {
  if (samples.length < 3) return [...samples];
  const current = samples.map(({ currentA }) => currentA);
  const rises = current.map((value, i) => (i === 0 ? 0 : value - current[i - 1]!));
  const noise = HAND_DEVIATIONS * Math.SQRT2 * sampleNoise(current);
  let movedS = -Infinity;
  return samples.filter(({ tS, currentA }, i) => {
    const before = rises.slice(Math.max(1, i - HAND_SAMPLES), i);
    const usual = before.length === 0 ? rises[i]! : Math.max(0, median(before));
    const clear = Math.max(HAND_MOVE.least * currentA, Math.min(noise, HAND_MOVE.most * currentA));
    if (rises[i]! > 3 * usual + clear) movedS = tS;
    return tS > movedS + HAND_SETTLES_S;
  });
}

function sizeOf(
  samples: readonly Sample[],
  { from, onset, areaBeforeM2 }: Found,
  { ohm, sdOhm }: LineChange,
): { readonly share: AreaLeft; readonly step: number; readonly split: VoltageSplit } {
  const last = samples.slice(Math.max(from, onset - LEVEL_SAMPLES), onset);
  const voltageV = medianOf(last, 'voltageV');
  const currentA = medianOf(last, 'currentA');
  const before = samples.slice(from, onset).filter((sample) => sample.chargePerAreaC > PAST_PEAK_C_PER_M2);
  const split = learnSplit(
    before.map((sample) => sample.voltageV),
    before.map((sample) => sample.currentA),
    priorSplit(voltageV, currentA, currentA / areaBeforeM2),
  );
  const { overV, overSdV } = split;
  const afterV = Math.max(overV + ohm * currentA, 0.05 * overV);
  const step = -Math.log(afterV / overV);
  const share = areaLeft({
    step,
    stepSd: (sdOhm * currentA) / afterV,
    currentRatio: 1,
    voltageV,
    overV,
    likelyOverV: overV,
    overSdV,
  });
  return { share, step, split };
}
