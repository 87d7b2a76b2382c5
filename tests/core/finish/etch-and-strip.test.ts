import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alloyMessages } from '../../../core/finish/alloy-messages.ts';
import { typedBuildUp } from '../../../core/finish/build-up.ts';
import { etch } from '../../../core/finish/etch.ts';
import { surfaceBudget, type SurfaceEvent } from '../../../core/finish/metal-budget.ts';
import { MOST_REDOS, redoVerdict } from '../../../core/finish/redo-verdict.ts';
import { strip } from '../../../core/finish/strip.ts';
import { alloyByName, ALLOYS } from '../../../core/reference/alloys.ts';
import { PREPARATION } from '../../../core/reference/preparation.ts';
import { valueOf } from '../value-of.ts';

const UM = 1e-6;
const perMinute = (speed: number) => (speed * 60) / UM;
const rate = (gPerL: number, celsius: number) => valueOf(etch(gPerL, celsius + 273.15, 60)).rate;

describe('etching in lye', () => {
  it.each([
    [80, 17],
    [70, 10.6],
    [60, 6.5],
    [50, 3.9],
    [40, 2.3],
    [25, 0.93],
  ])(
    'lye of 10 weight per cent at %d °C takes %d µm/min (1 mm/h at 80 °C, 46 kJ/mol)',
    (celsius, micrometres) => {
      // The worked values are printed to two digits: 0.05 in 2.3 is 2.2 %.
      expect(Math.abs(perMinute(rate(110.9, celsius).valueSi) / micrometres - 1)).toBeLessThan(0.025);
    },
  );

  it.each([
    [50, 60, 2, 5],
    [25, 25, 0.2, 0.6],
  ])('%d g/L at %d °C: %d-%d µm/min (handbook ranges, from memory)', (gPerL, celsius, low, high) => {
    const figure = rate(gPerL, celsius);
    expect(perMinute(figure.valueSi)).toBeGreaterThan(low);
    expect(perMinute(figure.valueSi)).toBeLessThan(high);
    // The shown range covers the handbook's.
    expect(perMinute(figure.lowSi!)).toBeLessThan(low);
    expect(perMinute(figure.highSi!)).toBeGreaterThan(high * 0.98);
  });

  it('refuses what is not known', () => {
    expect(etch(400, 330, 60)).toMatchObject({ ok: false, error: { code: 'etch-unknown' } });
    expect(etch(50, 370, 60)).toMatchObject({ ok: false, error: { code: 'etch-unknown' } });
  });

  it('every preparation step says how it shows that it worked', () => {
    expect(PREPARATION.map((step) => step.id)).toContain('water break');
    for (const step of PREPARATION) {
      expect(step.check.length).toBeGreaterThan(10);
      expect(step.timeS.low).toBeLessThanOrEqual(step.timeS.high);
    }
  });
});

describe('a lye strip', () => {
  const gallon = 3.785411784e-3;
  const request = {
    volumeM3: gallon,
    lyeKgPerM3: 24,
    temperatureK: 298.15,
    areaM2: 0.0568,
    filmM: 25.4 * UM,
    overTimeS: 60,
    metalDensityKgPerM3: 2700,
    roomK: 298.15,
  };

  it('a third of a cup of beads per US gallon: 87-95 g, 23-25 g/L (bulk density from memory)', () => {
    const thirdCupM3 = 78.86e-6;
    const result = valueOf(strip(request));
    expect(result.beadsVolume.lowSi!).toBeLessThan(thirdCupM3);
    expect(result.beadsVolume.highSi!).toBeGreaterThan(thirdCupM3);
    expect(result.lyeMass.valueSi * 1000).toBeGreaterThan(87);
    expect(result.lyeMass.valueSi * 1000).toBeLessThan(95);
    expect(result.time.valueSi).toBe(300);
  });

  it('warms by 6 to 7 K as it dissolves: 24 g/L · 44.5 kJ/mol / 40 g/mol', () => {
    expect(valueOf(strip(request)).rise.valueSi).toBeCloseTo((24 / 39.997) * (44.5 / 4.18), 2);
  });

  it('uses 1.482 g of lye per gram of aluminium and makes 1.360 L of hydrogen per gram of metal', () => {
    const bare = valueOf(strip({ ...request, filmM: 0 }));
    const metalG = 0.0568 * bare.metalRemoved.valueSi * 2.7e6;
    expect((bare.lyeUsed.valueSi * 24 * gallon * 1000) / metalG).toBeCloseTo(1.482, 3);
    expect((bare.hydrogen.valueSi * 1000) / metalG).toBeCloseTo(1.36, 3);
  });

  it('says when the lye gets tired, and refuses an empty one', () => {
    const tired = valueOf(strip({ ...request, areaM2: 2 }));
    expect(tired.lyeUsed.valueSi).toBeGreaterThan(0.5);
    expect(tired.notes.join(' ')).toMatch(/make up more/);
    expect(strip({ ...request, volumeM3: 0 })).toMatchObject({ ok: false, error: { code: 'strip-input' } });
  });
});

describe('metal over a part’s life', () => {
  const spread = (um: number, half = 0) => ({
    usualM: um * UM,
    lowM: (um - half) * UM,
    highM: (um + half) * UM,
  });
  const film = 24 * UM;
  const coat: SurfaceEvent = { kind: 'coat', filmM: film, growth: typedBuildUp(8 * UM) };
  const strip60: SurfaceEvent = { kind: 'strip', over: spread(1) };

  it('coating builds 8 and takes 16 of 24 µm; stripping leaves the 16 gone', () => {
    const coated = surfaceBudget([coat]);
    expect(coated.surface.valueSi / UM).toBeCloseTo(8, 9);
    expect(coated.metal.valueSi / UM).toBeCloseTo(16, 9);
    const stripped = surfaceBudget([coat, strip60]);
    expect(stripped.surface.valueSi / UM).toBeCloseTo(-17, 9);
    expect(stripped.filmM).toBe(0);
  });

  it('metal never comes back, and surface less metal is always the film', () => {
    const step = fc.oneof(
      fc.record({ kind: fc.constant('etch' as const), um: fc.double({ min: 0, max: 20, noNaN: true }) }),
      fc.record({ kind: fc.constant('redo' as const), um: fc.double({ min: 0, max: 5, noNaN: true }) }),
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 8 }), (steps) => {
        const events: SurfaceEvent[] = steps.flatMap((s): SurfaceEvent[] =>
          s.kind === 'etch'
            ? [{ kind: 'etch', removed: spread(s.um) }]
            : [coat, { kind: 'strip', over: spread(s.um) }],
        );
        let before = 0;
        for (let n = 0; n <= events.length; n++) {
          const budget = surfaceBudget(events.slice(0, n));
          expect(budget.metal.valueSi).toBeGreaterThanOrEqual(before - 1e-15);
          expect(budget.surface.valueSi + budget.metal.valueSi).toBeCloseTo(budget.filmM, 15);
          before = budget.metal.valueSi;
        }
      }),
    );
    expect(() => surfaceBudget([coat, coat])).toThrow(RangeError);
    expect(() => surfaceBudget([coat, { kind: 'etch', removed: spread(1) }])).toThrow(RangeError);
  });

  const redo: SurfaceEvent[] = [strip60, coat];
  // Each redo moves the surface by 8 − (8 + 17) … −17 µm, a shaft by −34 µm.
  const size = (label: string, limitsUm: readonly [number, number], factor: number) => ({
    label,
    machinedM: 10e-3,
    limits: { lowM: 10e-3 + limitsUm[0] * UM, highM: 10e-3 + limitsUm[1] * UM },
    factor,
  });
  const judge = (limitsUm: readonly [number, number], factor: number, alloy = alloyByName('6061')!) =>
    redoVerdict({ past: [coat], redo, sizes: [size('Shaft', limitsUm, factor)], wall: null, alloy });

  it('counts redos until a size is lost', () => {
    expect(judge([-20, 20], 2)).toMatchObject({ verdict: 'last time', redosLeft: 1 });
    expect(judge([-10, 20], 2)).toMatchObject({ verdict: 'hopeless', redosLeft: 0 });
    expect(judge([-54, 20], 2)).toMatchObject({ verdict: 'worth it', redosLeft: 2 });
    expect(judge([-9000, 9000], 2).redosLeft).toBe(MOST_REDOS);
    // A thread's pitch diameter moves twice as fast as a shaft.
    expect(judge([-54, 60], 4)).toMatchObject({ verdict: 'last time', redosLeft: 1 });
  });

  it('minds walls, doubt and silicon', () => {
    const wall = { machinedM: 1e-3, leastM: 0.98e-3 };
    expect(redoVerdict({ past: [coat], redo, sizes: [], wall, alloy: null }).verdict).toBe('hopeless');
    expect(judge([-9000, 9000], 2, alloyByName('A356')!).verdict).toBe('last time');
    const vague: SurfaceEvent[] = [{ kind: 'strip', over: spread(10, 9) }, coat];
    const verdict = redoVerdict({
      past: [coat],
      redo: vague,
      sizes: [size('Bore', [-20, 20], 2)],
      wall: null,
      alloy: null,
    });
    expect(verdict).toMatchObject({ verdict: 'last time' });
    expect(verdict.reasons[0]).toMatch(/probably/);
  });
});

describe('alloys', () => {
  it.each([
    ['1100', 2.71],
    ['2024', 2.78],
    ['3003', 2.73],
    ['5052', 2.68],
    ['5356', 2.64],
    ['4043', 2.69],
    ['6061', 2.7],
    ['7075', 2.81],
    ['A356', 2.685],
  ])('%s weighs %d g/cm³ (data sheets)', (name, gPerCm3) => {
    expect(alloyByName(name)!.densityKgPerM3.usual / 1000).toBeCloseTo(gPerCm3, 3);
  });

  it('is found by its short name', () => {
    expect(alloyByName('adc 12')?.name).toBe('ADC12 (383)');
    expect(alloyByName('6061')?.form).toBe('wrought');
    expect(alloyByName('7050')).toBeUndefined();
  });

  it('says what to expect: silicon, copper, fillers, hard coat', () => {
    const plan = { dyed: true, brightColour: true, hardCoat: false, filler: null };
    const codes = (name: string, change: Partial<typeof plan> = {}, filler?: string) =>
      alloyMessages(alloyByName(name)!, {
        ...plan,
        ...change,
        filler: filler ? alloyByName(filler)! : null,
      }).map((m) => m.code);
    expect(codes('6061')).toEqual([]);
    expect(codes('5052')).toEqual(['alloy-dull']);
    expect(codes('2024')).toEqual(['alloy-not-for-colour', 'alloy-low-yield']);
    expect(codes('380', { dyed: false, hardCoat: true })).toEqual([
      'alloy-low-yield',
      'casting',
      'alloy-not-for-hard-coat',
    ]);
    expect(codes('6061', {}, '4043')).toEqual(['filler-dark-weld']);
    expect(codes('6061', {}, '5356')).toEqual([]);
    for (const alloy of ALLOYS)
      expect(alloy.densityKgPerM3.low).toBeLessThanOrEqual(alloy.densityKgPerM3.high);
  });
});
