import { hasPowerNow, powerSpan } from '../../core/run/power-span.ts';
import type { Readings } from '../../core/run/readings.ts';
import { currentStep } from '../../core/run/step-clock.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { newestReading, shownOff } from './newest-reading.ts';
import type { RunView } from './run-view.ts';
import { isSaidOff, isSwitchedOff } from './said-off.ts';

/**
 * Whether a run was ended with the supply on, and nobody has said since that it is off. It is written up only then: in the book it is
 * in progress until that is said, so that every window that is opened finds it again.
 */
export const isLeftOn = ({ endedAtMs, outcome }: Pick<RunRecord, 'endedAtMs' | 'outcome'>): boolean =>
  endedAtMs !== null && outcome === 'running';

/** Ids of the runs this window does not show that were left on: over, but for somebody's word that the supply is off. */
export function leftOnElsewhere({ elsewhere }: Pick<RunView, 'elsewhere'>): string[] {
  return elsewhere.flatMap(({ record }) => (record && isLeftOn(record) ? [record.id] : []));
}

/**
 * Whether the last that was read of a run that ends is a supply that is on, in a step with current or past the hold: nothing is read of
 * it any more, so that stands.
 */
export function endsWithPower(record: RunRecord, readings: Readings): boolean {
  const { onMs, offMs } = powerSpan(record.clock);
  const last = newestReading({ readings });
  if (onMs === null || offMs === null || last === null || isSwitchedOff(record)) return false;
  const shown = shownOff(readings, record.plan);
  if (shown === 'off' || shown === 'unread') return false;
  const readAtMs = onMs + last.tS * 1000;
  const isPastEnd = readAtMs > offMs;
  if (!isPastEnd && !hasPowerNow(record.clock.steps[currentStep(record.clock)])) return false;
  return !isSaidOff(record, isPastEnd ? readAtMs : -Infinity);
}
