import { hasNoCurrent } from '../../core/run/no-current.ts';
import { readingAt, type Reading, type Readings } from '../../core/run/readings.ts';
import type { LoadPlan } from '../../core/shop/run-record.ts';
import type { RunView } from './run-view.ts';

/** Above this share of the run's highest voltage the supply pushes still: no current then is a lost contact, not a switch. */
const NO_VOLTAGE_SHARE = 0.4;

/** The newest reading; null where there is none. */
export const newestReading = ({ readings }: Pick<RunView, 'readings'>): Reading | null =>
  readings.tS.length > 0 ? readingAt(readings, readings.tS.length - 1) : null;

export const readingBeforeLast = ({ readings }: Pick<RunView, 'readings'>): Reading | null =>
  readings.tS.length > 1 ? readingAt(readings, readings.tS.length - 2) : null;

/** Whether hardly any voltage is left in a reading, measured by the highest of the run. */
export const hasNoVoltage = ({ voltageV }: Pick<Reading, 'voltageV'>, highestV: number): boolean =>
  voltageV <= NO_VOLTAGE_SHARE * highestV;

export const highestVoltageV = ({ readings }: Pick<RunView, 'readings'>): number =>
  readings.voltageV.reduce((high, each) => Math.max(high, each), 0);

/** Whether a reading, one alone, shows the supply off. */
export const readsOff = (
  reading: Pick<Reading, 'voltageV' | 'currentA'>,
  plan: Pick<LoadPlan, 'areaM2' | 'currentDensityAPerM2'>,
  highestV: number,
): boolean => hasNoCurrent(reading, plan) && hasNoVoltage(reading, highestV);

/**
 * What the newest readings show of the supply. That it is off is never said on account of one reading: `once` is one that shows it off
 * after one that did not.
 */
export function shownOff(
  readings: Readings,
  plan: Pick<LoadPlan, 'areaM2' | 'currentDensityAPerM2'>,
): 'on' | 'once' | 'off' | 'unread' {
  const count = readings.tS.length;
  if (count === 0) return 'unread';
  const highestV = highestVoltageV({ readings });
  const isOff = (index: number): boolean => readsOff(readingAt(readings, index), plan, highestV);
  if (!isOff(count - 1)) return 'on';
  if (count === 1) return 'unread';
  return isOff(count - 2) ? 'off' : 'once';
}
