/**
 * Random numbers that can be had again: xoshiro128** (Blackman and Vigna, “Scrambled linear pseudorandom number
 * generators”, ACM TOMS 47, 2021), state filled from a 32-bit seed by SplitMix-style mixing.
 */
export interface SeededRandom {
  /** Whole number, 0 … 2³² − 1. */
  readonly uint32: () => number;
  /** Even on [0, 1). */
  readonly unit: () => number;
  /** Even on [low, high). */
  readonly between: (low: number, high: number) => number;
  /** Normal, mean 0, deviation 1 (polar method of Marsaglia). */
  readonly normal: () => number;
}

const rotate = (x: number, k: number): number => (x << k) | (x >>> (32 - k));

/** Throws RangeError when all four words of the state are zero. */
export function randomFromState(state: readonly [number, number, number, number]): SeededRandom {
  let [a, b, c, d] = state.map((word) => word | 0) as [number, number, number, number];
  if ((a | b | c | d) === 0) throw new RangeError('randomFromState: state is all zero');
  let spare: number | undefined;
  const uint32 = (): number => {
    const result = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = rotate(d, 11);
    return result;
  };
  const unit = (): number => uint32() / 4294967296;
  const normal = (): number => {
    if (spare !== undefined) {
      const value = spare;
      spare = undefined;
      return value;
    }
    for (;;) {
      const u = 2 * unit() - 1;
      const v = 2 * unit() - 1;
      const s = u * u + v * v;
      if (s >= 1 || s === 0) continue;
      const factor = Math.sqrt((-2 * Math.log(s)) / s);
      spare = v * factor;
      return u * factor;
    }
  };
  return { uint32, unit, between: (low, high) => low + (high - low) * unit(), normal };
}

/** @param seed whole number, 0 … 2³² − 1 */
export function seededRandom(seed: number): SeededRandom {
  if (!(Number.isInteger(seed) && seed >= 0 && seed <= 0xffffffff)) {
    throw new RangeError(`seededRandom: seed is ${seed}`);
  }
  let mix = seed | 0;
  const word = (): number => {
    mix = (mix + 0x9e3779b9) | 0;
    let z = mix;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return z ^ (z >>> 15);
  };
  return randomFromState([word(), word(), word(), word() | 1]);
}
