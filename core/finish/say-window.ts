import type { UnitSystem } from '../units/unit-table.ts';
import type { Window } from './coated-window.ts';

/** Limits as they are read off a micrometer: in millimetres to a tenth of a micrometre; where it reads inches, those first. */
export function sayWindow({ lowM, highM }: Window, system: UnitSystem): string {
  const between = (perMetre: number, digits: number): string =>
    `${(lowM * perMetre).toFixed(digits)}-${(highM * perMetre).toFixed(digits)}`;
  const mm = `${between(1000, 4)} mm`;
  return system === 'us' ? `${between(1000 / 25.4, 5)} in (${mm})` : mm;
}
