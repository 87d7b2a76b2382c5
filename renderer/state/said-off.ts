import { enteredPower } from '../../core/run/power-span.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';

/** The supply that isn't there was switched off by hand: that is known before it is read. */
export const isSwitchedOff = ({ practise }: Pick<RunRecord, 'practise'>): boolean =>
  practise?.acts.findLast((act) => act.kind === 'power')?.on === false;

/**
 * Whether somebody who looked said that the supply is off, later than what was read to the contrary; going back to the power wants a
 * new word.
 */
export const isSaidOff = (
  { saidOff, clock }: Pick<RunRecord, 'saidOff' | 'clock'>,
  contraryMs: number,
): boolean => saidOff !== null && saidOff.atMs >= contraryMs && !enteredPower(clock, saidOff.marks);
