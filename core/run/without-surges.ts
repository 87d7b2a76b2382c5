import { median } from './held-level.ts';
import { sampleNoise } from './noise-tracker.ts';
import type { Sample } from './watch-trace.ts';

const HAND_MOVE = { least: 0.05, most: 0.25 } as const;
const HAND_DEVIATIONS = 5;
const HAND_SAMPLES = 6;
const HAND_SETTLES_S = 25;

/**
 * A setting raised by hand makes current or voltage overshoot for some seconds: these samples say nothing of the line. What stands
 * out is a rise of the current by much more than those before it and the meter's noise.
 */
export function withoutSurges(samples: readonly Sample[]): Sample[] {
  if (samples.length < 3) return [...samples];
  const current = samples.map(({ currentA }) => currentA);
  const rises = current.map((value, i) => (i === 0 ? 0 : value - current[i - 1]!));
  const noise = HAND_DEVIATIONS * Math.SQRT2 * sampleNoise(current);
  let movedS = -Infinity;
  return samples.filter(({ tS, currentA }, i) => {
    const before = rises.slice(Math.max(1, i - HAND_SAMPLES), i);
    const usual = before.length === 0 ? rises[i]! : Math.max(0, median(before));
    const clear = Math.max(HAND_MOVE.least * currentA, Math.min(noise, HAND_MOVE.most * currentA));
    if (rises[i]! > 3 * usual + clear) movedS = tS;
    return tS > movedS + HAND_SETTLES_S;
  });
}
