import { deliveredCharge } from './delivered-charge.ts';
import type { Readings } from './readings.ts';

/** What a log that can be read has that no run has; it may be right all the same. */
export interface LogDoubt {
  readonly code: 'film-far-past' | 'readings-far-apart';
  readonly message: string;
  readonly remedy: string;
}

/** So many times the wanted charge is no run that went on a little longer. */
const FAR_PAST = 3;
/** A sheet asks for a reading every quarter of an hour at most (see reading-times.ts). */
const FAR_APART_S = 3600;
/** Below this share of the log's highest current none flows. */
const NO_CURRENT_SHARE = 0.02;

const CHECK = 'Check what the times are in (min:s, h:min), then the unit of the current, and the area.';

/**
 * A film many times the wanted one, and hours under current that nobody read.
 *
 * @param wantedC charge for the wanted film, C; null where not known
 */
export function logDoubts(readings: Readings, wantedC: number | null): LogDoubt[] {
  if (wantedC !== null && !(wantedC > 0)) throw new RangeError(`logDoubts: wantedC is ${wantedC}`);
  const doubts: LogDoubt[] = [];
  const { chargeC } = deliveredCharge(readings);
  const times = wantedC === null ? 0 : chargeC / wantedC;
  if (times > FAR_PAST) {
    doubts.push({
      code: 'film-far-past',
      message: `The charge of these readings is ${Number(times.toPrecision(2))} times that of the wanted film.`,
      remedy: CHECK,
    });
  }
  const { tS, currentA } = readings;
  const leastA = NO_CURRENT_SHARE * currentA.reduce((most, each) => Math.max(most, each), 0);
  let farthestS = 0;
  let fromS = 0;
  for (let i = 1; i < tS.length; i++) {
    const pauseS = tS[i]! - tS[i - 1]!;
    if (pauseS <= farthestS || !(currentA[i - 1]! > leastA && currentA[i]! > leastA)) continue;
    farthestS = pauseS;
    fromS = tS[i - 1]!;
  }
  if (farthestS > FAR_APART_S) {
    doubts.push({
      code: 'readings-far-apart',
      message: `Under current ${hours(farthestS)} h lie between two readings, from ${hours(fromS)} h on: nobody knows what flowed.`,
      remedy: 'Check what the times are in (min:s, h:min).',
    });
  }
  return doubts;
}

const hours = (seconds: number): string => String(Number((seconds / 3600).toPrecision(3)));
