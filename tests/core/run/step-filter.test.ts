import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../core/run/seeded-random.ts';
import { stepFilters } from '../../../core/run/step-filter.ts';

const times = Float64Array.from({ length: 30 }, (_, i) => 5 * i);
const noise = { whiteSd: 1, wanderSd: 0.8, memoryS: 45, slopeSdPerS: 0.002 };
const apply = (weights: Float64Array, x: readonly number[]): number =>
  weights.reduce((sum, weight, i) => sum + weight * x[i]!, 0);

describe('stepFilters', () => {
  it('with white noise alone is the difference of two means', () => {
    // Textbook: variance σ²/m + σ²/(n − m).
    const bank = stepFilters(times, [10], { whiteSd: 2, wanderSd: 0, memoryS: 45, slopeSdPerS: 0 });
    // The level is left free by a wide prior, not infinitely: 1e-6 of the variance.
    expect(bank.deviations[0]!).toBeCloseTo(2 * Math.sqrt(1 / 10 + 1 / 20), 4);
    expect(bank.weights[0]![0]!).toBeCloseTo(-1 / 20, 4);
    expect(bank.weights[0]![29]!).toBeCloseTo(1 / 10, 4);
  });

  it('gives back a step exactly and hardly sees a level', () => {
    const bank = stepFilters(times, [2, 6, 12], noise);
    bank.lags.forEach((lag, k) => {
      expect(
        apply(
          bank.weights[k]!,
          Array.from(times, (_, i) => (i >= 30 - lag ? -0.25 : 0)),
        ),
      ).toBeCloseTo(-0.25, 10);
      expect(
        Math.abs(
          apply(
            bank.weights[k]!,
            Array.from(times, () => 1),
          ),
        ),
      ).toBeLessThan(1e-4);
    });
  });

  it('scatters by the deviation it promises', () => {
    const bank = stepFilters(times, [6], noise);
    const { normal } = seededRandom(5);
    const keep = Math.exp(-5 / noise.memoryS);
    const trials = 4000;
    let squares = 0;
    for (let trial = 0; trial < trials; trial++) {
      const slope = noise.slopeSdPerS * normal();
      let wander = noise.wanderSd * normal();
      const x = Array.from(times, (tS) => {
        wander = wander * keep + noise.wanderSd * Math.sqrt(1 - keep * keep) * normal();
        return 7 + slope * tS + wander + noise.whiteSd * normal();
      });
      squares += apply(bank.weights[0]!, x) ** 2;
    }
    // Standard error of a deviation from 4000 trials: 1/√8000 = 1.1 %; four of them.
    expect(Math.sqrt(squares / trials) / bank.deviations[0]!).toBeCloseTo(1, 1);
    expect(Math.abs(Math.sqrt(squares / trials) / bank.deviations[0]! - 1)).toBeLessThan(0.045);
  });

  it('refuses lags that leave nothing to compare', () => {
    expect(() => stepFilters(times, [29], noise)).toThrow(RangeError);
    expect(() => stepFilters(times, [3], { ...noise, whiteSd: 0 })).toThrow(RangeError);
  });
});
