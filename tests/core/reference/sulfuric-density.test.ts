import { describe, expect, it } from 'vitest';
import {
  strengthFromConcentration,
  strengthFromDensity,
  sulfuricDensity,
} from '../../../core/reference/sulfuric-density.ts';
import { waterDensityKgPerM3 } from '../../../core/reference/water-density.ts';
import { valueOf } from '../value-of.ts';

const celsius = (t: number) => t + 273.15;
const densityAt = (percent: number, t: number) => valueOf(sulfuricDensity(percent / 100, celsius(t))).value;

/** Rows entered again by hand from the handbook table at 20 °C (Perry), g/cm³. */
const AT_20: readonly (readonly [number, number])[] = [
  [5, 1.0317],
  [10, 1.0661],
  [15, 1.102],
  [20, 1.1394],
  [25, 1.1783],
  [30, 1.2185],
  [35, 1.2599],
  [37, 1.2769],
  [40, 1.3028],
  [50, 1.3951],
  [60, 1.4983],
  [70, 1.6105],
  [80, 1.7272],
  [90, 1.8144],
  [93, 1.8279],
  [95, 1.8337],
  [96, 1.8355],
  [98, 1.8361],
  [100, 1.8305],
];
/** CRC Handbook values at 20 °C as printed in an open engineering reference, g/cm³. */
const CRC_20: readonly (readonly [number, number])[] = [
  [5, 1.0318],
  [10, 1.0661],
  [20, 1.1398],
  [30, 1.2191],
  [50, 1.3952],
  [70, 1.6105],
  [100, 1.8305],
];
/** Myhre, Nielsen and Saastad, J. Chem. Eng. Data 43 (1998) 617, at 15, 20 and 25 °C, g/cm³. */
const MYHRE: readonly (readonly [number, number, number, number])[] = [
  [10, 1.0679, 1.0659, 1.0637],
  [15, 1.1046, 1.1022, 1.0997],
  [20, 1.1423, 1.1395, 1.1368],
  [25, 1.1816, 1.1785, 1.1756],
  [30, 1.2221, 1.2189, 1.216],
  [35, 1.2637, 1.2604, 1.2575],
  [40, 1.3065, 1.3032, 1.3005],
];
/** Open stratospheric-acid density table at 15 and 25 °C, g/cm³. */
const OPEN_15_25: readonly (readonly [number, number, number])[] = [
  [10, 1.0685, 1.0632],
  [20, 1.1425, 1.1363],
  [30, 1.222, 1.2151],
  [40, 1.3065, 1.2992],
  [60, 1.5024, 1.4943],
  [80, 1.7323, 1.7224],
  [90, 1.8197, 1.8094],
  [96, 1.8407, 1.8308],
];

describe('density of sulfuric acid', () => {
  it.each(AT_20)('is the handbook row at %d %%', (percent, gPerCm3) => {
    // The table itself: only rounding of the printed last digit.
    expect(densityAt(percent, 20) / 1000).toBeCloseTo(gPerCm3, 6);
  });

  it.each(CRC_20)('agrees with CRC at %d %%', (percent, gPerCm3) => {
    // Two handbooks differ by up to 0.0006 at 30 %.
    expect(Math.abs(densityAt(percent, 20) / 1000 - gPerCm3)).toBeLessThan(0.0007);
  });

  it.each(MYHRE)('agrees with Myhre at %d %% from 15 to 25 °C', (percent, at15, at20, at25) => {
    // Up to 40 % the two sources agree within 0.0005 at 15 and 20 °C; at 25 °C they part by up to 0.0013.
    expect(Math.abs(densityAt(percent, 15) / 1000 - at15)).toBeLessThan(0.0006);
    expect(Math.abs(densityAt(percent, 20) / 1000 - at20)).toBeLessThan(0.0006);
    expect(Math.abs(densityAt(percent, 25) / 1000 - at25)).toBeLessThan(0.0014);
  });

  it.each(OPEN_15_25)('agrees with the open table at %d %%, 15 and 25 °C', (percent, at15, at25) => {
    // At 10 % that table is linear in temperature, water is not: 0.0006 either way.
    expect(Math.abs(densityAt(percent, 15) / 1000 - at15)).toBeLessThan(0.0008);
    expect(Math.abs(densityAt(percent, 25) / 1000 - at25)).toBeLessThan(0.0009);
  });

  it('is water’s at no acid (Kell 1975, printed table: 999.70, 998.21, 997.05, 995.65 at 10, 20, 25, 30 °C)', () => {
    for (const [t, kgPerM3] of [
      [10, 999.7],
      [20, 998.21],
      [25, 997.05],
      [30, 995.65],
    ] as const) {
      expect(Math.abs(valueOf(waterDensityKgPerM3(celsius(t))) - kgPerM3)).toBeLessThan(0.01);
    }
  });

  it('inverts to the strength it came from, and refuses what does not tell it', () => {
    for (const percent of [1, 7, 16.2, 37, 62, 88, 95.9]) {
      const strength = valueOf(strengthFromDensity(densityAt(percent, 22), celsius(22)));
      expect(strength * 100).toBeCloseTo(percent, 4);
    }
    expect(strengthFromDensity(1836.2, celsius(20))).toMatchObject({
      ok: false,
      error: { code: 'density-not-unique' },
    });
    expect(strengthFromDensity(990, celsius(20))).toMatchObject({
      ok: false,
      error: { code: 'density-below-water' },
    });
    expect(sulfuricDensity(0.2, celsius(60))).toMatchObject({ ok: false, error: { code: 'outside-table' } });
    expect(sulfuricDensity(1.2, celsius(20))).toMatchObject({ ok: false, error: { code: 'outside-table' } });
  });

  it.each([
    [165, 14.97, 1.102],
    [180, 16.2, 1.111],
    [200, 17.81, 1.123],
  ])('holds %d g/L at %d %%, density %d (Myhre, inverted)', (gPerL, percent, gPerCm3) => {
    const strength = valueOf(strengthFromConcentration(gPerL, celsius(20)));
    // 0.0005 g/cm³ in density is 0.04 % in strength.
    expect(Math.abs(strength * 100 - percent)).toBeLessThan(0.04);
    expect(Math.abs(densityAt(strength * 100, 20) / 1000 - gPerCm3)).toBeLessThan(0.0005);
  });
});
