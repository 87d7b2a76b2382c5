import type { AreaLeft } from './area-estimate.ts';
import type { VoltageSplit } from './ramp-fit.ts';
import type { Reading } from './readings.ts';
import { RECLAMP_UP_TO_M } from './watch-advice.ts';
import { halfMinutes, medianOf, newest, type WatchTrace } from './watch-trace.ts';
import { isAskedEnough, keepLoss, maybeWhole, seenLost, wholeAgain, type LossKept } from './whole-again.ts';

/**
 * What becomes of a loss while no step can show it: with the power off, with nothing read, or while the current rises somebody may
 * have clamped the part again. From then on the area counts as maybe whole, until the readings tell, or have had their time.
 */
export interface OpenLoss {
  /** A loss in the ramp may be back unseen, until it is known. */
  readonly mayBeBack: () => boolean;
  /** Remembers a loss while its readings are there. */
  readonly keep: (onset: number, leftBefore: AreaLeft, split: VoltageSplit, inRamp: boolean) => void;
  /** Soon after a loss in the ramp the readings show it; later the contact may be back. */
  readonly note: () => void;
  /** The power is off, or nothing is read: from here on it is open. */
  readonly open: () => void;
  /** How the contact stands is known in another way. */
  readonly settle: () => void;
  /**
   * What the readings say now, each once; undefined where they say nothing new. Sets the area left.
   * @param followed what following a loss in the ramp since has shown; undefined where it was not followed
   */
  readonly judge: (followed: 'lost' | 'open' | undefined) => LossVerdict | undefined;
}

export interface LossVerdict {
  /** `as-said`: what was said of it in the ramp still holds. */
  readonly kind: 'whole' | 'lost' | 'as-said' | 'unsure';
  readonly sinceS: number;
}

/** A loss in the ramp is seen within this time or so: the readings up to then are of the lost area. */
const LOST_FOR_SURE_S = 45;
/** Film up to which somebody may clamp again while nothing is read: what the advice has as the limit, twice. */
const CLAMPED_UP_TO_M = 2 * RECLAMP_UP_TO_M;
const WHOLE_FROM = 0.999;
const USUAL_RAMP_S = 300;
const LATEST_S = 300;
const STANDS_SHARE = 0.015;

export function createOpenLoss(trace: WatchTrace): OpenLoss {
  let kept:
    | { readonly loss: LossKept; readonly sinceS: number; readonly open: boolean; readonly ramp: boolean }
    | undefined;
  let mayBeBack = false;
  /** Nothing is open, or somebody has been told so. */
  let isTold = true;

  const settle = (): void => {
    kept = undefined;
    mayBeBack = false;
    isTold = true;
  };

  const answered = (followed: 'lost' | 'open' | undefined): LossVerdict | undefined => {
    if (!kept || !(kept.open || kept.ramp)) return undefined;
    const { loss, sinceS, open: wasOpen } = kept;
    if (!wasOpen && followed) {
      if (followed === 'open' || !voltageStands(trace)) return undefined;
      settle();
      return { kind: 'as-said', sinceS };
    }
    const answer = wholeAgain(loss, trace, wasOpen);
    if (answer === undefined) return undefined;
    const fromS = wasOpen ? trace.onS! : sinceS;
    settle();
    if (answer === 'whole') {
      trace.left = { ...loss.leftBefore, low: Math.min(0.9, loss.leftBefore.low) };
      return { kind: 'whole', sinceS: fromS };
    }
    if (!wasOpen) return { kind: 'as-said', sinceS: fromS };
    kept = { loss, sinceS: fromS, open: false, ramp: false };
    trace.left = loss.left;
    return { kind: 'lost', sinceS: fromS };
  };

  return {
    mayBeBack: () => mayBeBack,
    keep: (onset, leftBefore, split, inRamp) => {
      const loss = keepLoss(trace, onset, leftBefore, split);
      kept = loss && { loss, sinceS: trace.samples[onset]!.tS, open: false, ramp: inRamp };
      if (!inRamp) return;
      mayBeBack = true;
      isTold = false;
    },
    note: () => {
      if (kept?.ramp && newest(trace).tS - kept.sinceS <= LOST_FOR_SURE_S) {
        kept = { ...kept, loss: seenLost(kept.loss, trace, kept.sinceS) };
      }
    },
    open: () => {
      mayBeBack = false;
      if (trace.left.value >= WHOLE_FROM) return;
      if (kept)
        kept = {
          loss: seenLost(kept.loss, trace, kept.sinceS),
          sinceS: kept.sinceS,
          open: true,
          ramp: false,
        };
      trace.left = maybeWhole(trace.left);
      isTold = false;
    },
    settle,
    judge: (followed) => {
      const answer = answered(followed);
      if (answer || isTold || !(isAskedEnough(trace) || isOverdue(trace))) return answer;
      isTold = true;
      mayBeBack = false;
      return { kind: 'unsure', sinceS: newest(trace).tS };
    },
  };
}

/** The supply no longer raises its voltage: the last half minute is as the one before. */
function voltageStands({ samples }: WatchTrace): boolean {
  const { late, early } = halfMinutes(samples);
  if (late.length === 0 || early.length === 0) return false;
  return medianOf(late, 'voltageV') < (1 + STANDS_SHARE) * medianOf(early, 'voltageV');
}

/** So little current that its line is never learnt: the ramp's time and five minutes are over. */
const isOverdue = (trace: WatchTrace): boolean =>
  trace.onS !== undefined &&
  newest(trace).tS - trace.onS > 1.25 * (trace.plan.rampS ?? USUAL_RAMP_S) + LATEST_S;

/** Whether a part may be clamped again while nothing is read: as long as its film is thin enough for it. */
export const canBeClamped = ({ chargePerAreaC, left, plan }: WatchTrace): boolean =>
  chargePerAreaC / Math.max(left.value, 0.05) < CLAMPED_UP_TO_M * plan.chargePerVolumeCPerM3;

/** After a gap both current and voltage are far below what they were: the power was off, and comes back from zero. */
export const rampsAgain = (
  reading: Pick<Reading, 'voltageV' | 'currentA'>,
  usual: Pick<Reading, 'voltageV' | 'currentA'> | undefined,
): boolean =>
  usual !== undefined && reading.currentA < 0.5 * usual.currentA && reading.voltageV < 0.9 * usual.voltageV;
