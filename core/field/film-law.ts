import type { Source } from '../figure/figure.ts';
import { CELL_VOLTAGE } from '../reference/cell-voltage-table.ts';
import { fitPowerLaw, slopeAt, voltageAt, type ElectrodeLaw } from './electrode-law.ts';

interface CellReading {
  readonly currentDensityAPerM2: number;
  readonly voltageV: number;
}

export interface FilmLaw {
  readonly law: ElectrodeLaw;
  /** How far a cell's voltage may lie from the law, V. */
  readonly uncertaintyV: number;
  readonly source: Source;
}

/**
 * Hydrogen at the cathode, linearised: 0.12 V per decade of density is 0.052 V per e-fold, over about 100 A/m²
 * (from memory of electrochemistry texts; lead and aluminium alike). Its rest voltage is left in the film's rows.
 */
const CATHODE_SLOPE_OHM_M2 = 0.052 / 100;
export const CATHODE_LAW_DEFAULT: ElectrodeLaw = {
  kind: 'linear',
  restV: 0,
  slopeVM2PerA: CATHODE_SLOPE_OHM_M2,
};

/**
 * What a usual cell loses outside of the film, V per A/m²: 150 mm of liquid between part and sheet (common practice 150-200 mm)
 * at the 59 S/m of 165 g/L and 20 °C, and the cathode. At 1.3 A/dm² 0.4 V, against the ±2 V of the rows.
 */
export const BATH_AND_CATHODE_OHM_M2 = 0.15 / 59 + CATHODE_SLOPE_OHM_M2;
const BATH_TEXT = 'what 150 mm of bath and the cathode take';

/** A shop's own voltage is not known better: meters, warmth and age of the bath (common practice). */
const LEAST_OWN_V = 0.5;

/** The film's part of a whole cell's voltage. */
function filmAlone({ currentDensityAPerM2, voltageV }: CellReading): CellReading {
  return { currentDensityAPerM2, voltageV: voltageV - BATH_AND_CATHODE_OHM_M2 * currentDensityAPerM2 };
}

/**
 * The growing film: a power law through the handbook's cell voltages (about V ∝ j^0.47, so 0.052 V·m²/A at 1.3 A/dm²,
 * beside the 0.03-0.05 that shops see). Rows and readings are of whole cells: what bath and cathode take of them, which the
 * solver adds again for the tank at hand, is taken off first (BATH_AND_CATHODE_OHM_M2). Two or more of the shop's own readings
 * at different densities take the place of the book.
 */
export function filmLaw(ownReadings: readonly CellReading[] = []): FilmLaw {
  const own = fitPowerLaw(ownReadings.map(filmAlone));
  if (own) {
    return {
      law: own,
      uncertaintyV: Math.max(
        LEAST_OWN_V,
        ...ownReadings
          .map(filmAlone)
          .map(({ currentDensityAPerM2: j, voltageV }) => Math.abs(voltageV - voltageAt(own, j))),
      ),
      source: {
        standing: 'your own runs',
        text: `power law through ${ownReadings.length} of your own readings, less ${BATH_TEXT}`,
      },
    };
  }
  const pairs = CELL_VOLTAGE.rows.map(([currentDensityAPerM2, voltageV]) =>
    filmAlone({ currentDensityAPerM2, voltageV }),
  );
  return {
    law: fitPowerLaw(pairs)!,
    uncertaintyV: Math.max(...CELL_VOLTAGE.rows.map(([, , uncertaintyV]) => uncertaintyV)),
    source: {
      standing: CELL_VOLTAGE.source.standing,
      text: `power law through ${CELL_VOLTAGE.source.text}, less ${BATH_TEXT}`,
    },
  };
}

/** dU/dj of the film at a density, V·m²/A. */
export function filmSlope(film: FilmLaw, currentDensityAPerM2: number): number {
  return slopeAt(film.law, currentDensityAPerM2);
}
