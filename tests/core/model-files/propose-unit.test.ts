import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { proposeUnit } from '../../../core/model-files/propose-unit.ts';

describe('proposing a unit', () => {
  it.each([
    // The same plate, 200 × 44 × 12 mm, as files in each unit give it.
    [[200, 44, 12], 'mm'],
    [[0.2, 0.044, 0.012], 'm'],
    [[7.874, 1.732, 0.472], 'in'],
    [[8, 1.75, 0.375], 'in'],
    [[4.4, 1.2, 7.3], 'cm'],
    [[25.4, 25.4, 100], 'mm'],
  ] as const)('%j is proposed as %s', (extents, unit) => {
    expect(proposeUnit(extents).unit).toBe(unit);
  });

  it('says why, and is sure of itself only where nothing else fits', () => {
    expect(proposeUnit([200, 44, 12])).toMatchObject({ unit: 'mm', likely: true });
    expect(proposeUnit([200, 44, 12]).reason).toContain('200 mm (7.87 in)');
    expect(proposeUnit([20, 15, 10])).toMatchObject({ unit: 'mm', likely: false });
    expect(proposeUnit([20, 15, 10]).reason).toContain('508 mm');
    expect(proposeUnit([1e6, 1, 1]).likely).toBe(false);
    expect(proposeUnit([1e-6, 1e-6, 0]).likely).toBe(false);
  });

  it('follows a declared unit, which still has to be confirmed', () => {
    expect(proposeUnit([200, 44, 12], 'cm')).toMatchObject({ unit: 'cm', likely: false });
  });

  it('lists every unit with exact sizes (inch = 25.4 mm, foot = 304.8 mm by definition)', () => {
    const { sizes } = proposeUnit([10, 4, 2]);
    const row = (unit: string) => sizes.find((size) => size.unit === unit)!;
    expect(sizes.map((s) => s.unit)).toEqual(['mm', 'cm', 'm', 'in', 'ft']);
    expect(row('mm').mm).toEqual([10, 4, 2]);
    expect(row('in').mm.map((v) => v.toFixed(6))).toEqual(['254.000000', '101.600000', '50.800000']);
    expect(row('ft').mm[0]).toBeCloseTo(3048, 9);
    expect(row('m').inches[2]).toBeCloseTo(2000 / 25.4, 9);
  });

  it('proposes some unit for any extents and throws for what is no part', () => {
    const side = fc.double({ min: 0, max: 1e7, noNaN: true });
    fc.assert(
      fc.property(side, side, fc.double({ min: 1e-9, max: 1e7, noNaN: true }), (a, b, c) => {
        const { reason, sizes } = proposeUnit([a, b, c]);
        return reason.endsWith('.') && sizes.length === 5;
      }),
    );
    expect(() => proposeUnit([0, 0, 0])).toThrow(RangeError);
    expect(() => proposeUnit([NaN, 1, 1])).toThrow(RangeError);
  });
});
