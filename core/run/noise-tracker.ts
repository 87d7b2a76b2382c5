import { median } from './held-level.ts';

/**
 * How noisy a signal is, learnt from itself: differences from one sample to the next show the jumping part, differences
 * over about a minute what wanders besides. Both are clipped so that a step or a spoiled reading hardly counts, start
 * from a prior worth a few samples, and forget slowly.
 */
export interface NoiseEstimate {
  readonly whiteSd: number;
  readonly wanderSd: number;
}

export interface NoiseTracker {
  readonly add: (tS: number, value: number) => void;
  readonly estimate: () => NoiseEstimate;
  /** Forgets the last samples but not the deviations, after a step or a gap. */
  readonly cut: () => void;
}

/**
 * Deviation of the noise from sample to sample, from second differences: a straight line and a single step or spoiled reading leave
 * their median alone. 0 for fewer than three values.
 */
export function sampleNoise(values: ArrayLike<number>): number {
  const bends: number[] = [];
  for (let i = 1; i < values.length - 1; i++) {
    bends.push(Math.abs(values[i - 1]! - 2 * values[i]! + values[i + 1]!));
  }
  // The median of absolute values is 0.6745 deviations; a second difference has √6 of them.
  return bends.length === 0 ? 0 : median(bends) / 0.6745 / Math.sqrt(6);
}

export const WANDER_MEMORY_S = 45;
const LONG_S = 60;
const SHORT_WEIGHT = 12;
/** A prior weight in long differences; these overlap, so each counts for the share of LONG_S between samples. */
const LONG_WEIGHT = 4;
const FORGET_S = 1500;
const CLIP = 3.5;

export function createNoiseTracker(prior: NoiseEstimate): NoiseTracker {
  let shortSum = 2 * prior.whiteSd ** 2 * SHORT_WEIGHT;
  let shortCount = SHORT_WEIGHT;
  const longVariance =
    2 * prior.whiteSd ** 2 + 2 * prior.wanderSd ** 2 * (1 - Math.exp(-LONG_S / WANDER_MEMORY_S));
  let longSum = longVariance * LONG_WEIGHT;
  let longCount = LONG_WEIGHT;
  let stepS = 5;
  let recent: { tS: number; value: number }[] = [];
  return {
    add: (tS, value) => {
      const last = recent.at(-1);
      if (last) {
        const dt = tS - last.tS;
        if (dt > 0) stepS += 0.1 * (Math.min(dt, LONG_S) - stepS);
        const keep = Math.exp(-dt / FORGET_S);
        const shortLimit = CLIP ** 2 * (shortSum / shortCount);
        shortSum = shortSum * keep + Math.min((value - last.value) ** 2, shortLimit);
        shortCount = shortCount * keep + 1;
        while (recent.length > 1 && tS - recent[1]!.tS >= LONG_S) recent.shift();
        const far = recent[0]!;
        if (tS - far.tS >= LONG_S * 0.9) {
          const weight = Math.min(1, dt / LONG_S) * 2;
          const longLimit = CLIP ** 2 * (longSum / longCount);
          longSum = longSum * keep + weight * Math.min((value - far.value) ** 2, longLimit);
          longCount = longCount * keep + weight;
        }
      }
      recent.push({ tS, value });
    },
    estimate: () => {
      const short = shortSum / shortCount / 2;
      const long = longSum / longCount / 2;
      const shortShare = 1 - Math.exp(-stepS / WANDER_MEMORY_S);
      const longShare = 1 - Math.exp(-LONG_S / WANDER_MEMORY_S);
      // short = w² + c²·shortShare, long = w² + c²·longShare
      const wander = Math.max(0, (long - short) / Math.max(longShare - shortShare, 0.05));
      const white = Math.max(short - wander * shortShare, 0.1 * short);
      return { whiteSd: Math.sqrt(white), wanderSd: Math.sqrt(wander) };
    },
    cut: () => {
      recent = [];
    },
  };
}
