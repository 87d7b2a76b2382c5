import { sampleNoise } from './noise-tracker.ts';
import type { Readings } from './readings.ts';

/** What a current read off a display is off by, share (common practice). */
export const READ_OFF = 0.01;
/** So many deviations from the rest are no noise any more. */
export const STEP_DEVIATIONS = 2.5;

/**
 * Tells from noise where the current stepped: between reading `i − 1` and `i`, for `i` from 1 on. The noise is the readings' own, and
 * no smaller than what a display is off by.
 */
export function currentStepFinder({ currentA }: Pick<Readings, 'currentA'>): (i: number) => boolean {
  const noiseA = sampleNoise(currentA);
  return (i) => {
    const [before, after] = [currentA[i - 1]!, currentA[i]!];
    const sdA = Math.max(noiseA, READ_OFF * Math.max(Math.abs(before), Math.abs(after)));
    return Math.abs(after - before) > STEP_DEVIATIONS * Math.SQRT2 * sdA;
  };
}
