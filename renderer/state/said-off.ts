import { enteredPower } from '../../core/run/power-span.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';

/**
 * Whether somebody who looked said that the supply is off, later than what was read to the contrary; going back to the power wants a
 * new word.
 */
export const isSaidOff = (
  { saidOff, clock }: Pick<RunRecord, 'saidOff' | 'clock'>,
  contraryMs: number,
): boolean => saidOff !== null && saidOff.atMs >= contraryMs && !enteredPower(clock, saidOff.marks);
