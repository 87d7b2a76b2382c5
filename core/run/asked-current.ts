import { isSetDown } from './watch-advice.ts';
import type { Readings } from './readings.ts';

/** A current that somebody was told to set. */
export interface AskedCurrent {
  /** When it was said, seconds of the run. */
  readonly atS: number;
  readonly toA: number;
  /** Nothing said since takes it back. */
  readonly stands: boolean;
}

/** What the readings show of it. */
export interface AskedAndDone extends AskedCurrent {
  /** What flowed when it was said, A. */
  readonly fromA: number;
  /** From here on it counts as done: since it was said, or since the last reading that still showed the old current. null while none shows it done. */
  readonly doneFromS: number | null;
}

/** Each with what became of it; one that asks for no less than flowed is left out. */
export function askedAndDone(readings: Readings, asked: readonly AskedCurrent[]): AskedAndDone[] {
  const { tS, currentA } = readings;
  return asked.flatMap((each, place) => {
    const { atS, toA } = each;
    const saidAt = tS.findLastIndex((readS) => readS <= atS);
    const fromA = currentA[saidAt];
    if (fromA === undefined || fromA <= toA) return [];
    const untilS = asked[place + 1]?.atS ?? Infinity;
    const after = tS.findIndex(
      (readS, i) => i > saidAt && readS <= untilS && isSetDown(currentA[i]!, toA, fromA),
    );
    const doneFromS = after < 0 ? null : Math.max(atS, tS[after - 1]!);
    return [{ ...each, fromA, doneFromS }];
  });
}
