import { asksForPowerOff, currentAskedForA, isSetDown } from '../../core/run/watch-advice.ts';
import type { Advice } from '../../core/run/watch-advice.ts';
import { afterHoldRemedy } from '../../core/run/after-hold.ts';
import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { rampCurrentA } from '../../core/run/ramp-current.ts';
import { saidStage, saidWords } from '../../core/shop/said-words.ts';
import type { SaidEvent } from '../../core/shop/run-record.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { newestReading } from './newest-reading.ts';
import { isHoldOver, isKnownOff } from './run-power.ts';
import type { RunView } from './run-view.ts';

/** What the watch said, with what to do about it now: after the hold, or the run's end, nothing is set, ramped or clamped any more. */
export function wordsNow(event: SaidEvent, view: RunView, system: UnitSystem): Advice {
  const { record } = view;
  if (!record) return { message: event.message, remedy: event.remedy };
  const last = newestReading(view);
  const currentNowA = record.endedAtMs === null && last && last.tS > event.atS ? last.currentA : null;
  const words = saidWords(event, record.plan, system, currentNowA);
  if (event.kind === 'reading-doubtful' && last && last.tS > event.atS)
    return { ...words, remedy: 'It has been read again since: that is what counts.' };
  if (record.endedAtMs === null && !isHoldOver(view)) return words;
  const remedy = afterHoldRemedy(event.kind, isKnownOff(view), isBack(event, view.events));
  return remedy === null ? words : { ...words, remedy };
}

/** Whether the contact came back after this was said. */
export function isBack({ kind, atS }: SaidEvent, events: readonly SaidEvent[]): boolean {
  return (
    kind.startsWith('contact') && events.some((later) => later.kind === 'contact-back' && later.atS > atS)
  );
}

/** The newest alarm that is not dealt with; a contact that came back deals with itself once silenced. */
export function standingAlarm({
  record,
  events,
}: Pick<RunView, 'record' | 'events'>): { readonly event: SaidEvent; readonly rings: boolean } | null {
  const place = events.findLastIndex(({ level }) => level === 'alarm');
  const event = events[place];
  if (!record || !event || place < record.dealtWith) return null;
  const rings = place >= record.silenced;
  return isBack(event, events) && !rings ? null : { event, rings };
}

/** Whether the alarm that stands says to switch off: going on is then no safe answer to a question. */
export function alarmAsksForOff(view: Pick<RunView, 'record' | 'events'>): boolean {
  const alarm = standingAlarm(view);
  if (!view.record || !alarm || isBack(alarm.event, view.events)) return false;
  const stage = saidStage(alarm.event, view.record.plan);
  return stage !== null && asksForPowerOff(alarm.event, stage);
}

/**
 * The current as it should stand now where a lost contact asks for less than planned, A; else null. Once that is dealt with, the
 * newest reading tells whether the current was set down.
 */
export function loweredCurrentA({ record, events, readings, progress }: RunView): number | null {
  if (!record || record.endedAtMs !== null) return null;
  const place = events.findLastIndex(({ kind }) => kind === 'contact-lost' || kind === 'contact-drift');
  const event = events[place];
  if (!event || isBack(event, events)) return null;
  const stage = saidStage(event, record.plan);
  const askedA = stage ? currentAskedForA(event, stage) : null;
  const isUnread = (progress?.currentNow?.insteadOfA ?? null) !== null;
  if (askedA === null || isUnread || place >= record.dealtWith) return askedA;
  const plannedA = plannedCurrentA(record.plan);
  // What flowed last: a supply that is off has not been turned up again.
  const flowedA = readings.currentA.findLast((currentA) => currentA > 0.05 * askedA);
  return isSetDown(flowedA ?? null, askedA, plannedA) ? askedA : null;
}

/** What the planned even ramp has come to by its timer, A; null outside of it, once it is over, and where the voltage is ramped. */
function rampNowA({ record, timers, step }: RunView): number | null {
  const timer = timers[step];
  if (!record || record.endedAtMs !== null || record.plan.mode !== 'current') return null;
  if (timer?.step.kind !== 'ramp' || (timer.state !== 'running' && timer.state !== 'paused')) return null;
  const fullA = plannedCurrentA(record.plan);
  const nowA = rampCurrentA(fullA, record.plan.rampS, timer.elapsedMs / 1000);
  return nowA < fullA ? nowA : null;
}

/** The current to have, for the board: what the ramp has come to, or less where a lost contact asks for less, with the plan's full one. */
export function currentToHave(view: RunView): string {
  const { record } = view;
  if (!record) return '';
  // A line never ends between a number and its unit.
  const amps = (valueA: number): string => formatIn('current', valueA, 'A', 3).text.replace(' ', '\u00a0');
  const plan = `plan ${amps(plannedCurrentA(record.plan))}`;
  const [askedA, rampA] = [loweredCurrentA(view), rampNowA(view)];
  if (rampA !== null && (askedA === null || rampA < askedA))
    return `ramp now ${rampA.toFixed(2)}\u00a0A, ${plan}`;
  return askedA === null ? plan : `now to ${amps(askedA)}, ${plan}`;
}

/** A step, the one that runs where none is named; a hold with the current as it should stand now. */
export function stepTitle(view: RunView, index = view.step): string {
  const { record, timers } = view;
  const now = timers[index]?.step;
  const askedA = now?.kind === 'hold' ? loweredCurrentA(view) : null;
  if (!record || askedA === null) return now?.label ?? '';
  // A line never ends between a number and its unit.
  const amps = (valueA: number): string => formatIn('current', valueA, 'A', 3).text.replace(' ', '\u00a0');
  return `Hold ${amps(askedA)}, was ${amps(plannedCurrentA(record.plan))}`;
}
