import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dipSchema, dyeSchema } from '../../../core/finish/colour-book.ts';
import { deltaE2000, labFromXyz, type Lab } from '../../../core/finish/colour.ts';
import { dyeAgeing } from '../../../core/finish/dye-ageing.ts';
import { dyeMessages, scaleDye } from '../../../core/finish/dye-recipe.ts';
import { fitUptake, predictColour, type DipPoint } from '../../../core/finish/fit-uptake.ts';
import { timeForColour } from '../../../core/finish/time-for-colour.ts';
import { UPTAKE_MODELS, uptake, type UptakeModel } from '../../../core/finish/uptake-models.ts';
import { DYE_ACTIVATION } from '../../../core/reference/dye-practice.ts';
import { valueOf } from '../value-of.ts';

describe('uptake of dye', () => {
  it.each([
    [0.05, 0.2523],
    [0.1, 0.3568],
    [0.2, 0.5041],
    [0.5, 0.764],
    [1.0, 0.9313],
  ])('diffusion at D·t/L² = %d is %d (Crank)', (theta, expected) => {
    expect(uptake('diffusion', theta)).toBeCloseTo(expected, 4);
  });

  it('the two series of Crank meet, and early on it is 1.1284·√θ', () => {
    expect(uptake('diffusion', 0.2 - 1e-12)).toBeCloseTo(uptake('diffusion', 0.2), 10);
    // To 0.6 the half-space holds; a hundredth off at most.
    for (const theta of [1e-4, 0.01, 0.1, 0.25]) {
      expect(Math.abs(uptake('diffusion', theta) - 1.1284 * Math.sqrt(theta))).toBeLessThan(0.01);
    }
  });

  it('agrees with a finite-difference film (brute force)', () => {
    // One-sided film, 200 cells, explicit steps well under the stability limit.
    const cells = 200;
    const dx = 1 / cells;
    const dt = 0.2 * dx * dx;
    const c = new Float64Array(cells + 2);
    c[0] = 1;
    let next = new Float64Array(c);
    for (let t = 0; t < 0.4; t += dt) {
      for (let i = 1; i <= cells; i++) next[i] = c[i]! + 0.2 * (c[i - 1]! - 2 * c[i]! + c[i + 1]!);
      next[0] = 1;
      next[cells + 1] = next[cells]!;
      c.set(next);
      next = new Float64Array(next);
    }
    const taken = c.slice(1, cells + 1).reduce((sum, v) => sum + v, 0) * dx;
    // First order in the cell at the surface: half a cell of 1/200.
    expect(Math.abs(taken - uptake('diffusion', 0.4))).toBeLessThan(0.004);
  });

  it('second order is half full at 1/k, first order at ln 2/k (Ho and McKay; Lagergren)', () => {
    expect(uptake('second order', 1)).toBe(0.5);
    expect(uptake('first order', Math.log(2))).toBeCloseTo(0.5, 12);
  });

  it('rises from 0 to 1', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...UPTAKE_MODELS),
        fc.double({ min: 0, max: 50, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (model, at, more) => {
          const here = uptake(model, at);
          expect(here).toBeGreaterThanOrEqual(0);
          expect(here).toBeLessThanOrEqual(1);
          expect(uptake(model, at + more)).toBeGreaterThanOrEqual(here - 1e-12);
        },
      ),
    );
    for (const model of UPTAKE_MODELS) {
      expect(uptake(model, 0)).toBe(0);
      expect(uptake(model, Infinity)).toBe(1);
      expect(() => uptake(model, -1)).toThrow(RangeError);
    }
  });
});

/** A dye made up for the test: loses 2.2, 1.8 and 0.6 in ln X, Y, Z at full uptake from a bare grey film. */
function dyedColour(model: UptakeModel, rateTime: number, relativeThickness = 1): Lab {
  const full =
    model === 'diffusion'
      ? relativeThickness * uptake(model, rateTime / relativeThickness ** 2)
      : uptake(model, rateTime);
  const bare = { x: 0.55, y: 0.58, z: 0.62 };
  return labFromXyz({
    x: bare.x * Math.exp(-2.2 * full),
    y: bare.y * Math.exp(-1.8 * full),
    z: bare.z * Math.exp(-0.6 * full),
  });
}
const setting = { temperatureK: 328.15, thicknessM: 15e-6 };
const MINUTES = [0, 0.5, 1, 2, 4, 8, 15];
const dips = (model: UptakeModel, perMinute: number, minutes = MINUTES): DipPoint[] =>
  minutes.map((m) => ({ ...setting, timeS: m * 60, colour: dyedColour(model, perMinute * m) }));

describe('fitting a colour curve', () => {
  it.each([
    ['diffusion', 0.05],
    ['second order', 0.4],
    ['first order', 0.25],
  ] as const)('finds the model and the rate the dips were made with: %s', (model, perMinute) => {
    const fit = valueOf(fitUptake(dips(model, perMinute)));
    expect(fit.model).toBe(model);
    expect(fit.best.ratePerS * 60).toBeCloseTo(perMinute, 4);
    expect(fit.worstDeltaE).toBeLessThan(0.01);
    expect(fit.best.lnLoss[0]).toBeCloseTo(2.2, 2);
  });

  it('answers how long for a colour, at another temperature by Arrhenius and another film by L²', () => {
    const fit = valueOf(fitUptake(dips('diffusion', 0.05)));
    const target = dyedColour('diffusion', 0.05 * 3);
    const answer = timeForColour(fit, target, setting);
    expect(answer.reach).toBe('reachable');
    expect(answer.time.valueSi / 60).toBeCloseTo(3, 2);
    expect(answer.missBy).toBeLessThan(0.01);
    const colder = timeForColour(fit, target, { ...setting, temperatureK: 318.15 });
    const factor = Math.exp((DYE_ACTIVATION.usual / 8.314462618) * (1 / 318.15 - 1 / 328.15));
    expect(colder.time.valueSi / answer.time.valueSi).toBeCloseTo(factor, 2);
    // From memory 20 to 45 kJ/mol, +25 to +70 % per 10 K: the range of the colder time spans both, the dips' own does not.
    const end = (energy: number) => Math.exp((energy / 8.314462618) * (1 / 318.15 - 1 / 328.15));
    expect(colder.time.lowSi! / answer.time.valueSi).toBeCloseTo(end(DYE_ACTIVATION.low), 2);
    expect(colder.time.highSi! / answer.time.valueSi).toBeCloseTo(end(DYE_ACTIVATION.high), 2);
    expect(end(DYE_ACTIVATION.low)).toBeCloseTo(1.25, 1);
    expect(end(DYE_ACTIVATION.high)).toBeCloseTo(1.7, 1);
    expect(answer.time.highSi! - answer.time.lowSi!).toBeLessThan(0.1 * answer.time.valueSi);
    expect(colder.time.source.text).toContain('kJ/mol');
    expect(answer.time.source.text).not.toContain('kJ/mol');
    // Early diffusion does not know how thick the film is: the same time, as in Crank's half-space.
    const early = dyedColour('diffusion', 0.05 * 0.6);
    const thick = timeForColour(fit, early, { ...setting, thicknessM: 30e-6 });
    expect(thick.time.valueSi / timeForColour(fit, early, setting).time.valueSi).toBeCloseTo(1, 2);
  });

  it('with scattered dips the true time lies in the range shown', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 21, maxLength: 21 }),
        (shake) => {
          const scattered = dips('second order', 0.4).map((dip, i) => ({
            ...dip,
            colour: {
              l: dip.colour.l + shake[3 * i]!,
              a: dip.colour.a + shake[3 * i + 1]!,
              b: dip.colour.b + shake[3 * i + 2]!,
            },
          }));
          const fit = valueOf(fitUptake(scattered));
          const answer = timeForColour(fit, dyedColour('second order', 0.4 * 2), setting);
          expect(answer.time.lowSi!).toBeLessThanOrEqual(120 * 1.02);
          expect(answer.time.highSi!).toBeGreaterThanOrEqual(120 * 0.98);
          expect(answer.time.lowSi!).toBeLessThanOrEqual(answer.time.valueSi);
          expect(answer.time.highSi!).toBeGreaterThanOrEqual(answer.time.valueSi);
        },
      ),
      { numRuns: 12, seed: 20 },
    );
  });

  it('says when a colour is out of reach, or only past the longest dip', () => {
    const fit = valueOf(fitUptake(dips('first order', 0.25, [0, 1, 2, 4])));
    const other = timeForColour(fit, { l: 50, a: 60, b: 40 }, setting);
    expect(other.reach).toBe('not with this dye');
    expect(other.time.unconfirmed).toBeDefined();
    const late = timeForColour(fit, dyedColour('first order', 0.25 * 8), setting);
    expect(late.reach).toBe('longer than any dip so far');
    const tooDark = dyedColour('first order', 100);
    const dark = { l: tooDark.l - 15, a: tooDark.a, b: tooDark.b };
    expect(timeForColour(fit, dark, setting).reach).toBe('not with this dye');
    expect(deltaE2000(predictColour(fit, fit.best, setting, Infinity), tooDark)).toBeLessThan(0.1);
  });

  it('wants three dips with two times', () => {
    for (const few of [
      dips('diffusion', 0.05, [1, 2]),
      dips('diffusion', 0.05, [2, 2, 2]),
      dips('diffusion', 0.05, [0, 0, 0]),
    ]) {
      expect(fitUptake(few)).toMatchObject({ ok: false, error: { code: 'too-few-dips' } });
    }
    expect(valueOf(fitUptake(dips('diffusion', 0.05, [0, 1, 2]))).notes.join(' ')).toMatch(/Few dips/);
  });
});

describe('dye bath and book', () => {
  it('scales what the label says', () => {
    const weighed = valueOf(scaleDye({ as: 'concentration', dyeKgPerM3: 5 }, 0.004));
    expect(weighed.mass!.valueSi).toBeCloseTo(0.02, 12);
    expect(weighed.bottles).toBeNull();
    // A bottle for 7.57 L (2 US gal) in a 3.785 L pot: half a bottle.
    const bottled = valueOf(scaleDye({ as: 'bottle', makesM3: 7.57e-3 }, 3.785e-3));
    expect(bottled.bottles!.valueSi).toBeCloseTo(0.5, 3);
    expect(scaleDye({ as: 'bottle', makesM3: 0 }, 1)).toMatchObject({
      ok: false,
      error: { code: 'dye-recipe' },
    });
  });

  it('warns by the handbook ranges (from memory)', () => {
    const usual = {
      shade: 'bright' as const,
      strongBlack: false,
      thicknessM: 12e-6,
      temperatureK: 333,
      ph: 5.5,
    };
    const codes = (change: object) => dyeMessages({ ...usual, ...change }).map((m) => m.code);
    expect(codes({})).toEqual([]);
    expect(codes({ shade: 'black' })).toEqual(['film-too-thin']);
    expect(codes({ shade: 'black', strongBlack: true })).toEqual([]);
    expect(codes({ temperatureK: 300 })).toEqual(['dye-cool']);
    expect(codes({ temperatureK: 350 })).toEqual(['dye-hot']);
    expect(codes({ ph: 8 })).toEqual(['dye-ph']);
  });

  it('holds dips and dyes that survive being written and read', () => {
    const dip = {
      id: 'd1',
      at: '2030-01-01T10:00:00Z',
      dyeId: 'blue',
      alloy: '6061',
      timeS: 120,
      ...setting,
      ph: null,
      dyeKgPerM3: 5,
      colour: { l: 30, a: 10, b: -40 },
      colourFrom: 'photo',
      note: '',
    };
    expect(dipSchema.parse(JSON.parse(JSON.stringify(dip)))).toEqual(dip);
    const { dyeKgPerM3: _, ...older } = dip;
    expect(dipSchema.parse(older).dyeKgPerM3).toBeNull();
    expect(dipSchema.safeParse({ ...dip, colour: { l: 130, a: 0, b: 0 } }).success).toBe(false);
    expect(
      dyeSchema.safeParse({
        id: 'x',
        name: 'Blue',
        recipe: { as: 'bottle', makesM3: 0.004 },
        potM3: null,
        note: '',
      }).success,
    ).toBe(true);
  });
});

describe('ageing of a dye', () => {
  /** Twelve dips, four a day, a dye that loses a share of its rate from day to day. */
  const aged = (lostPerDay: number, noise: (i: number) => number = () => 0) =>
    [0, 5, 10].flatMap((day, k) =>
      [0.5, 2, 4, 8].map((m, i) => {
        const colour = dyedColour('first order', 0.25 * (1 - lostPerDay * day) * m);
        return {
          ...setting,
          at: new Date(Date.UTC(2026, 0, 1 + day)).toISOString(),
          timeS: m * 60,
          colour: { ...colour, l: colour.l + noise(4 * k + i) },
        };
      }),
    );
  const check = (points: ReturnType<typeof aged>) => dyeAgeing(points, valueOf(fitUptake(points)));

  it('is seen in a dye that lost a third of its rate in ten days, with about as much as it made', () => {
    const found = check(aged(0.033))!;
    expect(found.days).toBeCloseTo(10, 9);
    // What the loss does to L* at each dip's time, by the law the dips were made with.
    const made = [0.5, 2, 4, 8].map(
      (m) => dyedColour('first order', 0.25 * 0.67 * m).l - dyedColour('first order', 0.25 * m).l,
    );
    expect(found.lighterBy).toBeGreaterThan(Math.min(...made));
    expect(found.lighterBy).toBeLessThan(Math.max(...made));
    expect(found.message).toContain('10 days');
  });

  it('is not seen in a sound dye, in noise, in one day’s dips or in too few', () => {
    expect(check(aged(0))).toBeNull();
    expect(check(aged(0, (i) => [1.5, -1.2, 0.4, -0.8][i % 4]!))).toBeNull();
    const today = aged(0.033).map((dip) => ({ ...dip, at: '2026-01-01T10:00:00.000Z' }));
    expect(check(today)).toBeNull();
    expect(check(aged(0.033).filter((_, i) => i % 3 === 0))).toBeNull();
  });
});
