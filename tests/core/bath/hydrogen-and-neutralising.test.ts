import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  HYDROGEN_ALLOWED,
  HYDROGEN_LOWER_LIMIT,
  hydrogenAir,
  hydrogenFromLye,
} from '../../../core/bath/hydrogen.ts';
import { mistAdvice } from '../../../core/bath/mist.ts';
import { neutralise } from '../../../core/bath/neutralise.ts';
import { EXPOSURE_LIMITS } from '../../../core/reference/exposure-limits.ts';
import { gasM3PerMol } from '../../../core/reference/thermochemistry.ts';
import { valueOf } from '../value-of.ts';

const LITRE_PER_HOUR = 1e-3 / 3600;
const M3_PER_HOUR = 1 / 3600;

describe('hydrogen', () => {
  it.each([
    [0, 0.4181],
    [20, 0.4488],
    [25, 0.4564],
  ])('at %d °C one ampere makes %d L/h (Faraday; EN 50272-3 prints 0.42 at 0 °C)', (celsius, litres) => {
    expect(hydrogenAir(1, celsius + 273.15).hydrogen.valueSi / LITRE_PER_HOUR).toBeCloseTo(litres, 4);
  });

  it('3.667 A: 1.674 L/h at 25 °C, 0.183 m³/h of air by EN 50272-3, 0.167 for 1 %', () => {
    const air = hydrogenAir(3.667, 298.15);
    expect(air.hydrogen.valueSi / LITRE_PER_HOUR).toBeCloseTo(1.674, 3);
    expect(air.air.valueSi / M3_PER_HOUR).toBeCloseTo(0.183, 3);
    expect(air.leastAir.valueSi / M3_PER_HOUR).toBeCloseTo(0.167, 3);
    expect(HYDROGEN_ALLOWED / HYDROGEN_LOWER_LIMIT).toBe(0.25);
    expect(() => hydrogenAir(-1, 298)).toThrow(RangeError);
  });

  it('a gram of aluminium in lye makes 1.360 L at 25 °C', () => {
    expect(hydrogenFromLye(1e-3, 298.15).valueSi * 1000).toBeCloseTo(1.36, 3);
    expect(() => hydrogenFromLye(-1, 298)).toThrow(RangeError);
    expect(() => gasM3PerMol(0)).toThrow(RangeError);
  });
});

describe('mist', () => {
  it('holds the limits as published: OSHA 1, ACGIH 0.2, EU 0.05, IDLH 15 mg/m³', () => {
    const { limits, strictest, exhaust } = mistAdvice(0.2);
    expect(limits.map((limit) => Number((limit.limitKgPerM3 * 1e6).toPrecision(9)))).toEqual([
      1, 0.2, 0.05, 15,
    ]);
    expect(strictest.rule).toMatch(/EU/);
    // 150 ft³/min per ft² is 0.762 m/s.
    expect(exhaust.valueSi).toBeCloseTo(0.2 * 150 * (0.3048 / 60), 3);
    expect(EXPOSURE_LIMITS.every((limit) => limit.source.text !== '')).toBe(true);
    expect(() => mistAdvice(-1)).toThrow(RangeError);
  });
});

describe('neutralising', () => {
  const amounts = (aluminium = 0) =>
    Object.fromEntries(
      valueOf(neutralise(1e-3, 180, aluminium, 298.15)).map((entry) => [entry.neutraliser.id, entry]),
    );

  it('1 L of 180 g/L takes 308.3 g baking soda, 194.5 g washing soda, 136.0 g lime or 146.8 g lye', () => {
    const by = amounts();
    expect(by['baking soda']!.mass.valueSi * 1000).toBeCloseTo(308.3, 0);
    expect(by['washing soda']!.mass.valueSi * 1000).toBeCloseTo(194.5, 0);
    expect(by['slaked lime']!.mass.valueSi * 1000).toBeCloseTo(136.0, 0);
    expect(by['lye']!.mass.valueSi * 1000).toBeCloseTo(146.8, 0);
    expect(by['slaked lime']!.sludge!.valueSi * 1000).toBeCloseTo(316, 0);
  });

  it('foams: 89.8 L of carbon dioxide with baking soda, 44.9 L with washing soda at 25 °C', () => {
    const by = amounts();
    expect(by['baking soda']!.carbonDioxide!.valueSi * 1000).toBeCloseTo(89.8, 1);
    expect(by['washing soda']!.carbonDioxide!.valueSi * 1000).toBeCloseTo(44.9, 1);
    expect(by['lye']!.carbonDioxide).toBeNull();
    // 2 · 1.835 mol · 57 kJ/mol over 4 kJ/K: it would boil from room temperature in a stronger bath.
    expect(by['lye']!.riseIfAtOnce!.valueSi).toBeGreaterThan(45);
    expect(by['baking soda']!.riseIfAtOnce).toBeNull();
  });

  it('10 g/L of aluminium adds 93.4 g of baking soda', () => {
    const more = amounts(10)['baking soda']!.mass.valueSi - amounts(0)['baking soda']!.mass.valueSi;
    expect(more * 1000).toBeCloseTo(93.4, 1);
  });

  it('charge balances: base equivalents equal acid hydrogen for every neutraliser', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 400, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        (acid, aluminium) => {
          const wanted = (2 * acid) / 98.079 + (3 * aluminium) / 26.9815;
          for (const { neutraliser, mass } of valueOf(neutralise(1, acid, aluminium, 293))) {
            const equivalents = (mass.valueSi / neutraliser.kgPerMol) * neutraliser.equivalents;
            expect(equivalents / 1000).toBeCloseTo(wanted, 9);
          }
        },
      ),
    );
  });

  it('refuses nothing', () => {
    expect(neutralise(0, 180, 0, 293)).toMatchObject({ ok: false, error: { code: 'nothing-to-neutralise' } });
  });
});
