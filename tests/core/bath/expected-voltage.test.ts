import { describe, expect, it } from 'vitest';
import { bathMessages } from '../../../core/bath/bath-messages.ts';
import { expectedVoltage, rateFactor } from '../../../core/bath/expected-voltage.ts';
import { filmLimit } from '../../../core/bath/film-limit.ts';
import { supplyReach } from '../../../core/bath/supply-reach.ts';
import { CHARGE_CONSTANT_DEFAULT } from '../../../core/reference/charge-constant.ts';
import { valueOf } from '../value-of.ts';

const at = (aPerDm2: number, celsius = 20.5, acidKgPerM3 = 165) => ({
  currentDensityAPerM2: aPerDm2 * 100,
  temperatureK: celsius + 273.15,
  acidKgPerM3,
});

describe('expected voltage', () => {
  it.each([
    [6 / 0.3048 ** 2 / 100, 9, 12], // 6 A/ft²: 0.65 A/dm²
    [1.25, 13, 16],
    [1.5, 14, 17],
    [2.0, 16, 19],
    [2.6, 18, 22],
  ])('%d A/dm² runs at %d-%d V (handbooks, from memory, ±2 V)', (density, low, high) => {
    const { start } = valueOf(expectedVoltage(at(density), 0));
    // 6 A/ft² to all its digits lies 0.006 % beside the row.
    expect(start.valueSi).toBeCloseTo((low + high) / 2, 3);
    expect(start.lowSi!).toBeLessThanOrEqual(low);
    expect(start.highSi!).toBeGreaterThanOrEqual(high);
    expect(start.source.standing).toBe('from memory');
  });

  it('rate at a fixed voltage: +6.1 %/K, ×1.776 from 20 to 30 °C, ×0.279 from 20 to 0 °C, ×1.073 from 165 to 180 g/L (Eguchi 1969)', () => {
    const rate = (celsius: number, acid = 165) =>
      rateFactor(celsius + 273.15, acid) / rateFactor(293.15, 165);
    expect(rate(21)).toBeCloseTo(1.061, 3);
    expect(rate(30)).toBeCloseTo(1.776, 3);
    expect(rate(0)).toBeCloseTo(0.279, 3);
    expect(rate(20, 180)).toBeCloseTo(1.073, 3);
  });

  it('falls by 1.5 to 4 % for every kelvin, and a stronger bath needs less', () => {
    const volts = (celsius: number, acid = 165) =>
      valueOf(expectedVoltage(at(1.3, celsius, acid), 0)).start.valueSi;
    const perKelvin = (volts(20) - volts(22)) / 2 / volts(21);
    // −2 to −4 %/K from memory; the slope’s own range (3-5 V per A/dm²) allows 1.5.
    expect(perKelvin).toBeGreaterThan(0.015);
    expect(perKelvin).toBeLessThan(0.04);
    expect(volts(20.5, 200)).toBeLessThan(volts(20.5, 165));
  });

  it('goes by the shop’s own readings near these conditions, and only near', () => {
    const own = [
      { ...at(1.3), voltageV: 12 },
      { ...at(1.4, 21), voltageV: 12.3 },
      { ...at(2.6), voltageV: 30 },
    ];
    const { start, ownRunsUsed } = valueOf(expectedVoltage(at(1.3), 0, own));
    expect(ownRunsUsed).toBe(2);
    expect(Math.abs(start.valueSi - 12)).toBeLessThan(0.5);
    expect(start.source.standing).toBe('your own runs');
    expect(start.highSi! - start.lowSi!).toBeLessThan(4);
  });

  it('hard coat: 20-30 V at the start, 40-75 V at 50 µm (handbooks, from memory)', () => {
    const { start, end } = valueOf(expectedVoltage(at(3, 0, 180), 50e-6));
    expect([start.lowSi, start.highSi]).toEqual([20, 30]);
    expect([end.lowSi, end.highSi]).toEqual([40, 75]);
    const own = valueOf(expectedVoltage(at(3, 0, 180), 50e-6, [{ ...at(3, 0, 180), voltageV: 24 }]));
    expect(own.start.valueSi).toBeCloseTo(24, 9);
  });

  it('says that it does not know where no figure was published', () => {
    for (const unknown of [at(1.3, 8), at(0.3), at(5), at(1.3, 20, 400)]) {
      expect(expectedVoltage(unknown, 10e-6)).toMatchObject({
        ok: false,
        error: { code: 'voltage-unknown' },
      });
    }
  });

  it('says which of the three is outside, and between what, in both units', () => {
    const says = (where: Parameters<typeof expectedVoltage>[0]) => {
      const asked = expectedVoltage(where, 10e-6);
      return asked.ok ? '' : asked.error.message;
    };
    // 0.3 A/dm² is 2.79 A/ft²; 8 °C is 46.4 °F (exact factors).
    expect(says(at(0.3))).toContain('current density is 0.30 A/dm² (2.8 A/ft²), outside 0.65 to 2.6 A/dm²');
    expect(says(at(0.3))).not.toMatch(/temperature|acid/);
    expect(says(at(1.3, 8))).toMatch(/temperature is 8\.0 °C \(46 °F\), outside 14 to 26 °C/);
    expect(says(at(1.3, 20, 400))).toContain('acid is 400 g/L, outside 100 to 250 g/L');
    expect(says(at(5, 8))).toMatch(/density.*; .*temperature/);
  });

  it('goes by the shop’s own readings where nothing is published, as its remedy promises', () => {
    const own = [{ ...at(0.5), voltageV: 8 }];
    const { start, ownRunsUsed } = valueOf(expectedVoltage(at(0.4), 0, own));
    expect(ownRunsUsed).toBe(1);
    // 0.1 A/dm² less at 4 V per A/dm² (3-5).
    expect(start.valueSi).toBeCloseTo(7.6, 9);
    expect(start.source.standing).toBe('your own runs');
    expect(start.highSi! - start.valueSi).toBeGreaterThan(1.5);
    // Too far to bring a reading over: half as much again in density, a bath 12 K colder.
    expect(expectedVoltage(at(0.3), 0, own).ok).toBe(false);
    expect(expectedVoltage(at(0.4, 8), 0, own).ok).toBe(false);
    expect(expectedVoltage(at(6), 0, [{ ...at(4.5), voltageV: 40 }]).ok).toBe(false);
  });

  it('tells whether the supply reaches it', () => {
    const { end } = valueOf(expectedVoltage(at(1.3), 10e-6));
    expect(supplyReach(end, 30).verdict).toBe('reaches');
    expect(supplyReach(end, 15).verdict).toBe('may not reach');
    expect(supplyReach(end, 6).verdict).toBe('does not reach');
    expect(() => supplyReach(end, 0)).toThrow(RangeError);
  });
});

describe('film limit', () => {
  const limit = (celsius: number, acid = 165) =>
    valueOf(
      filmLimit({
        ...at(1.5, celsius, acid),
        voltageV: 15,
        chargePerVolumeCPerM3: CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3,
      }),
    );

  it('12 nm of wall at 15 V lasts 60 to 240 min at 20 °C, half of that or less at 30 °C (from memory)', () => {
    const at20 = limit(20).time;
    expect(at20.lowSi! / 60).toBeCloseTo(60, 3);
    expect(at20.highSi! / 60).toBeCloseTo(240, 3);
    expect(limit(30).time.valueSi / at20.valueSi).toBeGreaterThan(1 / 2.5);
    expect(limit(30).time.valueSi / at20.valueSi).toBeLessThan(1 / 1.8);
  });

  it('thickness is time at 0.4916 µm/min for 1.5 A/dm² (720 rule)', () => {
    const { time, thickness } = limit(20);
    expect(thickness.valueSi * 1e6).toBeCloseTo((time.valueSi / 60) * 0.4916, 2);
  });

  it('quotes the practical ceiling of 25-30 µm in a bath near 20 °C and not in a cold one', () => {
    expect(limit(21).practice).toMatchObject({ lowSi: 25e-6, highSi: 30e-6 });
    expect(limit(2).practice).toBeNull();
    expect(limit(2).thickness.valueSi).toBeGreaterThan(limit(20).thickness.valueSi * 3);
    expect(limit(20, 200).time.valueSi).toBeLessThan(limit(20, 165).time.valueSi);
  });

  it('is refused where nothing is known', () => {
    const far = { ...at(1.5, 45), voltageV: 15, chargePerVolumeCPerM3: 1.8e10 };
    expect(filmLimit(far)).toMatchObject({ ok: false, error: { code: 'film-limit-unknown' } });
    expect(() => filmLimit({ ...at(1.5), voltageV: 0, chargePerVolumeCPerM3: 1.8e10 })).toThrow(RangeError);
  });
});

describe('messages about the bath', () => {
  const usual = { startK: 294, warmestK: 295, currentDensityAPerM2: 130, stirred: true, thicknessM: 12e-6 };
  const codes = (change: Partial<typeof usual>) => bathMessages({ ...usual, ...change }).map((m) => m.code);

  it('says nothing about an ordinary run', () => expect(codes({})).toEqual([]));
  it('warns of soft, burnt and unstirred ones', () => {
    expect(codes({ warmestK: 299 })).toEqual(['soft-coating']);
    expect(codes({ startK: 287 })).toEqual(['cold-start']);
    expect(codes({ currentDensityAPerM2: 300 })).toEqual(['burning-risk']);
    expect(codes({ stirred: false })).toEqual(['not-stirred']);
    expect(codes({ thicknessM: 50e-6 })).toEqual(['hard-coat-warm']);
    expect(codes({ thicknessM: 50e-6, startK: 272, warmestK: 276, currentDensityAPerM2: 300 })).toEqual([]);
  });
});
