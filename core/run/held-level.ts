/**
 * The quantity the supply holds, freed of the meter's noise: the median of the last five minutes, until the newest
 * samples stand so far off it that the supply itself must have moved; then it starts again there. How far the newest
 * usually stand off is learnt, starting from half a per cent.
 */
export interface HeldLevel {
  /** `moved` at the sample that shows that the supply moved, a few samples after it did. */
  readonly add: (value: number) => { readonly level: number; readonly moved: boolean };
}

/** How many samples may have passed before a move shows. */
export const HELD_LEVEL_DELAY = 4;

const LONG = 60;
const SHORT = 5;
const PRIOR_RELATIVE_SD = 0.005;
const PRIOR_WEIGHT = 20;
const DEVIATIONS = 4;
const SMALLEST_MOVE = 0.01;

export function createHeldLevel(): HeldLevel {
  let recent: number[] = [];
  let sum = PRIOR_RELATIVE_SD ** 2 * PRIOR_WEIGHT;
  let count = PRIOR_WEIGHT;
  return {
    add: (value) => {
      recent.push(value);
      if (recent.length > LONG) recent.shift();
      const long = median(recent);
      if (recent.length <= SHORT) return { level: long, moved: false };
      const short = median(recent.slice(-SHORT));
      const away = Math.abs(short / long - 1);
      const sd = Math.sqrt(sum / count);
      if (away > Math.max(SMALLEST_MOVE, DEVIATIONS * sd)) {
        recent = recent.slice(-3);
        return { level: short, moved: true };
      }
      sum = sum * 0.995 + Math.min(away, 3 * sd) ** 2;
      count = count * 0.995 + 1;
      return { level: long, moved: false };
    },
  };
}

export function median(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
