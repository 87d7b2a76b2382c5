import { sampleNoise } from './noise-tracker.ts';
import type { Readings } from './readings.ts';

/** What a current read off a display is off by, share (common practice). */
export const READ_OFF = 0.01;
/** So many deviations from the rest are no noise any more. */
export const STEP_DEVIATIONS = 2.5;

/** The newest readings that tell the noise; more only take longer. */
const ENOUGH = 1000;

/**
 * Deviation of the current's noise, A, of readings from `from` on. Of typed ones 0: they are few, and a step in every other one would pass for noise; the
 * caller grants what a display is off by.
 */
export function currentNoiseA({ currentA, origin }: Pick<Readings, 'currentA' | 'origin'>, from = 0): number {
  return origin === 'typed' ? 0 : sampleNoise(currentA.subarray(Math.max(from, currentA.length - ENOUGH)));
}

/**
 * Tells from noise where the current stepped: between reading `i − 1` and `i`, for `i` from 1 on. The noise is the readings' own, and
 * no smaller than what a display is off by.
 */
export function currentStepFinder(readings: Pick<Readings, 'currentA' | 'origin'>): (i: number) => boolean {
  const { currentA } = readings;
  const noiseA = currentNoiseA(readings);
  return (i) => {
    const [before, after] = [currentA[i - 1]!, currentA[i]!];
    const sdA = Math.max(noiseA, READ_OFF * Math.max(Math.abs(before), Math.abs(after)));
    return Math.abs(after - before) > STEP_DEVIATIONS * Math.SQRT2 * sdA;
  };
}
