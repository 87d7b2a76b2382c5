import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { readingAt, type Reading } from '../../core/run/readings.ts';
import type { LoadPlan } from '../../core/shop/run-record.ts';
import type { RunView } from './run-view.ts';

/** Below this share of the planned current a display shows about nothing. */
const NO_CURRENT_SHARE = 0.02;
/** Above this share of the run's highest voltage the supply pushes still: no current then is a lost contact, not a switch. */
const NO_VOLTAGE_SHARE = 0.4;

/** The newest reading; null where there is none. */
export const newestReading = ({ readings }: Pick<RunView, 'readings'>): Reading | null =>
  readings.tS.length > 0 ? readingAt(readings, readings.tS.length - 1) : null;

/** Whether about no current flows in a reading. */
export const hasNoCurrent = (
  { currentA }: Pick<Reading, 'currentA'>,
  plan: Pick<LoadPlan, 'areaM2' | 'currentDensityAPerM2'>,
): boolean => currentA <= NO_CURRENT_SHARE * plannedCurrentA(plan);

/** Whether hardly any voltage is left in a reading, measured by the highest of the run. */
export const hasNoVoltage = ({ voltageV }: Pick<Reading, 'voltageV'>, highestV: number): boolean =>
  voltageV <= NO_VOLTAGE_SHARE * highestV;

export const highestVoltageV = ({ readings }: Pick<RunView, 'readings'>): number =>
  readings.voltageV.reduce((high, each) => Math.max(high, each), 0);
