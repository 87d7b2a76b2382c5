import { currentPath, type PathOptions } from './current-path.ts';
import type { Readings } from './readings.ts';

/** Share of the area with contact at a moment; 0 where what flows makes no film. */
export type ShareAt = (tS: number) => number;

/**
 * When the charge on the live area reached the wanted one, seconds of the run: within the interval of two readings by the current's
 * straight line. The last reading's time where it is reached only there; null where it is not reached at all.
 *
 * @param wantedC with the whole area in contact
 * @param options as `currentPath` has them
 */
export function wantedSinceS(
  readings: Readings,
  wantedC: number,
  shareAt: ShareAt,
  options: Pick<PathOptions, 'toldS' | 'rampS'> = {},
): number | null {
  let sumC = 0;
  for (const { fromS, toS, currentA, isGap } of currentPath(readings, options)) {
    const [i0, i1] = currentA;
    const share = shareAt((fromS + toS) / 2);
    const span = toS - fromS;
    if (share === 0 || isGap) continue;
    const moreC = (((i0 + i1) / 2) * span) / share;
    if (sumC + moreC < wantedC) {
      sumC += moreC;
      continue;
    }
    // i0 · t + (i1 − i0) · t² / (2 · span) = what is missing.
    const missingC = (wantedC - sumC) * share;
    const slope = (i1 - i0) / span;
    const root = Math.sqrt(Math.max(0, i0 * i0 + 2 * slope * missingC));
    return fromS + (i0 + root > 0 ? Math.min(span, (2 * missingC) / (i0 + root)) : span);
  }
  return null;
}
