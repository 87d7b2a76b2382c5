import { failure, success, type Result } from '../../core/result.ts';
import { timerText } from '../../core/units/timer-text.ts';
import type { Reading, Readings } from '../../core/run/readings.ts';

/**
 * What was typed, as readings of the run at this moment; the first after a ramp brings the zero at power on along.
 * Failures: `power-not-on`, `reading-behind`.
 *
 * @param powerS seconds since power on; null where it is off, or another window keeps the run
 * @param lastS the newest reading; null where there is none
 */
export function typedReadings(
  reading: Omit<Reading, 'tS'>,
  powerS: number | null,
  lastS: number | null,
  rampS: number,
): Result<Reading[]> {
  if (powerS === null) {
    return failure(
      'power-not-on',
      'The power is not on in this run.',
      'Go on to the ramp first; readings count from there.',
    );
  }
  const tS = Math.round(powerS * 10) / 10;
  if (tS < (lastS ?? 0)) {
    return failure(
      'reading-behind',
      'The log put into this run already reaches beyond this moment.',
      'Put the log in again with its zero where it belongs, or after the run.',
    );
  }
  const start: Reading[] = lastS === null && tS > 0 && rampS > 0 ? [{ tS: 0, voltageV: 0, currentA: 0 }] : [];
  return success([...start, { tS, ...reading }]);
}

/** Whether this one came by itself with the first that was typed: nothing flowed at power on. */
export function isZeroAtPowerOn({ origin, tS, voltageV, currentA }: Readings, place: number): boolean {
  return origin === 'typed' && tS[place] === 0 && voltageV[place] === 0 && currentA[place] === 0;
}

/** What the run's log says of a reading that was wrong. */
export function putRightText({ tS, ...wrong }: Reading, right: Omit<Reading, 'tS'> | null): string {
  const at = timerText(Math.max(0, tS));
  const said = ({ voltageV, currentA }: Omit<Reading, 'tS'>): string => `${voltageV} V and ${currentA} A`;
  return right
    ? `Put right: the reading at ${at}, ${said(wrong)}, was ${said(right)}.`
    : `Taken out as wrong: the reading at ${at}, ${said(wrong)}.`;
}
