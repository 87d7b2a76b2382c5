import { formatIn, formatNumber } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { RunRecord } from './run-record.ts';

/** So far a film may be off what the charge gives before the number is asked about: its range is a tenth, a part's own spread more. */
const FACTOR = 2.5;
/** A number typed in mil and meant in µm is off by this. */
const PER_MIL = 25.4;

export interface FilmDoubt {
  readonly reason: string;
  /** What was perhaps meant, m; null where that can not be said. */
  readonly meantM: number | null;
}

/**
 * Why a measured film looks wrong, against what the charge gives, or the plan where nothing was read; null where it does not.
 *
 * @param valueM the film as typed, m
 */
export function doubtFilm(
  valueM: number,
  { film, plan }: Pick<RunRecord, 'film' | 'plan'>,
  system: UnitSystem,
): FilmDoubt | null {
  if (!(valueM > 0)) throw new RangeError(`doubtFilm: valueM is ${valueM}`);
  const expectedM = film && film.valueM > 0 ? film.valueM : plan.thicknessM;
  const ratio = valueM / expectedM;
  if (ratio <= FACTOR && ratio >= 1 / FACTOR) return null;
  const unit = system === 'us' ? 'mil' : 'µm';
  const text = (metres: number): string => formatIn('length', metres, unit, 3).text;
  const by = film && film.valueM > 0 ? 'what the charge gives' : 'what was planned';
  const times = ratio > 1 ? `${formatNumber(ratio, 2)} times` : `only ${formatNumber(ratio * 100, 2)} % of`;
  const meantM = [valueM / PER_MIL, valueM * PER_MIL].find(
    (other) => other / expectedM <= FACTOR && other / expectedM >= 1 / FACTOR,
  );
  return { reason: `${text(valueM)} is ${times} ${by} (${text(expectedM)}).`, meantM: meantM ?? null };
}
