import { describe, expect, it } from 'vitest';
import { evenRamp } from '../../../core/run/even-ramp.ts';
import { seededRandom } from '../../../core/run/seeded-random.ts';
import type { Sample } from '../../../core/run/watch-trace.ts';

/** Voltages that are known exactly, read every 5 s; what is found is compared with them. */
const read = (voltageAt: (tS: number) => number, noise = 0, count = 30, seed = 3): Sample[] => {
  const { normal } = seededRandom(seed);
  return Array.from({ length: count }, (_, i) => {
    const voltageV = voltageAt(5 * i) * (1 + noise * normal());
    return {
      tS: 5 * i,
      voltageV,
      currentA: 1,
      heldV: voltageV,
      heldA: 1,
      kelvin: undefined,
      chargePerAreaC: 0,
      x: 0,
      level: 0,
    };
  });
};

describe('a voltage that is raised evenly and then held', () => {
  it('is found exactly where nothing disturbs the readings', () => {
    const voltageAt = (tS: number): number => 6 + 0.05 * Math.min(tS, 100);
    const even = evenRamp(read(voltageAt))!;
    even.voltageV.forEach((v, i) => expect(v).toBeCloseTo(voltageAt(5 * i), 9));
    expect(even.end!.atS).toBe(100);
  });

  it('and without an end while it goes on, or when it was over before', () => {
    expect(evenRamp(read((tS) => 6 + 0.05 * tS))!.end).toBeUndefined();
    expect(evenRamp(read(() => 14))!.end).toBeUndefined();
  });

  it('is known better than any one reading: to a third of their noise, and its end to a few deviations', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const voltageAt = (tS: number): number => 9 + 0.04 * Math.min(tS, 90);
      const even = evenRamp(read(voltageAt, 0.01, 30, seed))!;
      const off = even.voltageV.map((v, i) => v - voltageAt(5 * i));
      // Three parameters from 30 readings of 0.12 V: √(3/30) of it on average, not twice that.
      expect(Math.hypot(...off) / Math.sqrt(30)).toBeLessThan(2 * 0.12 * Math.sqrt(3 / 30));
      expect(Math.abs(even.end!.atS - 90)).toBeLessThan(4 * even.end!.sdS);
    }
  });

  it.each([
    ['in steps of two volts each minute', (tS: number): number => 8 + 2 * Math.floor(tS / 60)],
    ['up and down again', (tS: number): number => 10 + 0.05 * Math.min(tS, 150 - tS)],
  ])('is not one set by hand %s', (_, voltageAt) => {
    expect(evenRamp(read(voltageAt, 0.005))).toBeUndefined();
  });
});
