import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCurve, readSmoothCurve, type CurveTable } from '../../../core/reference/curve-table.ts';
import { SULFURIC_HEAT_CAPACITY } from '../../../core/reference/sulfuric-heat-capacity.ts';
import {
  heatOfSolutionJPerKgAcid,
  SULFURIC_KG_PER_MOL,
  THOMSEN_FULL_J_PER_MOL,
  WATER_KG_PER_MOL,
} from '../../../core/reference/sulfuric-heat-of-solution.ts';
import { valueOf } from '../value-of.ts';

const square: CurveTable = {
  name: 'square',
  argument: 'sides',
  argumentUnit: 'm',
  valueUnit: 'm²',
  conditions: '',
  source: { standing: 'definition', text: 'closed form' },
  rows: [0, 1, 2, 3, 4].map((x) => [x, x * x, 0] as const),
};

describe('curve tables', () => {
  it('pass through their rows and refuse outside them', () => {
    for (const read of [readCurve, readSmoothCurve]) {
      for (const [x, y] of square.rows) expect(valueOf(read(square, x)).value).toBeCloseTo(y, 12);
      expect(read(square, -0.01)).toMatchObject({ ok: false, error: { code: 'outside-table' } });
      expect(read(square, 4.01)).toMatchObject({ ok: false, error: { code: 'outside-table' } });
      expect(() => read(square, NaN)).toThrow(RangeError);
    }
  });

  it('the smooth reading rises wherever the rows rise, and is closer than straight lines', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 3.999, noNaN: true }), (x) => {
        const here = valueOf(readSmoothCurve(square, x)).value;
        expect(valueOf(readSmoothCurve(square, x + 0.001)).value).toBeGreaterThanOrEqual(here);
      }),
    );
    const error = (read: typeof readCurve) => Math.abs(valueOf(read(square, 2.5)).value - 6.25);
    expect(error(readSmoothCurve)).toBeLessThan(error(readCurve) / 5);
  });
});

describe('heat capacity of sulfuric acid', () => {
  it.each([
    [5.16, 0.955],
    [9.82, 0.918],
    [15.36, 0.877],
    [21.4, 0.834],
    [30.34, 0.765],
    [35.25, 0.724],
    [40.49, 0.677],
  ])('at %d %% is %d cal/(g·K) (Perry, from memory)', (percent, calories) => {
    const read = valueOf(readCurve(SULFURIC_HEAT_CAPACITY, percent)).value;
    expect(read / 4184).toBeCloseTo(calories, 3);
  });

  it('is 4.18 kJ/(kg·K) for water and 1.40 for the pure acid', () => {
    expect(valueOf(readCurve(SULFURIC_HEAT_CAPACITY, 0)).value).toBeCloseTo(4182, -1);
    expect(valueOf(readCurve(SULFURIC_HEAT_CAPACITY, 100)).value).toBeCloseTo(1402, -1);
  });
});

describe('heat of solution of sulfuric acid', () => {
  const strengthAt = (n: number) => SULFURIC_KG_PER_MOL / (SULFURIC_KG_PER_MOL + n * WATER_KG_PER_MOL);
  it.each([
    [0.5, 15.73],
    [1, 28.07],
    [2, 41.92],
    [5, 58.03],
    [10, 67.03],
    [25, 72.3],
    [50, 73.34],
    [100, 73.97],
    [1000, 78.57],
  ])('with %d mol of water is %d kJ/mol (textbook row, from memory)', (n, kJ) => {
    const read = valueOf(heatOfSolutionJPerKgAcid(strengthAt(n) * (1 + 1e-12))) * SULFURIC_KG_PER_MOL;
    expect(read / 1000).toBeCloseTo(kJ, 3);
  });

  it('follows Thomsen’s equation within its own 6 % between the rows', () => {
    for (const n of [0.8, 1.5, 3.3, 7, 17, 28.2, 44, 80]) {
      const thomsen = (THOMSEN_FULL_J_PER_MOL * n) / (n + 1.7983);
      const read = valueOf(heatOfSolutionJPerKgAcid(strengthAt(n))) * SULFURIC_KG_PER_MOL;
      expect(Math.abs(read / thomsen - 1)).toBeLessThan(0.065);
    }
  });

  it('refuses acid thinner than the last row', () => {
    expect(heatOfSolutionJPerKgAcid(0.005)).toMatchObject({ ok: false, error: { code: 'outside-table' } });
    expect(() => heatOfSolutionJPerKgAcid(0)).toThrow(RangeError);
  });
});
