import { plannedCurrentA } from './planned-current.ts';
import { readingAt, readingsFrom, type Reading, type ReadingOrigin, type Readings } from './readings.ts';

type Planned = Parameters<typeof plannedCurrentA>[0];

/** Below this share of the planned current a display shows about nothing. */
const NO_CURRENT_SHARE = 0.02;
/** From this share of the planned current on, current has flowed. */
export const FLOWED_SHARE = 0.05;

/** Whether a current is about none, against the planned one. */
export const isNoCurrent = (currentA: number, plannedA: number): boolean =>
  currentA <= NO_CURRENT_SHARE * plannedA;

/** Whether about no current flows in a reading. */
export const hasNoCurrent = ({ currentA }: Pick<Reading, 'currentA'>, plan: Planned): boolean =>
  isNoCurrent(currentA, plannedCurrentA(plan));

/**
 * How many readings without current in a row are believed: one may be a slip of the supply or the wire to it. What is typed is asked
 * about before it is taken (doubt-reading.ts), and counts.
 */
export const readingsToBelieve = (origin: ReadingOrigin | null): number => (origin === 'typed' ? 1 : 2);

/** Whether the newest readings show that current which flowed is gone, by as many as it takes. */
export function isCurrentGone(readings: Readings, origin: ReadingOrigin | null, plan: Planned): boolean {
  const from = readings.tS.length - readingsToBelieve(origin);
  return (
    from >= 0 && readings.currentA.subarray(from).every((each) => isNoCurrent(each, plannedCurrentA(plan)))
  );
}

/** The readings without one at their end that alone shows no current where it flowed before: the next one tells whether it is a slip. */
export function withoutLoneZero(readings: Readings, plan: Planned): Readings {
  const count = readings.tS.length;
  const plannedA = plannedCurrentA(plan);
  const isLone =
    count >= 2 &&
    readings.origin !== 'typed' &&
    isNoCurrent(readings.currentA[count - 1]!, plannedA) &&
    readings.currentA[count - 2]! > FLOWED_SHARE * plannedA;
  if (!isLone) return readings;
  const list = Array.from({ length: count - 1 }, (_, i) => readingAt(readings, i));
  return readingsFrom(list, readings.origin);
}
