import { currentAskedForA } from '../../core/run/watch-advice.ts';
import type { Advice } from '../../core/run/watch-advice.ts';
import { afterHoldRemedy } from '../../core/run/after-hold.ts';
import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { saidStage, saidWords } from '../../core/shop/said-words.ts';
import type { SaidEvent } from '../../core/shop/run-record.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { isHoldOver, isKnownOff } from './run-power.ts';
import type { RunView } from './run-view.ts';

/** What the watch said, with what to do about it now: after the hold nothing is set, ramped or clamped any more. */
export function wordsNow(event: SaidEvent, view: RunView, system: UnitSystem): Advice {
  const { record } = view;
  if (!record) return { message: event.message, remedy: event.remedy };
  const words = saidWords(event, record.plan, system);
  if (record.endedAtMs !== null || !isHoldOver(view)) return words;
  const remedy = afterHoldRemedy(event.kind, isKnownOff(view), isBack(event, view.events));
  return remedy === null ? words : { ...words, remedy };
}

/** Whether the contact came back after this was said. */
export function isBack({ kind, atS }: SaidEvent, events: readonly SaidEvent[]): boolean {
  return (
    kind.startsWith('contact') && events.some((later) => later.kind === 'contact-back' && later.atS > atS)
  );
}

/**
 * The current as it should stand now where a lost contact asks for less than planned, A; else null. Once that is dealt with, the
 * newest reading tells whether the current was set down.
 */
export function loweredCurrentA({ record, events, readings }: RunView): number | null {
  if (!record || record.endedAtMs !== null) return null;
  const place = events.findLastIndex(({ kind }) => kind === 'contact-lost' || kind === 'contact-drift');
  const event = events[place];
  if (!event || isBack(event, events)) return null;
  const stage = saidStage(event, record.plan);
  const askedA = stage ? currentAskedForA(event, stage) : null;
  if (askedA === null || place >= record.dealtWith) return askedA;
  const plannedA = plannedCurrentA(record.plan);
  const readA = readings.currentA[readings.currentA.length - 1] ?? plannedA;
  return readA < (askedA + plannedA) / 2 ? askedA : null;
}

/** The step that runs, a hold with the current as it should stand now. */
export function stepTitle(view: RunView): string {
  const { record, timers, step } = view;
  const now = timers[step]?.step;
  const askedA = now?.kind === 'hold' ? loweredCurrentA(view) : null;
  if (!record || askedA === null) return now?.label ?? '';
  // A line never ends between a number and its unit.
  const amps = (valueA: number): string => formatIn('current', valueA, 'A', 3).text.replace(' ', '\u00a0');
  return `Hold ${amps(askedA)}, was ${amps(plannedCurrentA(record.plan))}`;
}
