import type { Reading } from '../../core/run/readings.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { hasNoCurrent, hasNoVoltage } from './newest-reading.ts';

/** Less than what counts as a gap between readings (a minute). */
const QUIET_EVERY_S = 50;

/**
 * Of what a supply says past the hold, what the run keeps: all that has current, since that is film, or voltage; of a supply that stays off one
 * reading in a while, so that hours of dye and seal neither fill the book nor count as a gap.
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
  const isOff = (reading: Reading): boolean => hasNoCurrent(reading, plan) && hasNoVoltage(reading, highestV);
  const list: Reading[] = [];
  let last = kept.at(-1);
  for (const reading of more) {
    const wasOff = last !== undefined && last.tS > offS && isOff(last);
    if (wasOff && isOff(reading) && reading.tS - last!.tS < QUIET_EVERY_S) continue;
    list.push(reading);
    last = reading;
  }
  return list;
}
