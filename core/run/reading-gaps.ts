import type { Readings } from './readings.ts';

/** No pause up to this is a gap, however close the readings are otherwise. */
export const SHORTEST_GAP_S = 60;
/** Of the usual interval around a pause. */
const USUAL_INTERVALS = 3;
/** Intervals on each side of a pause that say what is usual there. */
const BESIDE = 2;
/**
 * By hand readings come when there is time for them: often in the ramp, seldom in the hold. Twice the longest interval of the
 * sheet's table (see reading-times.ts).
 */
const SHORTEST_TYPED_GAP_S = 1800;

/**
 * Tells which pauses between readings are gaps, of which nothing is known: longer than a minute (half an hour where all
 * readings are typed) and than three times the usual interval there, the median of the five around it. By the place and not
 * by the whole run, since readings typed while a supply's line is down come minutes apart amid others of seconds.
 * @returns whether the pause before reading `i`, from 1 on, is one
 */
export function gapFinder({ tS, origin }: Readings): (i: number) => boolean {
  const shortestS = origin === 'typed' ? SHORTEST_TYPED_GAP_S : SHORTEST_GAP_S;
  return (i) => {
    const pauseS = tS[i]! - tS[i - 1]!;
    if (pauseS <= shortestS) return false;
    const around: number[] = [];
    for (let k = Math.max(1, i - BESIDE); k <= Math.min(tS.length - 1, i + BESIDE); k++)
      around.push(tS[k]! - tS[k - 1]!);
    around.sort((a, b) => a - b);
    // Of an even number the smaller one in the middle: at the newest reading the time before it is known better.
    return pauseS > USUAL_INTERVALS * around[(around.length - 1) >> 1]!;
  };
}
