import { beganAtMs } from '../../core/shop/run-summary.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { dayAndTime, timeOfDay } from './spoken-time.ts';

/** What two runs side by side are called: by their names, and of one name by when they began, as a run and its repeat are. */
export function namesApart(first: RunRecord, second: RunRecord | null): readonly [string, string] {
  if (!second) return [first.name, ''];
  if (first.name !== second.name) return [first.name, second.name];
  const dated = (run: RunRecord): string => `${run.name}, ${dayAndTime(beganAtMs(run))}`;
  return [dated(first), dated(second)];
}

/** The same for a legend, where a name of both says nothing: of one day the time alone. */
export function shortNamesApart(first: RunRecord, second: RunRecord | null): readonly [string, string] {
  if (!second || first.name !== second.name) return namesApart(first, second);
  const began = [beganAtMs(first), beganAtMs(second)] as const;
  const isOneDay = new Date(began[0]).toDateString() === new Date(began[1]).toDateString();
  const say = isOneDay ? timeOfDay : dayAndTime;
  return [say(began[0]), say(began[1])];
}
