/** Film of a hold that went on too long, by hand: d = I · t / (k · A), 4 A on 0.04 m² at 1.8e10 C/m³ are 5.556 nm/s. */
import { describe, expect, it } from 'vitest';
import { holdOverrun } from '../../../core/run/hold-overrun.ts';
import type { LiveSpan } from '../../../core/run/live-spans.ts';
import { readingsFrom } from '../../../core/run/readings.ts';
import { runProgress } from '../../../core/run/run-progress.ts';
import { overrunWords } from '../../../core/shop/overrun-words.ts';

const plan = {
  areaM2: 0.04,
  thicknessM: 25e-6,
  currentDensityAPerM2: 100,
  chargePerVolumeCPerM3: 1.8e10,
  chargeRelativeUncertainty: 0.1,
  chargeSource: { standing: 'published', text: '' },
  rampS: 0,
} as const;
const MORE_M_PER_S = 4 / (1.8e10 * 0.04);

/** 4 A from zero on, read every 100 s; 25 µm are there after 4500 s. */
const over = (readToS: number, offS: number, live: readonly LiveSpan[] = []) => {
  const list = Array.from({ length: readToS / 100 + 1 }, (_, i) => ({
    tS: 100 * i,
    voltageV: 15,
    currentA: 4,
  }));
  const progress = runProgress(readingsFrom(list, 'typed'), plan, {}, live);
  return holdOverrun(progress, plan, live, { lastS: readToS, offS });
};

describe('a hold that went on past its end', () => {
  it('read to the last has the film its charge gives', () => {
    const found = over(5400, 5400)!;
    expect(found.overS).toBeCloseTo(900, 6);
    expect(found.unreadS).toBe(0);
    expect(found.filmM).toBeCloseTo(25e-6 + 900 * MORE_M_PER_S, 12);
  });

  it('read no more before or after its end goes on at the current that was read last', () => {
    for (const readToS of [3000, 4800]) {
      const found = over(readToS, 5400)!;
      expect(found.overS).toBeCloseTo(900, 6);
      expect(found.unreadS).toBeCloseTo(5400 - readToS, 6);
      expect(found.filmM).toBeCloseTo(25e-6 + 900 * MORE_M_PER_S, 12);
    }
  });

  it('grows as much faster as less of the area has contact', () => {
    // Half of it from the start on: there after 2250 s, and 900 s more give twice as much.
    const half = [{ fromS: 0, low: 0.5, likely: 0.5, high: 0.5 }];
    const found = over(2000, 3150, half)!;
    expect(found.overS).toBeCloseTo(900, 6);
    expect(found.filmM).toBeCloseTo(25e-6 + 2 * 900 * MORE_M_PER_S, 12);
  });

  it('says nothing of a hold ended before its time, on it, or by a little more', () => {
    expect(over(4400, 4400)).toBeNull();
    expect(over(4400, 4500)).toBeNull();
    expect(over(4500, 4560)).toBeNull();
  });

  it('in words: how long, what film, how much too much, and what nobody read', () => {
    const words = overrunWords(over(4400, 5400)!, plan.thicknessM, 'metric');
    expect(words.message).toBe(
      'The hold went on 15:00 min:s past its end: with the current that was read last the film came to 30.0 µm, 5.00 µm more than wanted. Nothing was read for the last 16:40 min:s; had the power gone off sooner, it is less.',
    );
    expect(overrunWords(over(5400, 5400)!, plan.thicknessM, 'us').message).toBe(
      'The hold went on 15:00 min:s past its end: the film came to 1.18 mil, 0.197 mil more than wanted.',
    );
  });
});
