import type { AreaLeft } from './area-estimate.ts';
import { median } from './held-level.ts';
import { atLeast, growthPerS, noiseNow, overPotential, warmingPerS } from './trace-signal.ts';
import type { WatchKind } from './watch-event.ts';
import { newest, type WatchTrace } from './watch-trace.ts';

/** Slow losses, burning and a bath that warms unread, seen in one-minute means of the level. */
export interface SlowFinding {
  readonly kind: 'burning' | 'contact-drift' | 'bath-warming';
  readonly sinceS: number;
  /** Change of the level, and what it leaves of the area where it is a loss. */
  readonly change: number;
  readonly left: AreaLeft;
}

/** Where growth alone may take more than this in ten minutes (hard coat), a slow loss can't be told from it. */
const TELLABLE_FALL = 0.8;
const MEAN_S = 60;

export function findSlowChange(trace: WatchTrace, said: ReadonlySet<WatchKind>): SlowFinding | undefined {
  if (!trace.splitFixed) return undefined;
  const now = newest(trace);
  if (levelMean(trace, now.tS) === undefined) return undefined;
  const { whiteSd, wanderSd } = noiseNow(trace);
  const sd = Math.SQRT2 * Math.hypot(whiteSd / Math.sqrt(MEAN_S / trace.usualStepS), wanderSd);
  const change = (agoS: number): number | undefined => changeAt(trace, now.tS, agoS);
  /** Most of it was there a while ago already: no fresh step, which the step rule is about to judge. */
  const lasting = (total: number, agoS: number, whileS: number): boolean =>
    (changeAt(trace, now.tS - whileS, agoS) ?? 0) / total > 0.6;
  const found = (kind: SlowFinding['kind'], agoS: number, by: number, left = trace.left): SlowFinding => ({
    kind,
    sinceS: now.tS - agoS,
    change: by,
    left,
  });
  const warm = warmingPerS(trace);
  if (!said.has('burning')) {
    for (const agoS of [120, 300]) {
      const rise = change(agoS);
      if (
        rise !== undefined &&
        rise > 0.15 + 1.5 * warm * agoS &&
        rise > 6 * sd &&
        lasting(rise, agoS, 15) &&
        freeChange(trace, agoS) > 0.5 * rise
      ) {
        return found('burning', 120, rise);
      }
    }
  }
  const slow = change(600);
  if (slow === undefined) return undefined;
  const fall = 0.25 + 600 * (growthPerS(trace) + warm);
  if (
    !said.has('contact-drift') &&
    fall < TELLABLE_FALL &&
    -slow > fall &&
    -slow > 6 * sd &&
    lasting(slow, 600, 75) &&
    freeChange(trace, 600) < 0.5 * (slow - stepsWithin(trace, 600))
  ) {
    return found('contact-drift', 600, slow, areaAfterDrift(trace.left, -slow, growthPerS(trace) * 600, sd));
  }
  if (!said.has('bath-warming') && now.kelvin === undefined) {
    const long = change(1500);
    if (long !== undefined && long > 0.15 && long > 6 * sd) return found('bath-warming', 1500, long);
  }
  return undefined;
}

/** Growth may have taken anything from none to all it usually takes. */
function areaAfterDrift(left: AreaLeft, fall: number, growth: number, sd: number): AreaLeft {
  return {
    value: left.value * Math.exp(-(fall - growth / 2)),
    low: left.low * Math.exp(-(fall + 2 * sd) * 1.2),
    high: Math.min(1, left.high * Math.exp(-(fall - growth - 2 * sd) * 0.8)),
  };
}

function levelMean({ samples, comparableFrom }: WatchTrace, endS: number): number | undefined {
  let sum = 0;
  let count = 0;
  for (let i = samples.length - 1; i >= comparableFrom && samples[i]!.tS > endS - MEAN_S; i--) {
    if (samples[i]!.tS <= endS) {
      sum += samples[i]!.level;
      count++;
    }
  }
  return count >= 3 ? sum / count : undefined;
}

function changeAt(trace: WatchTrace, endS: number, agoS: number): number | undefined {
  const end = levelMean(trace, endS);
  const then = levelMean(trace, endS - agoS);
  return end === undefined || then === undefined ? undefined : end - then;
}

/** Change of what the supply leaves free alone: a meter that wanders on the held quantity is not a fault. */
function freeChange(trace: WatchTrace, agoS: number): number {
  const near = (endS: number): number[] =>
    trace.samples
      .slice(trace.comparableFrom)
      .filter((sample) => sample.tS <= endS && sample.tS > endS - MEAN_S)
      .map((sample) =>
        trace.plan.mode === 'voltage'
          ? Math.log(atLeast(trace, sample.currentA))
          : -Math.log(overPotential(trace, sample.voltageV)),
      );
  const nowS = newest(trace).tS;
  return median(near(nowS)) - median(near(nowS - agoS));
}

/** Steps called since then, which the level has no more. */
function stepsWithin(trace: WatchTrace, agoS: number): number {
  const now = newest(trace);
  const then = trace.samples.find((sample) => sample.tS >= now.tS - agoS)!;
  return then.x - then.level - (now.x - now.level);
}
