import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { cautionsAt } from '../../core/reference/step-cautions.ts';
import { readingTimes } from '../../core/run/reading-times.ts';
import type { RunView } from './run-view.ts';
import { stepLeft } from './step-left.ts';

/** Below this share of the planned current a display shows about nothing. */
const NO_CURRENT_SHARE = 0.02;
/** Above this share of the run's highest voltage the supply pushes still: no current then is a lost contact, not a switch. */
const NO_VOLTAGE_SHARE = 0.4;
/** A supply that is read speaks at least this often, s. */
const READ_EVERY_S = 10;
/** Typed readings are at least this far apart, s. */
const TYPED_EVERY_S = 60;

type PowerView = Pick<RunView, 'record' | 'readings' | 'powerS' | 'powerIsOn' | 'powerOnMs'>;

/** By this name the run keeps that somebody said so; going back and on again wants a new word. */
export function saidOffName({ powerS }: Pick<RunView, 'powerS'>): string {
  return `supply-off-said ${powerS}`;
}

/**
 * Whether the supply is known to be off: the newest reading, no older than readings usually are apart, shows neither current nor
 * voltage, or somebody said so after the hold. Pressing Next alone tells nothing of the switch.
 */
export function isKnownOff(view: PowerView): boolean {
  const { record, readings, powerS, powerIsOn } = view;
  if (!record || powerS === null) return false;
  if (!powerIsOn && record.silencedCalls.includes(saidOffName(view))) return true;
  const last = readings.tS.length - 1;
  if (last < 0 || powerS - readings.tS[last]! > usualIntervalS(view)) return false;
  if (!(readings.currentA[last]! <= NO_CURRENT_SHARE * plannedCurrentA(record.plan))) return false;
  const highestV = readings.voltageV.reduce((high, voltageV) => Math.max(high, voltageV), 0);
  return readings.voltageV[last]! <= NO_VOLTAGE_SHARE * highestV;
}

function usualIntervalS({ record }: PowerView): number {
  if (!record || record.origin === 'supply' || record.origin === 'simulated') return READ_EVERY_S;
  const { rampS, holdS } = record.plan;
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

/** What can hurt at the step that runs, as far as is known of the power. */
export function cautionsNow(view: RunView): string[] {
  return cautionsAt(view.timers[view.step]?.step.cautions ?? [], isKnownOff(view));
}
