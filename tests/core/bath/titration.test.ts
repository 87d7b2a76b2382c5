import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hydrometerStrength } from '../../../core/bath/hydrometer.ts';
import { titrate } from '../../../core/bath/titration.ts';
import { valueOf } from '../value-of.ts';

const mL = 1e-6;

describe('titration', () => {
  it.each([
    [10, 36.7],
    [5, 18.35],
  ])('%d mL of 180 g/L takes %d mL of 1 mol/L lye (worked example from atomic weights)', (sample, used) => {
    const bath = valueOf(
      titrate({ sampleM3: sample * mL, lyeMolPerL: 1, totalM3: used * mL, fluorideM3: null }),
    );
    // 0.005 mL of rounding in the example is 0.05 g/L.
    expect(Math.abs(bath.totalAcid.valueSi - 180)).toBeLessThan(0.06);
    expect(bath.freeAcid).toBeNull();
    expect(bath.totalAcid.highSi! - bath.totalAcid.lowSi!).toBeCloseTo((2 * 0.05 * 49.04) / sample, 2);
  });

  it('10 mL with 8 g/L of aluminium: A 45.60 mL, B 36.70 mL, total 223.6 g/L', () => {
    const bath = valueOf(
      titrate({ sampleM3: 10 * mL, lyeMolPerL: 1, totalM3: 45.6 * mL, fluorideM3: 36.7 * mL }),
    );
    expect(Math.abs(bath.freeAcid!.valueSi - 180)).toBeLessThan(0.06);
    expect(Math.abs(bath.aluminium!.valueSi - 8)).toBeLessThan(0.01);
    expect(Math.abs(bath.totalAcid.valueSi - 223.6)).toBeLessThan(0.1);
  });

  it('has the printed factors: 4.9 and 0.9 for 10 mL, 9.8 and 1.797 for 5 mL (trade journal; open note)', () => {
    const factors = (sample: number) => {
      const bath = valueOf(
        titrate({ sampleM3: sample * mL, lyeMolPerL: 1, totalM3: 2 * mL, fluorideM3: 1 * mL }),
      );
      return [bath.freeAcid!.valueSi, bath.aluminium!.valueSi] as const;
    };
    // The printed factors are rounded to two digits.
    expect(factors(10)[0]).toBeCloseTo(4.9, 1);
    expect(factors(10)[1]).toBeCloseTo(0.9, 2);
    expect(factors(5)[0]).toBeCloseTo(9.8, 1);
    expect(factors(5)[1]).toBeCloseTo(1.797, 2);
  });

  it('total acid is free acid plus 5.45 g for every gram of aluminium', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 50, noNaN: true }),
        fc.double({ min: 0, max: 15, noNaN: true }),
        fc.double({ min: 0.2, max: 2, noNaN: true }),
        (free, more, lyeMolPerL) => {
          const bath = valueOf(
            titrate({ sampleM3: 10 * mL, lyeMolPerL, totalM3: (free + more) * mL, fluorideM3: free * mL }),
          );
          const tied = bath.totalAcid.valueSi - bath.freeAcid!.valueSi;
          // 3·98.079/(2·26.9815) = 5.4526; closed to rounding.
          expect(tied).toBeCloseTo(((3 * 98.079) / (2 * 26.9815)) * bath.aluminium!.valueSi, 8);
        },
      ),
    );
  });

  it('refuses readings in the wrong order and empty ones', () => {
    expect(
      titrate({ sampleM3: 10 * mL, lyeMolPerL: 1, totalM3: 30 * mL, fluorideM3: 36 * mL }),
    ).toMatchObject({ ok: false, error: { code: 'titration-order' } });
    expect(titrate({ sampleM3: 0, lyeMolPerL: 1, totalM3: 30 * mL, fluorideM3: null })).toMatchObject({
      ok: false,
      error: { code: 'titration-input' },
    });
  });
});

describe('hydrometer', () => {
  const read = (specificGravity: number, t: number, aluminiumKgPerM3: number | null = 0) =>
    valueOf(
      hydrometerStrength({ specificGravity, sampleK: t + 273.15, calibrationK: 293.15, aluminiumKgPerM3 }),
    );

  it('reads a 180 g/L bath: density 1.1110 at 20 °C is 1.1130 relative to water', () => {
    // 1.1110/0.99821; ±0.0005 g/cm³ is ±4 g/L.
    expect(Math.abs(read(1.113, 20).concentration.valueSi - 180)).toBeLessThan(4);
  });

  it('gives the same bath at 15 and 25 °C (Myhre: 16.2 % is 1.1136 at 15 °C, 1.1085 at 25 °C)', () => {
    const fromDensity = (gPerCm3: number, t: number) =>
      read(gPerCm3 / 0.998207 / (1 - 25e-6 * (t - 20)), t).strength.valueSi * 100;
    // Myhre between its 15 and 20 % rows, read linearly; 0.0005 g/cm³ is 0.07 %.
    expect(Math.abs(fromDensity(1.1046 + (1.1423 - 1.1046) * 0.24, 15) - 16.2)).toBeLessThan(0.1);
    expect(Math.abs(fromDensity(1.0997 + (1.1368 - 1.0997) * 0.24, 25) - 16.2)).toBeLessThan(0.1);
  });

  it('10 g/L of aluminium reads as 85 to 95 g/L of acid too much (from memory)', () => {
    const plain = read(1.113, 20, 0).concentration.valueSi;
    const corrected = read(1.113, 20, 10).concentration;
    expect(plain - corrected.lowSi!).toBeGreaterThan(plain - corrected.highSi!);
    expect(plain - corrected.highSi!).toBeGreaterThan(80);
    expect(plain - corrected.lowSi!).toBeLessThan(98);
    expect(corrected.source.standing).toBe('from memory');
  });

  it('says that aluminium was not counted, and refuses nonsense', () => {
    expect(read(1.113, 20, null).warning).toMatch(/aluminium/);
    expect(read(1.113, 20, 4).warning).toBeNull();
    expect(
      hydrometerStrength({ specificGravity: 0.9, sampleK: 293, calibrationK: 293, aluminiumKgPerM3: null }),
    ).toMatchObject({ ok: false, error: { code: 'hydrometer-reading' } });
    expect(
      hydrometerStrength({ specificGravity: 1.1, sampleK: 293, calibrationK: 293, aluminiumKgPerM3: 80 }),
    ).toMatchObject({ ok: false, error: { code: 'aluminium-out-of-range' } });
  });
});
