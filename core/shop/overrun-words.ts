import type { HoldOverrun } from '../run/hold-overrun.ts';
import { formatIn } from '../units/format-quantity.ts';
import { timerText, timerUnit } from '../units/timer-text.ts';
import type { UnitSystem } from '../units/unit-table.ts';

/** A reading so near the end, s, tells of it. */
const READ_S = 60;

/** What a hold that went on too long came to, and what that means for the part. */
export function overrunWords(
  { overS, filmM, unreadS }: HoldOverrun,
  wantedM: number,
  system: UnitSystem,
): { readonly message: string; readonly remedy: string } {
  const film = (valueM: number): string => formatIn('length', valueM, system === 'us' ? 'mil' : 'µm', 3).text;
  const time = (seconds: number): string => `${timerText(seconds)} ${timerUnit(seconds)}`;
  const came = `the film came to ${film(filmM)}, ${film(filmM - wantedM)} more than wanted`;
  return {
    message:
      unreadS > READ_S
        ? `The hold went on ${time(overS)} past its end: with the current that was read last ${came}. Nothing was read for the last ${time(unreadS)}; had the power gone off sooner, it is less.`
        : `The hold went on ${time(overS)} past its end: ${came}.`,
    remedy: 'Half of it stands on the surface: measure fits and threads before they are joined.',
  };
}
