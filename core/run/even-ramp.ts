import { sampleNoise } from './noise-tracker.ts';
import { passOverSpoiled } from './spoiled-reading.ts';
import type { Sample } from './watch-trace.ts';

/**
 * The voltage of a supply that ramps it evenly and then holds it, as all readings of a window together show it: a straight line, and a
 * level from its end on.
 */
export interface EvenRamp {
  /** Of each sample, V. */
  readonly voltageV: Float64Array;
  /** What a reading may be off it, V. */
  readonly noiseV: number;
  /** When the ramp ended, with its deviation, seconds of the run; undefined where it still goes on, or was over before. */
  readonly end: { readonly atS: number; readonly sdS: number } | undefined;
}

/** Readings may lie off the line by so many times their noise from one to the next: more of it wanders, or was set by hand. */
const UNEVEN = 3;
const LEAST_NOISE = 0.003;
const FEWEST = 8;
/** The end of the ramp is looked for at so many places from one sample to the next. */
const PLACES = 2;

/** undefined where the voltage does not go so: it is set by hand. */
export function evenRamp(window: readonly Sample[]): EvenRamp | undefined {
  const n = window.length;
  if (n < FEWEST) return undefined;
  const readV = Float64Array.from(window, ({ voltageV }) => voltageV);
  const level = readV.reduce((sum, v) => sum + v, 0) / n;
  const noiseV = Math.max(sampleNoise(readV), LEAST_NOISE * level);
  passOverSpoiled(readV, noiseV);
  let best = fitUpTo(window, readV, Infinity);
  for (let i = 1; i < n - 1; i++) {
    for (let place = 0; place < PLACES; place++) {
      const atS = window[i]!.tS + (place / PLACES) * (window[i + 1]!.tS - window[i]!.tS);
      const fit = fitUpTo(window, readV, atS);
      if (fit.squares < best.squares) best = fit;
    }
  }
  const offV = Math.sqrt(best.squares / (n - 3));
  if (offV > UNEVEN * noiseV) return undefined;
  const offNoise = Math.max(noiseV, offV);
  const { perS, endS, meanV, meanS } = best;
  const voltageV = Float64Array.from(window, ({ tS }) => meanV + perS * (Math.min(tS, endS) - meanS));
  const end = endS < Infinity && perS > 0 ? { atS: endS, sdS: offNoise / perS } : undefined;
  return { voltageV, noiseV: offNoise, end };
}

interface Fit {
  readonly meanV: number;
  readonly meanS: number;
  readonly perS: number;
  readonly endS: number;
  readonly squares: number;
}

/** Least squares of v = a + b · min(t, end). */
function fitUpTo(window: readonly Sample[], readV: Float64Array, endS: number): Fit {
  const n = window.length;
  let meanS = 0;
  let meanV = 0;
  for (let i = 0; i < n; i++) {
    meanS += Math.min(window[i]!.tS, endS) / n;
    meanV += readV[i]! / n;
  }
  let tt = 0;
  let tv = 0;
  let vv = 0;
  for (let i = 0; i < n; i++) {
    const t = Math.min(window[i]!.tS, endS) - meanS;
    const v = readV[i]! - meanV;
    tt += t * t;
    tv += t * v;
    vv += v * v;
  }
  const perS = tt > 0 ? tv / tt : 0;
  return { meanV, meanS, perS, endS, squares: vv - perS * tv };
}
