import { beganAtMs } from '../../core/shop/run-summary.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { dayAndTime } from './spoken-time.ts';

/** What two runs side by side are called: by their names, and of one name by when they began, as a run and its repeat are. */
export function namesApart(first: RunRecord, second: RunRecord | null): readonly [string, string] {
  const dated = (run: RunRecord): string => `${run.name}, ${dayAndTime(beganAtMs(run))}`;
  if (!second) return [first.name, ''];
  return first.name === second.name ? [dated(first), dated(second)] : [first.name, second.name];
}
