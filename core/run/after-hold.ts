import type { WatchKind } from './watch-event.ts';

/**
 * What is left to do about something the watch said, once the hold is over; null where what it says anyway still holds. A lost
 * contact then is a matter of the part alone: its oxide lets no new contact through.
 *
 * @param knownOff whether the supply is known to be off
 * @param back whether the contact came back
 */
export function afterHoldRemedy(kind: WatchKind, knownOff: boolean, back: boolean): string | null {
  const todo = back ? 'measure the film of what had let go before you dye.' : AFTER_HOLD[kind];
  if (todo === undefined) return null;
  if (kind === 'supply-off') return todo;
  return knownOff ? `The power is off now: ${todo}` : `Switch the supply off first, then look: ${todo}`;
}

const LOST = 'find what let go and measure it; it must be stripped and done again, alone.';

const AFTER_HOLD: Partial<Record<WatchKind, string>> = {
  'contact-lost': LOST,
  'contact-drift': LOST,
  'contact-loose': LOST,
  'contact-total': LOST,
  short: 'part what touches and look for burnt spots.',
  burning: 'where dark or powdery spots show, strip and redo at a lower density.',
  'voltage-high': 'measure every part; one that never had contact has no film and can have a run of its own.',
  'reading-doubtful': 'measure the film of every part before you dye.',
  'supply-off': 'The hold is over: no new ramp.',
};
