import type { Source } from '../figure/figure.ts';
import { CELL_VOLTAGE } from '../reference/cell-voltage-table.ts';
import { fitPowerLaw, slopeAt, type ElectrodeLaw } from './electrode-law.ts';

export interface FilmLaw {
  readonly law: ElectrodeLaw;
  readonly source: Source;
}

/**
 * The growing film: a power law through the handbook's cell voltages (about V ∝ j^0.47, so 0.052 V·m²/A at 1.3 A/dm²,
 * beside the 0.03-0.05 that shops see). The rows are whole cells: they hold half a volt or so of bath and cathode, which
 * is counted twice in the voltage and not at all in the distribution. Two or more of the shop's own readings at
 * different densities take the place of the book.
 */
export function filmLaw(
  ownReadings: readonly { readonly currentDensityAPerM2: number; readonly voltageV: number }[] = [],
): FilmLaw {
  const own = fitPowerLaw(ownReadings);
  if (own) {
    return {
      law: own,
      source: {
        standing: 'your own runs',
        text: `power law through ${ownReadings.length} of your own readings`,
      },
    };
  }
  const pairs = CELL_VOLTAGE.rows.map(([currentDensityAPerM2, voltageV]) => ({
    currentDensityAPerM2,
    voltageV,
  }));
  return {
    law: fitPowerLaw(pairs)!,
    source: { standing: CELL_VOLTAGE.source.standing, text: `power law through ${CELL_VOLTAGE.source.text}` },
  };
}

/** dU/dj of the film at a density, V·m²/A. */
export function filmSlope(film: FilmLaw, currentDensityAPerM2: number): number {
  return slopeAt(film.law, currentDensityAPerM2);
}

/**
 * Hydrogen at the cathode, linearised: 0.12 V per decade of density is 0.052 V per e-fold, over about 100 A/m²
 * (from memory of electrochemistry texts; lead and aluminium alike). Its rest voltage is left in the film's rows.
 */
export const CATHODE_LAW_DEFAULT: ElectrodeLaw = { kind: 'linear', restV: 0, slopeVM2PerA: 0.052 / 100 };
