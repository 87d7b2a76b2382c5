import type { Reading } from '../../core/run/readings.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { readsOff } from './newest-reading.ts';

/** Less than what counts as a gap between readings (a minute). */
const QUIET_EVERY_S = 50;

/**
 * Of what a supply says past the hold, what the run keeps: all that has current, since that is film, or voltage; of a supply that stays off
 * two readings, then one in a while, so that hours of dye and seal neither fill the book nor count as a gap.
 *
 * @param kept the run's readings so far
 * @param offS when the hold ended, seconds since power on
 */
export function worthKeeping(
  more: readonly Reading[],
  kept: readonly Reading[],
  plan: RunRecord['plan'],
  offS: number,
): Reading[] {
  const highestV = kept.reduce((high, { voltageV }) => Math.max(high, voltageV), 0);
  const isOff = (reading: Reading): boolean => readsOff(reading, plan, highestV);
  const list: Reading[] = [];
  let [before, last] = [kept.at(-2), kept.at(-1)];
  for (const reading of more) {
    // One alone is not believed; the second says it.
    const wasOff = [before, last].every((each) => each !== undefined && each.tS > offS && isOff(each));
    if (wasOff && isOff(reading) && reading.tS - last!.tS < QUIET_EVERY_S) continue;
    list.push(reading);
    [before, last] = [last, reading];
  }
  return list;
}
