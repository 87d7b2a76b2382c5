import { describe, expect, it } from 'vitest';
import { deliveredCharge } from '../../../core/run/delivered-charge.ts';
import { gapFinder } from '../../../core/run/reading-gaps.ts';
import { readingsFrom, type ReadingOrigin } from '../../../core/run/readings.ts';

const at = (timesS: readonly number[], origin: ReadingOrigin, currentA = 3) =>
  readingsFrom(
    timesS.map((tS) => ({ tS, voltageV: 15, currentA })),
    origin,
  );
const gapsOf = (timesS: readonly number[], origin: ReadingOrigin): number[] => {
  const isGap = gapFinder(at(timesS, origin));
  return timesS.flatMap((_, i) => (i > 0 && isGap(i) ? [i] : []));
};

describe('pauses between readings', () => {
  it('typed often in the ramp, then as the sheet has it, are none: 3 A from minute 5 to 63', () => {
    const ramp = Array.from({ length: 11 }, (_, i) => i * 30);
    const hold = [10, 20, 30, 40, 50, 60, 63].map((minute) => minute * 60);
    expect(gapsOf([...ramp, ...hold], 'typed')).toEqual([]);
    // By hand: 3 A · 58 min.
    expect(deliveredCharge(at([...ramp, ...hold], 'typed'), { fromS: 300 }).chargeC).toBeCloseTo(10_440, 9);
    // At each moment on the way too, when the newest pause is the first long one.
    for (let count = 1; count <= hold.length; count++)
      expect(gapsOf([...ramp, ...hold.slice(0, count)], 'typed')).toEqual([]);
  });

  it('typed and then nothing for 40 minutes is one', () => {
    expect(gapsOf([0, 300, 600, 3000, 3300], 'typed')).toEqual([3]);
  });

  it('a supply read every two seconds that is silent for five minutes is one, at once and later', () => {
    const before = [0, 2, 4, 6, 8];
    expect(gapsOf([...before, 308], 'supply')).toEqual([5]);
    expect(gapsOf([...before, 308, 310, 312], 'supply')).toEqual([5]);
  });

  it('readings typed every five minutes while its line is down carry on, those of the line stay what they are', () => {
    const before = Array.from({ length: 100 }, (_, i) => i * 2);
    const typed = [500, 800, 1100, 1400];
    const after = Array.from({ length: 100 }, (_, i) => 1700 + i * 2);
    expect(gapsOf([...before, ...typed, ...after], 'supply')).toEqual([]);
    expect(gapsOf([...before, 500, ...after], 'supply')).toEqual([100, 101]);
  });

  it('a log every ten minutes is whole', () => {
    expect(gapsOf([0, 600, 1200, 1800], 'log')).toEqual([]);
  });
});
