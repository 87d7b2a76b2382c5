import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { estimateBore, wagnerNumber } from '../../../core/field/bore-depth.ts';
import {
  checkLaw,
  densityFor,
  fitPowerLaw,
  slopeAt,
  voltageAt,
  type ElectrodeLaw,
} from '../../../core/field/electrode-law.ts';
import { BATH_AND_CATHODE_OHM_M2, filmLaw, filmSlope } from '../../../core/field/film-law.ts';
import { sulfuricConductivity } from '../../../core/reference/sulfuric-acid-conductivity.ts';

describe('conductivity of sulfuric acid', () => {
  // Kohlrausch's 18 °C rows carried to 20 and 25 °C (International Critical Tables, from memory), S/cm.
  test.each([
    [5, 0.2135, 0.2262],
    [10, 0.4015, 0.4266],
    [15, 0.558, 0.5949],
    [20, 0.6716, 0.7189],
    [25, 0.7392, 0.7944],
    [30, 0.7627, 0.8226],
    [35, 0.7489, 0.8105],
    [40, 0.7042, 0.7647],
    [50, 0.5614, 0.6135],
  ])('%s %%: %s S/cm at 20 °C, %s at 25 °C', (percent, at20, at25) => {
    for (const [celsius, expected] of [
      [20, at20],
      [25, at25],
    ]) {
      const found = sulfuricConductivity(percent / 100, celsius + 273.15);
      if (!found.ok) throw new Error(found.error.message);
      // The last digit printed.
      expect(Math.abs(found.value.value / 100 - expected)).toBeLessThan(2e-4);
    }
  });

  test('180 g/L (16.2 %) at 20 °C: 0.589 ± 0.01 S/cm; the maximum lies near 30 %', () => {
    const at = (fraction: number) => {
      const found = sulfuricConductivity(fraction, 293.15);
      if (!found.ok) throw new Error(found.error.message);
      return found.value;
    };
    expect(Math.abs(at(0.162).value - 58.9)).toBeLessThan(1);
    expect(at(0.162).uncertainty).toBeLessThan(2);
    expect(at(0.3).value).toBeGreaterThan(at(0.27).value);
    expect(at(0.3).value).toBeGreaterThan(at(0.33).value);
  });

  test('nothing outside the table', () => {
    for (const [fraction, kelvin] of [
      [0.03, 293.15],
      [0.85, 293.15],
      [0.16, 330],
    ]) {
      expect(sulfuricConductivity(fraction, kelvin)).toMatchObject({
        ok: false,
        error: { code: 'outside-table' },
      });
    }
  });
});

describe('voltage and density at a surface', () => {
  const power: ElectrodeLaw = { kind: 'power', referenceV: 15, referenceAPerM2: 140, exponent: 0.46 };

  test('densityFor inverts voltageAt with any layer in series', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-4, max: 2000, noNaN: true }),
        fc.double({ min: -1e-5, max: 1e-2, noNaN: true }),
        (j, layer) => {
          const found = densityFor(power, voltageAt(power, j) + layer * j, layer);
          expect(Math.abs(found / j - 1)).toBeLessThan(1e-9);
        },
      ),
      { seed: 3 },
    );
    expect(densityFor({ kind: 'linear', restV: 1, slopeVM2PerA: 0.04 }, 6, 0.01)).toBeCloseTo(100, 9);
    expect(densityFor(power, -3, 1e-4)).toBeLessThanOrEqual(0);
    // Backwards the film lets next to nothing through: a few thousandths of the usual density.
    expect(Math.abs(densityFor(power, -3, 1e-4))).toBeLessThan(0.5);
  });

  test('slopeAt is the derivative', () => {
    for (const j of [0.001, 1, 50, 130, 900]) {
      const step = j * 1e-6;
      const numeric = (voltageAt(power, j + step) - voltageAt(power, j - step)) / (2 * step);
      expect(slopeAt(power, j) / numeric).toBeCloseTo(1, 6);
    }
  });

  test('the book’s film: 13-16 V and 0.03-0.055 V·m²/A near 1.3 A/dm², every handbook row within 0.5 V', () => {
    const film = filmLaw();
    // The rows are of whole cells: bath and cathode come on top of the film.
    const cell = (j: number): number => voltageAt(film.law, j) + BATH_AND_CATHODE_OHM_M2 * j;
    const volts = cell(129);
    expect(volts).toBeGreaterThan(13);
    expect(volts).toBeLessThan(16);
    expect(filmSlope(film, 129)).toBeGreaterThan(0.03);
    expect(filmSlope(film, 129)).toBeLessThan(0.055);
    for (const [j, v] of [
      [65, 10.5],
      [125, 14.5],
      [150, 15.5],
      [200, 17.5],
      [260, 20],
    ]) {
      expect(Math.abs(cell(j!) - v!)).toBeLessThan(0.5);
    }
    expect(film.source.standing).toBe('from memory');
    // 150 mm at 59 S/m and 130 A/m² take 0.33 V, 52 mV at 100 A/m² make 0.07 V of the cathode: by hand.
    expect(BATH_AND_CATHODE_OHM_M2 * 130).toBeCloseTo(0.33 + 0.068, 2);
  });

  test('own readings take its place, a single one does not', () => {
    const pairs = [80, 150, 220].map((j) => ({
      currentDensityAPerM2: j,
      voltageV: 12 * (j / 100) ** 0.4 + BATH_AND_CATHODE_OHM_M2 * j,
    }));
    const own = filmLaw(pairs);
    expect(own.source.standing).toBe('your own runs');
    expect(voltageAt(own.law, 180)).toBeCloseTo(12 * 1.8 ** 0.4, 9);
    expect(filmLaw(pairs.slice(0, 1)).source.standing).toBe('from memory');
    expect(
      fitPowerLaw([
        { currentDensityAPerM2: 100, voltageV: 15 },
        { currentDensityAPerM2: 200, voltageV: 14 },
      ]),
    ).toBeUndefined();
  });

  test('a law that does not rise is a caller’s bug', () => {
    expect(() => checkLaw({ kind: 'linear', restV: 0, slopeVM2PerA: -1 })).toThrow(RangeError);
    expect(() => checkLaw({ ...power, exponent: 1.2 } as ElectrodeLaw)).toThrow(RangeError);
  });
});

describe('quick estimate', () => {
  const at = {
    conductivitySPerM: 60,
    filmSlopeVM2PerA: 0.04,
    filmSource: { standing: 'from memory' as const, text: 'handbooks' },
  };

  // λ = √(κ b r / 2), computed by hand for b = 0.04 and 0.02.
  test.each([
    [0.001, 34.6, 24.5],
    [0.0025, 54.8, 38.7],
    [0.005, 77.5, 54.8],
    [0.01, 109.5, 77.5],
  ])('radius %s m: λ %s and %s mm', (radiusM, thick, thin) => {
    const bore = { radiusM, depthM: 0.1, through: false };
    expect(estimateBore(bore, at, 0.8).penetrationM.valueSi * 1000).toBeCloseTo(thick, 1);
    expect(
      estimateBore(bore, { ...at, filmSlopeVM2PerA: 0.02 }, 0.8).penetrationM.valueSi * 1000,
    ).toBeCloseTo(thin, 1);
  });

  test('depth held is where the law says so; a through hole is two blind ones of half the length', () => {
    const blind = estimateBore({ radiusM: 0.0025, depthM: 0.08, through: false }, at, 0.7);
    const through = estimateBore({ radiusM: 0.0025, depthM: 0.16, through: true }, at, 0.7);
    expect(through.depthHeldM.valueSi).toBe(blind.depthHeldM.valueSi);
    const lambda = blind.penetrationM.valueSi;
    expect(Math.cosh((0.08 - blind.depthHeldM.valueSi) / lambda) / Math.cosh(0.08 / lambda)).toBeCloseTo(
      0.7,
      9,
    );
    expect(blind.depthHeldM.lowSi!).toBeLessThan(blind.depthHeldM.valueSi);
    expect(estimateBore({ radiusM: 0.01, depthM: 0.02, through: false }, at, 0.7).depthHeldM.valueSi).toBe(
      0.02,
    );
    expect(() => estimateBore({ radiusM: 0, depthM: 0.02, through: false }, at, 0.7)).toThrow(RangeError);
  });

  test('Wagner number of 0.1 m: 24', () => {
    expect(wagnerNumber(0.1, at).valueSi).toBeCloseTo(24, 9);
  });
});
