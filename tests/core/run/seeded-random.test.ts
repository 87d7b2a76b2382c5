import { describe, expect, it } from 'vitest';
import { randomFromState, seededRandom } from '../../../core/run/seeded-random.ts';

describe('seededRandom', () => {
  it('is xoshiro128**: the reference vector for the state 1, 2, 3, 4', () => {
    // From the authors' C code, as kept in the test of the rand_xoshiro library.
    const { uint32 } = randomFromState([1, 2, 3, 4]);
    expect(Array.from({ length: 10 }, uint32)).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
    ]);
  });

  it('is even: chi-square over 100 bins', () => {
    const { unit } = seededRandom(7);
    const bins = new Float64Array(100);
    for (let i = 0; i < 100_000; i++) bins[Math.floor(unit() * 100)]! += 1;
    const chi = bins.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
    // 99 degrees of freedom: mean 99, deviation 14; four deviations either way.
    expect(Math.abs(chi - 99)).toBeLessThan(4 * Math.sqrt(198));
  });

  it('is normal: mean, variance, kurtosis', () => {
    const { normal } = seededRandom(11);
    const n = 200_000;
    let [m1, m2, m4] = [0, 0, 0];
    for (let i = 0; i < n; i++) {
      const x = normal();
      m1 += x / n;
      m2 += x ** 2 / n;
      m4 += x ** 4 / n;
    }
    // Standard errors 1/√n, √(2/n), √(96/n); four of each.
    expect(Math.abs(m1)).toBeLessThan(4 / Math.sqrt(n));
    expect(Math.abs(m2 - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
    expect(Math.abs(m4 - 3)).toBeLessThan(4 * Math.sqrt(96 / n));
  });

  it('gives the same again for a seed, and other numbers for its neighbour', () => {
    const take = (seed: number): number[] => Array.from({ length: 5 }, seededRandom(seed).uint32);
    expect(take(3)).toEqual(take(3));
    expect(take(3)).not.toEqual(take(4));
    expect(() => seededRandom(-1)).toThrow(RangeError);
    expect(() => randomFromState([0, 0, 0, 0])).toThrow(RangeError);
  });
});
