import { BEFORE_POWER, powerCaution, type PowerKnown } from '../../core/reference/step-cautions.ts';
import { hasNoCurrent } from '../../core/run/no-current.ts';
import { enteredHold, enteredPower } from '../../core/run/power-span.ts';
import { readingTimes } from '../../core/run/reading-times.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { isLeftOn } from './left-on.ts';
import { newestReading, readingBeforeLast, shownOff } from './newest-reading.ts';
import type { RunView } from './run-view.ts';
import { isSaidOff, isSwitchedOff } from './said-off.ts';
import { stepLeft } from './step-left.ts';

/** A supply that is read speaks at least this often, s. */
const READ_EVERY_S = 10;
/** Typed readings are at least this far apart, s. */
const TYPED_EVERY_S = 60;

type PowerView = Pick<RunView, 'record' | 'readings' | 'nowMs' | 'powerS' | 'powerIsOn' | 'powerOnMs'>;

/** Whether a supply speaks by itself, the one that isn't there too. */
export const isRead = ({ origin }: Pick<RunRecord, 'origin'>): boolean =>
  origin === 'supply' || origin === 'simulated';

/** Whether a reading of a supply that is read, this old, s, is what it shows now. */
export const isSpokenNow = (ageS: number): boolean => ageS <= READ_EVERY_S;

/**
 * What is known of the power: the newest readings, no older than they usually are apart, or what somebody said who looked. One reading
 * alone never says that it is off.
 * Pressing Next alone tells nothing of the switch.
 */
export function powerKnown(view: PowerView): PowerKnown {
  const { record, powerS, powerIsOn, powerOnMs } = view;
  if (!record || !enteredPower(record.clock)) return 'never';
  if (isLeftOn(record)) return 'still-on';
  if (isSwitchedOff(record)) return 'off';
  const last = newestReading(view);
  const shown = shownOff(view.readings, record.plan);
  const readPastEnd =
    !powerIsOn &&
    isRead(record) &&
    last !== null &&
    powerS !== null &&
    powerOnMs !== null &&
    last.tS > powerS;
  if (readPastEnd && shown === 'off') return 'off';
  // One reading alone that shows it off bears out who says so.
  const contrary = shown === 'once' ? readingBeforeLast(view) : last;
  const contraryMs = readPastEnd && contrary ? powerOnMs + contrary.tS * 1000 : -Infinity;
  if (readPastEnd && shown === 'on' && isSpokenNow((view.nowMs - powerOnMs) / 1000 - last.tS))
    return 'still-on';
  if (!powerIsOn && isSaidOff(record, contraryMs)) return 'off';
  if (readPastEnd) return 'may-be-on';
  const isNew = last !== null && powerS !== null && powerS - last.tS <= usualIntervalS(record);
  if (shown === 'off' && isNew) return 'off';
  return powerIsOn ? 'on' : 'may-be-on';
}

export const isKnownOff = (view: PowerView): boolean => powerKnown(view) === 'off';

function usualIntervalS({ origin, plan: { rampS, holdS } }: RunRecord): number {
  if (isRead({ origin })) return READ_EVERY_S;
  const [before = 0, end = 0] = readingTimes(rampS / 60, (rampS + holdS) / 60).slice(-2);
  return Math.max(TYPED_EVERY_S, (end - before) * 60);
}

/** Past the last hold, or at its end: no current is to flow any more. */
export function isHoldOver(view: RunView): boolean {
  if (view.powerOnMs !== null && !view.powerIsOn) return true;
  const timer = view.timers[view.step];
  const { leftMs } = stepLeft(view);
  return timer?.step.kind === 'hold' && timer.state !== 'waiting' && leftMs !== null && leftMs <= 0;
}

/** What can hurt at the step that runs, the power first, as far as it is known; of a run that is over the power alone. */
export function cautionsNow(view: RunView): string[] {
  const { record, timers, step } = view;
  const now = record?.endedAtMs === null ? timers[step]?.step : undefined;
  const known = powerKnown(view);
  // A ramp with current is as live as a hold: nothing is to be done before the power goes on any more.
  const isLive = now?.kind === 'ramp' && known === 'on' && flowsInRamp(view);
  const power = powerCaution(isLive ? 'hold' : (now?.kind ?? 'check'), known);
  const own = (now?.cautions ?? []).filter((caution) => !(isLive && caution === BEFORE_POWER));
  return [...new Set([...(power === null ? [] : [power]), ...own])];
}

/** Whether current was read in this ramp, or the steps have come back to it from where it flowed. */
function flowsInRamp(view: RunView): boolean {
  const { record } = view;
  if (!record) return false;
  const last = newestReading(view);
  return (last !== null && !hasNoCurrent(last, record.plan)) || enteredHold(record.clock);
}
