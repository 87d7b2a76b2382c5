import { currentStep, endStepOnTime, markStep, type ClockLook } from '../../core/run/step-clock.ts';
import type { Reading, Readings } from '../../core/run/readings.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { isLeftOn } from './left-on.ts';
import { highestVoltageV, readsOff } from './newest-reading.ts';
import { HOLD_DONE } from './run-calls.ts';
import type { RunRecorder } from './run-view.ts';

/** A mark of the clock, and what it means for the ramp and the calls. */
export function markRun(
  record: RunRecord,
  kind: Parameters<RunRecorder['mark']>[0],
  look: ClockLook,
): RunRecord {
  const next = { ...record, clock: markStep(record.clock, kind, look) };
  if (kind === 'next') return { ...next, waitsAtRamp: false };
  if (kind !== 'back') return next;
  // Back at a ramp that has had its time, somebody wants it to go on; a hold that goes on is called anew.
  return {
    ...next,
    waitsAtRamp: true,
    silencedCalls: record.silencedCalls.filter((call) => call !== HOLD_DONE),
  };
}

/** A ramp whose time is over becomes the hold by itself, at the moment it was over; else the record as it is. */
export function endRampOnTime(record: RunRecord, look: ClockLook): RunRecord {
  const { clock, log } = record;
  const place = currentStep(clock);
  if (record.waitsAtRamp || clock.steps[place]?.kind !== 'ramp') return record;
  const next = endStepOnTime(clock, look);
  if (next.marks.length === clock.marks.length) return record;
  const text = `The ramp’s time is over. Now: ${clock.steps[place + 1]?.label ?? 'the end'}.`;
  return {
    ...record,
    clock: next,
    log: [...log, { atMs: next.marks.at(-1)!.atMs, kind: RAMP_OVER, text }],
  };
}

/** The entry of the run's log that says so. */
export const RAMP_OVER = 'ramp-over';

/** Silences what was said so far, and other calls by their names. */
export function silenceRun(record: RunRecord, calls: readonly string[]): RunRecord {
  return {
    ...record,
    silenced: record.events.length,
    silencedCalls: [...new Set([...record.silencedCalls, ...calls])],
  };
}

/**
 * Somebody who looked says that the supply is off; it holds until the steps lead back to the power. A run that was left on is over with
 * that.
 */
export function sayRunOff(record: RunRecord, atMs: number): RunRecord {
  const saidOff = { atMs, marks: record.clock.marks.length };
  return { ...record, saidOff, ...(isLeftOn(record) ? { outcome: 'unjudged' } : {}) };
}

/** A run that is over, after what the supply says later: shown off twice in a row, it was left on no longer. */
export function readAfterEnd(
  record: RunRecord,
  lastTwo: readonly Omit<Reading, 'tS'>[],
  readings: Readings,
  atMs: number,
): RunRecord {
  const highestV = highestVoltageV({ readings });
  const isOff = lastTwo.length === 2 && lastTwo.every((reading) => readsOff(reading, record.plan, highestV));
  return isOff && isLeftOn(record) ? sayRunOff(record, atMs) : record;
}

/** What was said so far stands no more. */
export function dealWithRun(record: RunRecord): RunRecord {
  return { ...record, silenced: record.events.length, dealtWith: record.events.length };
}
