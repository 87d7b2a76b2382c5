/**
 * Dips that can not all be right. That light falls steadily with the dye in the film is Lambert's and Beer's law; the series are drawn by it
 * (red, ln Y straight in a first-order uptake), and the wrong ones put in by hand.
 */
import { describe, expect, it } from 'vitest';
import type { Dip } from '../../../core/finish/colour-book.ts';
import { doubtDips } from '../../../core/finish/doubt-dips.ts';

type Noted = Parameters<typeof doubtDips>[0][number];

/** L* of a film that loses e^−2.2 of its light when full, half full after five minutes; CIE 1976. */
function lightness(minutes: number): number {
  const y = 0.56 * Math.exp(-2.2 * (1 - Math.exp((-Math.LN2 * minutes) / 5)));
  return 116 * Math.cbrt(y) - 16;
}
const dip = (minutes: number, more: Partial<Dip> = {}): Noted => ({
  timeS: minutes * 60,
  temperatureK: 333.15,
  thicknessM: 25e-6,
  alloy: '6061',
  ph: null,
  dyeKgPerM3: 5,
  colour: { l: lightness(minutes), a: 50 - 50 * Math.exp(-minutes / 4), b: 20 - 20 * Math.exp(-minutes / 4) },
  colourFrom: 'typed',
  ...more,
});
const series = [0, 1, 2, 4, 8, 12].map((minutes) => dip(minutes));
const lab = (l: number, a: number, b: number) => ({ colour: { l, a, b } });

describe('dips of one dye', () => {
  it('are not doubted where more time makes them darker, a camera’s few units aside', () => {
    expect(doubtDips(series)).toEqual([]);
    const late = series[5]!.colour;
    expect(doubtDips([...series, dip(14, lab(late.l + 4, late.a, late.b))])).toEqual([]);
    expect(doubtDips([])).toEqual([]);
  });

  it('a long one that is white is named alone, with one it contradicts', () => {
    const doubts = doubtDips([...series, dip(30, lab(94.8, 0, 0))]);
    expect(doubts).toHaveLength(1);
    expect(doubts[0]!.places).toEqual([6]);
    expect(doubts[0]!.message).toBe(
      `The dip of 30 min (L* 95, typed) contradicts 6 of your other dips: it came out lighter than the bare film (L* ${lightness(0).toFixed(0)}, typed), and more time in the dye makes no part lighter.`,
    );
  });

  it('one of an over-exposed photo beside its twin is named', () => {
    const doubts = doubtDips([...series, dip(8.01, { ...lab(68, 75, 38), colourFrom: 'photo' })]);
    expect(doubts.map(({ places }) => places)).toEqual([[6]]);
    expect(doubts[0]!.message).toContain('The dip of 8.01 min (L* 68, from a photo)');
  });

  it('two wrong ones are each named alone', () => {
    const doubts = doubtDips([...series, dip(25, lab(93, 0, 0)), dip(30, lab(94.8, 0, 0))]);
    expect(doubts.map(({ places }) => places)).toEqual([[6], [7]]);
  });

  it('of two alone nobody knows which is wrong: both are named', () => {
    const doubts = doubtDips([dip(8), dip(8, lab(80, 10, 5))]);
    expect(doubts.map(({ places }) => places)).toEqual([[0, 1]]);
    expect(doubts[0]!.message).toMatch(
      /^The dip of 8 min .* were dipped alike, and their colours are ΔE \d+ apart\.$/,
    );
    expect(doubts[0]!.remedy).toMatch(/^One of the two is wrong/);
  });

  it('one on a film a quarter thinner, far lighter than that explains, is named too', () => {
    const thin = { thicknessM: 20e-6, alloy: '7075' };
    expect(
      doubtDips([...series, dip(30, { ...lab(94.8, 0, 0), ...thin })]).map(({ places }) => places),
    ).toEqual([[6]]);
    const l = lightness(12);
    expect(doubtDips([...series, dip(14, { ...lab(l + 12, 50, 20), ...thin })])).toEqual([]);
  });

  it('of many that can not be three are told, in a moment', () => {
    const lightening = Array.from({ length: 200 }, (_, i) => dip(i + 1, lab(20 + i / 3, 0, 0)));
    const begun = performance.now();
    expect(doubtDips(lightening)).toHaveLength(3);
    expect(performance.now() - begun).toBeLessThan(2000);
  });

  it('of another film, alloy, strength, temperature or pH may differ as they like', () => {
    const pale = lab(80, 10, 5);
    const acid = dip(8, { ph: 4 });
    for (const other of [
      { thicknessM: 12e-6 },
      { alloy: '7075' },
      { dyeKgPerM3: 1 },
      { temperatureK: 313.15 },
      { ph: 6 },
    ]) {
      expect(doubtDips([acid, dip(8, { ...pale, ...other })])).toEqual([]);
    }
    // What nobody noted is no difference.
    expect(doubtDips([acid, dip(8, { ...pale, alloy: '', dyeKgPerM3: null })])).toHaveLength(1);
  });
});
