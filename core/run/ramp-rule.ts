import type { AreaLeft } from './area-estimate.ts';
import { FEWEST_IN_WINDOW, findCurrentFall, findCurrentReturn, measureCurrentFall } from './current-fall.ts';
import type { VoltageSplit } from './ramp-fit.ts';
import { createRampLine, type LineChange, type RampLine } from './ramp-line.ts';
import { sizeByCurrent, sizeByLine, splitBefore, type RampSize } from './ramp-size.ts';
import { isHardCoat } from './trace-signal.ts';
import { GAP_S, liveArea, medianOf, newest, type Sample, type WatchTrace } from './watch-trace.ts';
import { withoutSurges } from './without-surges.ts';

/**
 * Finds a contact that lets go while the supply still ramps.
 *
 * Of a supply that raises its voltage evenly the current shows it (current-fall.ts). Whatever else is ramped, and however evenly, the
 * voltage goes with the current as V = E + b·I, b being the film's slope over the live area. When a share f of it lets go, b becomes
 * b / (1 − f) from one sample to the next: V jumps by b·I·f / (1 − f) and rises more steeply from there. The change of b is worked out
 * for each place it may have begun at, by least squares with what else bends the line left free within bounds: the oxide's curve, the
 * start-up peak as it dies away, the meter's noise and wander. Both need some current before the loss to compare with.
 */
export interface RampRule {
  /** Looks at the newest sample; a loss it finds it goes on measuring for two minutes. */
  readonly find: (trace: WatchTrace) => RampLoss | undefined;
  /** What came to show only after a minute, or may be too small for a lost contact: worth a look, no alarm. */
  readonly findLate: (trace: WatchTrace) => LateChange | undefined;
  /** What is left after the loss found last, measured anew; undefined where there is nothing new to say. */
  readonly measure: (trace: WatchTrace) => AreaLeft | undefined;
  /** Whether what let go has come back with the newest samples. Only a fall of the current is followed so. */
  readonly findReturn: (trace: WatchTrace) => RampReturn | undefined;
  /** How the loss found last stands: `lost` where its readings since exclude a return; undefined where it is not followed. */
  readonly standing: () => 'lost' | 'open' | undefined;
  /** Something else has changed since: the loss found last is measured and followed no more. */
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

export interface LateChange {
  readonly onset: number;
  /** What is left of the whole area at least. */
  readonly leastLeft: number;
}

export interface RampReturn {
  /** First sample after it, and the change of ln conductance. */
  readonly onset: number;
  readonly step: number;
}

/** Of the line: from here on the start-up peak is past its top and the barrier layer stands (some 400 C/m² build it). */
const LINE_FROM_C_PER_M2 = 2000;
const LINE_WINDOW = 40;
/** Of the current: the barrier layer is nearly built, and what is left of that only lets it rise more slowly. */
const CURRENT_FROM_C_PER_M2 = 300;
const CURRENT_WINDOW = 30;
/** Steps from one sample to the next after which something is missing. */
const HOLE = 2.5;
const FEWEST_BEFORE = 4;
const FEWEST_AFTER = 3;
const LONGEST_LAG_S = 60;
const LEVEL_SAMPLES = 5;
const LEAST_V = 2;
const THRESHOLD = 5.5;
const LATE = { longestLagS: 180, threshold: 6, smallestLoss: 0.1 } as const;
/** A current that falls by so much while the voltage does not needs few statistics: nothing sound does that within a minute. */
const PLAIN_FALL = { share: 0.28, voltageShare: 0.015, threshold: 1 } as const;
/** Smallest loss called, share of the area. */
const SMALLEST_LOSS = 0.15;
/** In a sound ramp a straight line breaks by chance now and then, never by much: a small loss must stand clearer, with two samples in a row. */
const SMALL_LOSS = { upTo: 0.2, threshold: 7.5 } as const;
/** A contact may take this long to let go; meanwhile the low end of what is left is taken this much lower. */
const LETTING_GO_S = 9;
const MAY_STILL_GO = 0.5;
const MEASURE_S = 120;
/** A loss measured smaller than this share of what was found has come back before it could be followed. */
const LEAST_OF_STEP = 0.4;
/** For so long the readings may leave a return open. */
const UNSEEN_S = 60;

/** A loss found: the samples before it that were compared, first one after it, and what there was before. */
interface Found {
  readonly before: readonly Sample[];
  readonly onset: number;
  readonly by: 'line' | 'current';
  readonly split: VoltageSplit;
  readonly leftBefore: AreaLeft;
  readonly areaBeforeM2: number;
  readonly step: number;
}

interface Followed {
  readonly onsetS: number;
  readonly step: number;
  readonly excludedS: number | undefined;
  readonly isOpen: boolean;
}

export function createRampRule(): RampRule {
  let found: Found | undefined;
  let looked: { readonly now: Sample; readonly line: WindowLine | undefined } | undefined;
  let followed: Followed | undefined;
  /** The newest sample with which a small loss stood clear. */
  let smallSeen: Sample | undefined;

  const findInCurrent = (trace: WatchTrace): RampLoss | 'uneven' | undefined => {
    if (trace.plan.mode !== 'voltage') return 'uneven';
    const window = unbroken(windowOf(trace, CURRENT_FROM_C_PER_M2, CURRENT_WINDOW), trace);
    if (window.length < FEWEST_IN_WINDOW || window.at(-1) !== newest(trace)) return undefined;
    const fall = findCurrentFall(window, trace);
    if (!fall || fall === 'uneven') return fall;
    const before = window.slice(0, fall.onset);
    const size = sizeByCurrent(splitBefore(before, liveArea(trace)), fall);
    const loss = keep(trace, before, window[fall.onset]!, 'current', size);
    followed = { onsetS: window[fall.onset]!.tS, step: fall.step, excludedS: undefined, isOpen: false };
    return loss;
  };

  /** Worked out once for each sample, whatever is looked for in it. */
  const lineNow = (trace: WatchTrace): WindowLine | undefined => {
    const now = newest(trace);
    if (looked?.now !== now) looked = { now, line: lineOf(trace) };
    return looked.line;
  };

  const findInLine = (trace: WatchTrace): RampLoss | undefined => {
    const looking = lineNow(trace);
    const change = looking && findChange(looking, LONGEST_LAG_S, THRESHOLD);
    if (!change) return undefined;
    const { window } = looking;
    const before = window.slice(0, change.onset);
    const size = sizeByLine(splitBefore(before, liveArea(trace)), change);
    if (size.share.value > 1 - SMALLEST_LOSS) return undefined;
    if (size.share.value > 1 - SMALL_LOSS.upTo) {
      const stood = smallSeen !== undefined && smallSeen === window.at(-2);
      smallSeen = change.ohm / change.sdOhm >= SMALL_LOSS.threshold ? window.at(-1) : undefined;
      if (!stood || !smallSeen) return undefined;
    }
    followed = undefined;
    return keep(trace, before, window[change.onset]!, 'line', size);
  };

  const findLate = (trace: WatchTrace): LateChange | undefined => {
    if (trace.plan.mode !== 'current') return undefined;
    const looking = lineNow(trace);
    const change = looking && findChange(looking, LATE.longestLagS, LATE.threshold);
    if (!change) return undefined;
    const { window } = looking;
    if (newest(trace).tS - window[change.onset]!.tS <= LONGEST_LAG_S) return undefined;
    const { share } = sizeByLine(splitBefore(window.slice(0, change.onset), liveArea(trace)), change);
    if (share.value > 1 - LATE.smallestLoss) return undefined;
    const onset = trace.samples.lastIndexOf(window[change.onset]!);
    return { onset, leastLeft: trace.left.low * share.low };
  };

  const keep = (
    trace: WatchTrace,
    before: readonly Sample[],
    first: Sample,
    by: Found['by'],
    { share, step, split }: RampSize,
  ): RampLoss => {
    const onset = trace.samples.lastIndexOf(first);
    const areaBeforeM2 = liveArea(trace);
    found = { before, onset, by, split, leftBefore: trace.left, areaBeforeM2, step };
    const left = leftAfter(trace.left, { ...share, low: MAY_STILL_GO * share.low });
    return { onset, step, left, split };
  };

  /** From all samples but those in which the contact may still have been letting go. */
  const measure = (trace: WatchTrace): AreaLeft | undefined => {
    if (!found) return undefined;
    const { onset, by, split, leftBefore, areaBeforeM2, step } = found;
    const onsetS = trace.samples[onset]!.tS;
    if (newest(trace).tS - onsetS > MEASURE_S) {
      found = undefined;
      return undefined;
    }
    const before = found.before.filter(({ tS }) => tS < onsetS - LETTING_GO_S);
    const after = trace.samples.slice(onset).filter(({ tS }) => tS > onsetS + LETTING_GO_S);
    if (before.length < 2 || after.length < FEWEST_AFTER) return undefined;
    if (by === 'line') {
      const change = createRampLine([...before, ...after], areaBeforeM2).changeFrom(before.length);
      return leftAfter(leftBefore, sizeByLine(split, change).share);
    }
    const fall = measureCurrentFall(before, after, trace);
    if (!fall) return undefined;
    if (fall.step > LEAST_OF_STEP * step) {
      if (followed) followed = { ...followed, isOpen: true };
      return undefined;
    }
    return leftAfter(leftBefore, sizeByCurrent(split, fall).share);
  };

  const findReturn = (trace: WatchTrace): RampReturn | undefined => {
    if (!followed) return undefined;
    const { onsetS, step, excludedS } = followed;
    const fromS = onsetS + LETTING_GO_S;
    const window = trace.samples.slice(-CURRENT_WINDOW).filter(({ tS }) => tS > fromS);
    if (window.length < FEWEST_IN_WINDOW) return undefined;
    const nowS = newest(trace).tS;
    const { back, isExcluded } = findCurrentReturn(window, trace, step);
    if (back) {
      followed = undefined;
      return { onset: trace.samples.lastIndexOf(window[back.onset]!), step: back.step };
    }
    if (isExcluded) followed = { ...followed, excludedS: nowS };
    else if (nowS - (excludedS ?? fromS + UNSEEN_S) > UNSEEN_S) followed = { ...followed, isOpen: true };
    return undefined;
  };

  return {
    find: (trace) => {
      const inCurrent = findInCurrent(trace);
      return inCurrent === 'uneven' ? findInLine(trace) : inCurrent;
    },
    findLate,
    measure,
    findReturn,
    standing: () => followed && (followed.isOpen || followed.excludedS === undefined ? 'open' : 'lost'),
    forget: () => {
      found = undefined;
      followed = undefined;
    },
  };
}

const leftAfter = (before: AreaLeft, share: AreaLeft): AreaLeft => ({
  value: before.value * share.value,
  low: before.low * share.low,
  high: before.high * share.high,
});

function windowOf({ samples, rampFrom }: WatchTrace, fromCPerM2: number, longest: number): Sample[] {
  let from = samples.length;
  const earliest = Math.max(rampFrom, samples.length - longest);
  while (from > earliest && samples[from - 1]!.chargePerAreaC > fromCPerM2) from--;
  return withoutSurges(samples.slice(from));
}

/** The last samples of a window with nothing left out or missing between them: over a hole the current can't be followed. */
function unbroken(window: readonly Sample[], { usualStepS }: WatchTrace): readonly Sample[] {
  const last = window.findLastIndex(
    (sample, i) => i > 0 && sample.tS - window[i - 1]!.tS > HOLE * usualStepS,
  );
  return last < 0 ? window : window.slice(last);
}

/** V against I up to the newest sample. */
interface WindowLine {
  readonly window: readonly Sample[];
  readonly line: RampLine;
}

/** In a pause the film of a hard coat takes as many volts as a loss would: its line begins anew after one. */
function sincePause(window: Sample[], { plan }: WatchTrace): Sample[] {
  const last = window.findLastIndex((sample, i) => i > 0 && sample.tS - window[i - 1]!.tS > GAP_S);
  return last > 0 && isHardCoat(plan) ? window.slice(last) : window;
}

function lineOf(trace: WatchTrace): WindowLine | undefined {
  const window = sincePause(windowOf(trace, LINE_FROM_C_PER_M2, LINE_WINDOW), trace);
  if (window.length < FEWEST_BEFORE + FEWEST_AFTER || window.at(-1) !== newest(trace)) return undefined;
  return { window, line: createRampLine(window, liveArea(trace)) };
}

/** The clearest change of the line. */
function findChange(
  { window, line }: WindowLine,
  longestLagS: number,
  threshold: number,
): (LineChange & { readonly onset: number }) | undefined {
  const nowS = window.at(-1)!.tS;
  let best: (LineChange & { readonly onset: number; readonly z: number }) | undefined;
  for (let onset = window.length - FEWEST_AFTER; onset >= FEWEST_BEFORE; onset--) {
    const sinceS = nowS - window[onset]!.tS;
    if (sinceS > longestLagS) break;
    const change = line.changeFrom(onset);
    const z = change.ohm / change.sdOhm;
    const needed = fallsAgainstVoltage(window, onset) ? PLAIN_FALL.threshold : threshold;
    if (z > Math.max(needed, best?.z ?? 0)) best = { ...change, onset, z };
  }
  if (!best || !line.holds(best.onset, best.ohm)) return undefined;
  // Below that the cell was off or shorted, and there was no line.
  const before = window.slice(Math.max(0, best.onset - LEVEL_SAMPLES), best.onset);
  const alive = medianOf(before, 'voltageV') > LEAST_V && medianOf(before, 'currentA') > 0;
  return alive ? best : undefined;
}

function fallsAgainstVoltage(window: readonly Sample[], onset: number): boolean {
  const before = window.slice(onset - 3, onset);
  const after = window.slice(-FEWEST_AFTER);
  const fallen = (1 - PLAIN_FALL.share) * medianOf(before, 'currentA');
  const kept = (1 - PLAIN_FALL.voltageShare) * medianOf(before, 'voltageV');
  return medianOf(after, 'voltageV') > kept && after.every(({ currentA }) => currentA < fallen);
}
