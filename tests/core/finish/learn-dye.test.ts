import { expect, it } from 'vitest';
import { labFromXyz } from '../../../core/finish/colour.ts';
import { learnDye } from '../../../core/finish/learn-dye.ts';

/** Dips drawn by the first-order law itself: X, Y, Z fall by e^(−3u), u = 1 − e^(−kt), from a bare film of 0.6. */
const K_PER_S = 0.005;
const dip = (timeS: number, off = 0) => {
  const taken = 1 - Math.exp(-K_PER_S * timeS);
  const [x, y, z] = [0.58, 0.6, 0.65].map((bare, i) => bare * Math.exp(-(3 - 0.5 * i) * taken));
  const lab = labFromXyz({ x: x!, y: y!, z: z! });
  return {
    timeS,
    temperatureK: 333.15,
    thicknessM: 15e-6,
    colour: { ...lab, l: lab.l + off },
  };
};
const TIMES = [0, 30, 60, 120, 240, 480, 900];

it('finds the half time that the dips were drawn with: ln 2 / k', () => {
  const learnt = learnDye(TIMES.map((timeS) => dip(timeS)));
  if (learnt.state !== 'offered') throw new Error(learnt.message);
  const [half] = learnt.figures;
  expect(learnt.value.model).toBe('first order');
  expect(half!.valueSi).toBeCloseTo(Math.LN2 / K_PER_S, 0);
  expect(half!.lowSi).toBeLessThanOrEqual(half!.valueSi);
  expect(half!.highSi).toBeGreaterThanOrEqual(half!.valueSi);
  expect(learnt).toMatchObject({ count: TIMES.length, outliers: [] });
});

it('names the dip that is far off, and says when there are too few', () => {
  const learnt = learnDye([...TIMES.map((timeS) => dip(timeS)), dip(120, 30)]);
  expect(learnt.state === 'offered' && learnt.outliers).toContain(TIMES.length);
  expect(learnDye([dip(60), dip(120)])).toMatchObject({ state: 'too-little', count: 2, needed: 3 });
});
