import { describe, expect, it } from 'vitest';
import { numberSizeInch, UNIFIED_SIZES, unifiedThread } from '../../../core/reference/asme-b1-1.ts';
import { ISO_261, isoThread } from '../../../core/reference/iso-965.ts';
import { tapLimitOver } from '../../../core/reference/tap-limits.ts';
import type { ThreadLimits } from '../../../core/reference/thread-limits.ts';
import { valueOf } from '../value-of.ts';

const rounded = (metres: number | null, unitM: number, digits: number) =>
  metres === null ? null : Number((metres / unitM).toFixed(digits));
const mm = (metres: number | null) => rounded(metres, 1e-3, 3);
const inch = (metres: number | null) => rounded(metres, 0.0254, 4);

/** 6H pitch diameter min max, minor diameter min max. M10-M14 from an open chart after ASME B1.13M; the rest ISO 965-2, from memory. */
const NUT: readonly (readonly [number, number, number, number, number, number])[] = [
  [2, 0.4, 1.74, 1.83, 1.567, 1.679],
  [2.5, 0.45, 2.208, 2.303, 2.013, 2.138],
  [3, 0.5, 2.675, 2.775, 2.459, 2.599],
  [3.5, 0.6, 3.11, 3.222, 2.85, 3.01],
  [4, 0.7, 3.545, 3.663, 3.242, 3.422],
  [5, 0.8, 4.48, 4.605, 4.134, 4.334],
  [6, 1, 5.35, 5.5, 4.917, 5.153],
  [7, 1, 6.35, 6.5, 5.917, 6.153],
  [8, 1.25, 7.188, 7.348, 6.647, 6.912],
  [8, 1, 7.35, 7.5, 6.917, 7.153],
  [10, 1.5, 9.026, 9.206, 8.376, 8.676],
  [10, 1.25, 9.188, 9.348, 8.647, 8.912],
  [10, 1, 9.35, 9.5, 8.917, 9.153],
  [10, 0.75, 9.513, 9.645, 9.188, 9.378],
  [12, 1, 11.35, 11.51, 10.917, 11.153],
  [12, 1.75, 10.863, 11.063, 10.106, 10.441],
  [12, 1.5, 11.026, 11.216, 10.376, 10.676],
  [12, 1.25, 11.188, 11.368, 10.647, 10.912],
  [14, 2, 12.701, 12.913, 11.835, 12.21],
  [14, 1.5, 13.026, 13.216, 12.376, 12.676],
  [16, 2, 14.701, 14.913, 13.835, 14.21],
  [16, 1.5, 15.026, 15.216, 14.376, 14.676],
  [18, 2.5, 16.376, 16.6, 15.294, 15.744],
  [18, 1.5, 17.026, 17.216, 16.376, 16.676],
  [20, 2.5, 18.376, 18.6, 17.294, 17.744],
  [20, 1.5, 19.026, 19.216, 18.376, 18.676],
  [22, 2.5, 20.376, 20.6, 19.294, 19.744],
  [24, 3, 22.051, 22.316, 20.752, 21.252],
  [24, 2, 22.701, 22.925, 21.835, 22.21],
];
/** 6g pitch diameter max min, major max min. M2-M12 from open charts after ASME B1.13M; the rest ISO 965-2, from memory. */
const BOLT: readonly (readonly [number, number, number, number, number, number])[] = [
  [2, 0.4, 1.721, 1.654, 1.981, 1.886],
  [2.5, 0.45, 2.188, 2.117, 2.48, 2.38],
  [2.5, 0.35, 2.254, 2.191, 2.481, 2.396],
  [3, 0.35, 2.754, 2.687, 2.981, 2.896],
  [3.5, 0.6, 3.089, 3.004, 3.479, 3.354],
  [4, 0.5, 3.655, 3.58, 3.98, 3.874],
  [5, 0.5, 4.655, 4.58, 4.98, 4.874],
  [6, 0.75, 5.491, 5.391, 5.978, 5.838],
  [7, 1, 6.324, 6.212, 6.974, 6.794],
  [8, 0.75, 7.491, 7.391, 7.978, 7.838],
  [10, 0.75, 9.491, 9.391, 9.978, 9.838],
  [10, 1, 9.324, 9.212, 9.974, 9.794],
  [12, 1, 11.324, 11.206, 11.974, 11.794],
  [3, 0.5, 2.655, 2.58, 2.98, 2.874],
  [4, 0.7, 3.523, 3.433, 3.978, 3.838],
  [5, 0.8, 4.456, 4.361, 4.976, 4.826],
  [6, 1, 5.324, 5.212, 5.974, 5.794],
  [8, 1.25, 7.16, 7.042, 7.972, 7.76],
  [8, 1, 7.324, 7.212, 7.974, 7.794],
  [10, 1.5, 8.994, 8.862, 9.968, 9.732],
  [10, 1.25, 9.16, 9.042, 9.972, 9.76],
  [12, 1.75, 10.829, 10.679, 11.966, 11.701],
  [12, 1.5, 10.994, 10.854, 11.968, 11.732],
  [12, 1.25, 11.16, 11.028, 11.972, 11.76],
  [14, 2, 12.663, 12.503, 13.962, 13.682],
  [16, 2, 14.663, 14.503, 15.962, 15.682],
  [16, 1.5, 14.994, 14.854, 15.968, 15.732],
  [20, 2.5, 18.334, 18.164, 19.958, 19.623],
  [20, 1.5, 18.994, 18.854, 19.968, 19.732],
  [24, 3, 22.003, 21.803, 23.952, 23.577],
  [24, 2, 22.663, 22.493, 23.962, 23.682],
];

describe('ISO 965 threads', () => {
  it.each(NUT)('M%dx%d-6H', (d, p, pitchLow, pitchHigh, minorLow, minorHigh) => {
    const limits = valueOf(isoThread(d, p, '6H'));
    expect([mm(limits.pitchDiameter.lowM), mm(limits.pitchDiameter.highM)]).toEqual([pitchLow, pitchHigh]);
    expect([mm(limits.minorDiameter.lowM), mm(limits.minorDiameter.highM)]).toEqual([minorLow, minorHigh]);
  });

  it.each(BOLT)('M%dx%d-6g', (d, p, pitchHigh, pitchLow, majorHigh, majorLow) => {
    const limits = valueOf(isoThread(d, p, '6g'));
    expect([mm(limits.pitchDiameter.highM), mm(limits.pitchDiameter.lowM)]).toEqual([pitchHigh, pitchLow]);
    expect([mm(limits.majorDiameter.highM), mm(limits.majorDiameter.lowM)]).toEqual([majorHigh, majorLow]);
  });

  it('every thread held follows the standard’s formulas within the 6 % its rounding takes', () => {
    const steps = [1.4, 2.8, 5.6, 11.2, 22.4, 45];
    for (const [d, coarse, fine] of ISO_261) {
      for (const p of [coarse, ...fine]) {
        const i = steps.findIndex((top) => d <= top);
        const mean = Math.sqrt(steps[i - 1]! * steps[i]!);
        const bolt = valueOf(isoThread(d, p, '6g'));
        const nut = valueOf(isoThread(d, p, '6H'));
        const width = (w: ThreadLimits) => (w.pitchDiameter.highM - w.pitchDiameter.lowM) * 1e6;
        const td2 = 90 * p ** 0.4 * mean ** 0.1;
        expect(Math.abs(width(bolt) / td2 - 1)).toBeLessThan(0.06);
        expect(Math.abs(width(nut) / (1.32 * td2) - 1)).toBeLessThan(0.06);
        const td = 180 * p ** (2 / 3) - 3.15 / Math.sqrt(p);
        const major = (bolt.majorDiameter.highM! - bolt.majorDiameter.lowM!) * 1e6;
        expect(Math.abs(major / td - 1)).toBeLessThan(0.06);
        const td1 = p >= 1 ? 230 * p ** 0.7 : 433 * p - 190 * p ** 1.22;
        const minor = (nut.minorDiameter.highM! - nut.minorDiameter.lowM!) * 1e6;
        expect(Math.abs(minor / td1 - 1)).toBeLessThan(0.06);
        const gap = (d / 1000 - bolt.majorDiameter.highM!) * 1e6;
        // Whole micrometres of 15 + 11·P, evened out below 1 mm pitch.
        expect(Math.abs(gap - (15 + 11 * p))).toBeLessThan(1.6);
      }
    }
  });

  it('6G lies above 6H as 6g below 6h, and a coated thread may go to H and h (ISO 965-1)', () => {
    // M6x1: 26 µm; a chart of taps prints M6 6G from 5.376 to 5.526 as 26 to 176 µm over basic.
    const at = (c: string) => valueOf(isoThread(6, 1, c));
    expect([mm(at('6G').pitchDiameter.lowM), mm(at('6G').pitchDiameter.highM)]).toEqual([5.376, 5.526]);
    expect([mm(at('6h').pitchDiameter.lowM), mm(at('6h').pitchDiameter.highM)]).toEqual([5.238, 5.35]);
    expect(at('6G').coatedPitch.lowM).toBeCloseTo(at('6H').pitchDiameter.lowM, 12);
    expect(at('6g').coatedPitch.highM).toBeCloseTo(at('6h').pitchDiameter.highM, 12);
    expect([at('6H').gauge.allowanceM, at('6h').gauge.allowanceM]).toEqual([0, 0]);
  });

  it('takes the coarse pitch when none is given, and refuses what it does not hold', () => {
    expect(valueOf(isoThread(6, null, '6H')).designation).toBe('M6x1-6H');
    for (const [d, p, c] of [
      [30, 3.5, '6H'],
      [6, 0.5, '6H'],
      [6, 1, '4h'],
      [2, 0.25, '6H'],
    ] as const) {
      expect(isoThread(d, p, c)).toMatchObject({ ok: false, error: { code: 'thread-not-held' } });
    }
  });
});

/** Size, tpi, 2A pitch diameter max min, 2B min max, 2B minor min max (inch). ASME B1.1 tables: 2B from open charts of coarse and fine, 2A from memory. */
const UNIFIED: readonly (readonly [
  string,
  number,
  number,
  number,
  number,
  number,
  number | null,
  number | null,
])[] = [
  ['4', 40, 0.095, 0.0925, 0.0958, 0.0991, 0.0849, 0.0939],
  ['5', 40, 0.108, 0.1054, 0.1088, 0.1121, 0.0979, 0.1062],
  ['6', 32, 0.1169, 0.1141, 0.1177, 0.1214, 0.104, 0.114],
  ['8', 32, 0.1428, 0.1399, 0.1437, 0.1475, 0.13, 0.139],
  ['10', 24, 0.1619, 0.1586, 0.1629, 0.1672, 0.145, 0.156],
  ['12', 24, 0.1879, 0.1845, 0.1889, 0.1933, 0.171, 0.181],
  ['1/4', 20, 0.2164, 0.2127, 0.2175, 0.2224, 0.196, 0.207],
  ['5/16', 18, 0.2752, 0.2712, 0.2764, 0.2817, 0.252, 0.265],
  ['3/8', 16, 0.3331, 0.3287, 0.3344, 0.3401, 0.307, 0.321],
  ['7/16', 14, 0.3897, 0.385, 0.3911, 0.3972, 0.36, 0.376],
  ['1/2', 13, 0.4485, 0.4435, 0.45, 0.4565, 0.417, 0.434],
  ['9/16', 12, 0.5068, 0.5016, 0.5084, 0.5152, 0.472, 0.49],
  ['5/8', 11, 0.5644, 0.5589, 0.566, 0.5732, 0.527, 0.546],
  ['3/4', 10, 0.6832, 0.6773, 0.685, 0.6927, 0.642, 0.663],
  ['7/8', 9, 0.8009, 0.7946, 0.8028, 0.811, 0.755, 0.778],
  ['1', 8, 0.9168, 0.91, 0.9188, 0.9276, 0.865, 0.89],
  ['4', 48, 0.0978, 0.0954, 0.0985, 0.1016, null, null],
  ['5', 44, 0.1095, 0.107, 0.1102, 0.1134, null, null],
  ['6', 40, 0.121, 0.1184, 0.1218, 0.1252, null, null],
  ['8', 36, 0.1452, 0.1424, 0.146, 0.1496, null, null],
  ['10', 32, 0.1688, 0.1658, 0.1697, 0.1736, 0.156, 0.164],
  ['12', 28, 0.1918, 0.1886, 0.1928, 0.197, null, null],
  ['1/4', 28, 0.2258, 0.2225, 0.2268, 0.2311, null, null],
  ['5/16', 24, 0.2843, 0.2806, 0.2854, 0.2902, null, null],
  ['3/8', 24, 0.3468, 0.343, 0.3479, 0.3528, null, null],
  ['7/16', 20, 0.4037, 0.3995, 0.405, 0.4104, null, null],
  ['1/2', 20, 0.4662, 0.4619, 0.4675, 0.4731, null, null],
  ['9/16', 18, 0.525, 0.5205, 0.5264, 0.5323, null, null],
  ['5/8', 18, 0.5875, 0.5828, 0.5889, 0.5949, null, null],
  ['3/4', 16, 0.7079, 0.7029, 0.7094, 0.7159, null, null],
  ['7/8', 14, 0.827, 0.8216, 0.8286, 0.8356, null, null],
  ['1', 12, 0.9441, 0.9382, 0.9459, 0.9535, null, null],
];

describe('ASME B1.1 threads', () => {
  // The tables are printed to 0.0001 in, and each digit is met.
  const lastDigit = 0.00001;
  it.each(UNIFIED)(
    '%s-%d 2A and 2B',
    (size, tpi, boltHigh, boltLow, nutLow, nutHigh, minorLow, minorHigh) => {
      const bolt = valueOf(unifiedThread(size, tpi, '2A'));
      const nut = valueOf(unifiedThread(size, tpi, '2B'));
      expect(Math.abs(inch(bolt.pitchDiameter.highM)! - boltHigh)).toBeLessThan(lastDigit);
      expect(Math.abs(inch(bolt.pitchDiameter.lowM)! - boltLow)).toBeLessThan(lastDigit);
      expect(Math.abs(inch(nut.pitchDiameter.lowM)! - nutLow)).toBeLessThan(lastDigit);
      expect(Math.abs(inch(nut.pitchDiameter.highM)! - nutHigh)).toBeLessThan(lastDigit);
      if (minorLow !== null) expect(inch(nut.minorDiameter.lowM)).toBeCloseTo(minorLow, 4);
      if (minorHigh !== null) expect(inch(nut.minorDiameter.highM)).toBeCloseTo(minorHigh, 4);
    },
  );

  it.each([
    ['1/4', 20, 0.2489, 0.2408],
    ['3/8', 16, 0.3737, 0.3643],
    ['1/2', 13, 0.4985, 0.4876],
    ['10', 32, 0.1891, 0.1831],
    ['4', 40, 0.1112, 0.1061],
    ['4', 48, 0.1113, 0.1068],
    ['5', 44, 0.1243, 0.1195],
    ['6', 32, 0.1372, 0.1312],
    ['8', 36, 0.1632, 0.1577],
    ['10', 24, 0.189, 0.1818],
    ['12', 28, 0.215, 0.2085],
  ])('%s-%d 2A major diameter %d to %d in (open chart; 1/4 and up from memory)', (size, tpi, high, low) => {
    const { majorDiameter } = valueOf(unifiedThread(size, tpi, '2A'));
    expect(Math.abs(inch(majorDiameter.highM)! - high)).toBeLessThan(lastDigit);
    expect(Math.abs(inch(majorDiameter.lowM)! - low)).toBeLessThan(lastDigit);
  });

  // Classes 1 and 3 as the tables of limits of size print them. 3B pitch diameters from an open tap chart (#4 to 3/4), 5/8 in from an
  // open table of the whole standard series, 1B of 1/4-20 from a chart of tap limits; the rest from memory of the handbook's table.
  it.each([
    ['1/4', 20, '1A', 0.2164, 0.2108],
    ['1/4', 20, '3A', 0.2175, 0.2147],
    ['1/4', 20, '1B', 0.2248, 0.2175],
    ['1/4', 20, '3B', 0.2211, 0.2175],
    ['1/4', 28, '1A', 0.2258, 0.2208],
    ['1/4', 28, '3A', 0.2268, 0.2243],
    ['1/4', 28, '3B', 0.23, 0.2268],
    ['3/8', 16, '1A', 0.3331, 0.3266],
    ['3/8', 16, '3A', 0.3344, 0.3311],
    ['3/8', 16, '1B', 0.3429, 0.3344],
    ['3/8', 16, '3B', 0.3387, 0.3344],
    ['1/2', 13, '1A', 0.4485, 0.4411],
    ['1/2', 13, '3A', 0.45, 0.4463],
    ['1/2', 13, '1B', 0.4597, 0.45],
    ['1/2', 13, '3B', 0.4548, 0.45],
    ['5/8', 11, '1A', 0.5644, 0.5561],
    ['5/8', 11, '3A', 0.566, 0.5619],
    ['5/8', 18, '1A', 0.5875, 0.5805],
    ['5/8', 18, '3A', 0.5889, 0.5854],
    ['4', 40, '3B', 0.0982, 0.0958],
    ['4', 48, '3B', 0.1008, 0.0985],
    ['5', 40, '3B', 0.1113, 0.1088],
    ['5', 44, '3B', 0.1126, 0.1102],
    ['6', 32, '3B', 0.1204, 0.1177],
    ['6', 40, '3B', 0.1243, 0.1218],
    ['8', 32, '3B', 0.1465, 0.1437],
    ['8', 36, '3B', 0.1487, 0.146],
    ['10', 24, '3B', 0.1661, 0.1629],
    ['10', 32, '3B', 0.1726, 0.1697],
    ['12', 24, '3B', 0.1922, 0.1889],
    ['12', 28, '3B', 0.1959, 0.1928],
    ['5/16', 18, '3B', 0.2803, 0.2764],
    ['5/16', 24, '3B', 0.289, 0.2854],
    ['3/8', 24, '3B', 0.3516, 0.3479],
    ['7/16', 14, '3B', 0.3957, 0.3911],
    ['7/16', 20, '3B', 0.4091, 0.405],
    ['1/2', 20, '3B', 0.4717, 0.4675],
    ['9/16', 12, '3B', 0.5135, 0.5084],
    ['9/16', 18, '3B', 0.5308, 0.5264],
    ['5/8', 11, '3B', 0.5714, 0.566],
    ['5/8', 18, '3B', 0.5934, 0.5889],
    ['3/4', 10, '3B', 0.6907, 0.685],
    // From memory of the handbook's table, all of them.
    ['4', 40, '3A', 0.0958, 0.0939],
    ['4', 48, '3A', 0.0985, 0.0967],
    ['5', 40, '3A', 0.1088, 0.1069],
    ['5', 44, '3A', 0.1102, 0.1083],
    ['6', 32, '3A', 0.1177, 0.1156],
    ['6', 40, '3A', 0.1218, 0.1198],
    ['8', 32, '3A', 0.1437, 0.1415],
    ['8', 36, '3A', 0.146, 0.1439],
    ['10', 24, '3A', 0.1629, 0.1604],
    ['10', 32, '3A', 0.1697, 0.1674],
    ['12', 24, '3A', 0.1889, 0.1863],
    ['12', 28, '3A', 0.1928, 0.1904],
    ['5/16', 18, '3A', 0.2764, 0.2734],
    ['5/16', 24, '3A', 0.2854, 0.2827],
    ['3/8', 24, '3A', 0.3479, 0.345],
    ['7/16', 14, '3A', 0.3911, 0.3876],
    ['7/16', 20, '3A', 0.405, 0.4019],
    ['1/2', 20, '3A', 0.4675, 0.4643],
    ['9/16', 12, '3A', 0.5084, 0.5045],
    ['9/16', 18, '3A', 0.5264, 0.523],
    ['3/4', 10, '3A', 0.685, 0.6806],
    ['3/4', 16, '3A', 0.7094, 0.7056],
    ['7/8', 9, '3A', 0.8028, 0.7981],
    ['7/8', 14, '3A', 0.8286, 0.8245],
    ['1', 8, '3A', 0.9188, 0.9137],
    ['1', 12, '3A', 0.9459, 0.9415],
    ['5/16', 18, '1A', 0.2752, 0.2691],
    ['5/16', 24, '1A', 0.2843, 0.2788],
    ['3/8', 24, '1A', 0.3468, 0.3411],
    ['7/16', 14, '1A', 0.3897, 0.3826],
    ['7/16', 20, '1A', 0.4037, 0.3975],
    ['1/2', 20, '1A', 0.4662, 0.4598],
    ['9/16', 12, '1A', 0.5068, 0.499],
    ['9/16', 18, '1A', 0.525, 0.5182],
    ['3/4', 10, '1A', 0.6832, 0.6744],
    ['3/4', 16, '1A', 0.7079, 0.7004],
    ['7/8', 9, '1A', 0.8009, 0.7914],
    ['7/8', 14, '1A', 0.827, 0.8189],
    ['1', 8, '1A', 0.9168, 0.9067],
    ['1', 12, '1A', 0.9441, 0.9353],
    ['1/4', 28, '1B', 0.2333, 0.2268],
    ['5/16', 18, '1B', 0.2843, 0.2764],
    ['5/16', 24, '1B', 0.2925, 0.2854],
    ['3/8', 24, '1B', 0.3553, 0.3479],
    ['7/16', 14, '1B', 0.4003, 0.3911],
    ['7/16', 20, '1B', 0.4131, 0.405],
    ['1/2', 20, '1B', 0.4759, 0.4675],
    ['9/16', 12, '1B', 0.5186, 0.5084],
    ['9/16', 18, '1B', 0.5353, 0.5264],
    ['5/8', 11, '1B', 0.5767, 0.566],
    ['5/8', 18, '1B', 0.598, 0.5889],
    ['3/4', 10, '1B', 0.6965, 0.685],
    ['3/4', 16, '1B', 0.7192, 0.7094],
    ['7/8', 9, '1B', 0.8151, 0.8028],
    ['7/8', 14, '1B', 0.8392, 0.8286],
    ['1', 8, '1B', 0.932, 0.9188],
    ['1', 12, '1B', 0.9573, 0.9459],
    ['3/4', 16, '3B', 0.7143, 0.7094],
    ['7/8', 9, '3B', 0.8089, 0.8028],
    ['7/8', 14, '3B', 0.8339, 0.8286],
    ['1', 8, '3B', 0.9254, 0.9188],
    ['1', 12, '3B', 0.9516, 0.9459],
  ] as const)('%s-%d-%s pitch diameter %d to %d in', (size, tpi, toleranceClass, high, low) => {
    const { pitchDiameter } = valueOf(unifiedThread(size, tpi, toleranceClass));
    expect(Math.abs(inch(pitchDiameter.highM)! - high)).toBeLessThan(lastDigit);
    expect(Math.abs(inch(pitchDiameter.lowM)! - low)).toBeLessThan(lastDigit);
  });

  // ASME B1.1's formula, worked out here without any rounding: the printed digits are within half of the last one.
  it('every tolerance and allowance is the formula’s to half of the last digit', () => {
    // Where it ends in a half, tables print either.
    const half = 0.00005 * 1.01;
    for (const [size, d, ...pitches] of UNIFIED_SIZES) {
      for (const tpi of pitches) {
        const bolt = 0.0015 * d ** (1 / 3) + 0.0015 * d ** 0.5 + 0.015 * (1 / tpi) ** (2 / 3);
        const factors = { '1A': 1.5, '2A': 1, '3A': 0.75, '1B': 1.95, '2B': 1.3, '3B': 0.975 };
        for (const [name, factor] of Object.entries(factors)) {
          const thread = unifiedThread(size, tpi, name);
          if (!thread.ok) continue;
          const { pitchDiameter, gauge } = thread.value;
          const width = (pitchDiameter.highM - pitchDiameter.lowM) / 0.0254;
          expect(Math.abs(width - factor * bolt), `${size}-${tpi}-${name}`).toBeLessThan(half);
          const allowance = name === '1A' || name === '2A' ? 0.3 * bolt : 0;
          expect(Math.abs(gauge.allowanceM / 0.0254 - allowance), `${size}-${tpi}-${name}`).toBeLessThan(
            half,
          );
        }
      }
    }
  });

  // 5/8 in from the same open table; the others from memory.
  it.each([
    ['5/8', 11, '3B', 0.527, 0.5391],
    ['5/8', 18, '3B', 0.565, 0.573],
    ['5/8', 11, '1B', 0.527, 0.546],
    ['1/4', 20, '3B', 0.196, 0.2067],
    ['3/8', 16, '3B', 0.307, 0.3182],
    ['1/2', 13, '3B', 0.417, 0.4284],
    ['10', 32, '3B', 0.156, 0.1641],
    ['6', 32, '3B', 0.104, 0.114],
    ['4', 40, '3B', 0.0849, 0.0939],
  ] as const)('%s-%d-%s minor diameter %d to %d in', (size, tpi, toleranceClass, low, high) => {
    const { minorDiameter } = valueOf(unifiedThread(size, tpi, toleranceClass));
    expect(Math.abs(inch(minorDiameter.lowM)! - low)).toBeLessThan(lastDigit);
    expect(Math.abs(inch(minorDiameter.highM)! - high)).toBeLessThan(lastDigit);
  });

  it.each([
    ['5/8', 11, '1A', 0.6234, 0.6052],
    ['5/8', 11, '3A', 0.625, 0.6129],
    ['5/8', 18, '1A', 0.6236, 0.6105],
    ['5/8', 18, '3A', 0.625, 0.6163],
    ['1/4', 20, '1A', 0.2489, 0.2367],
    ['1/4', 20, '3A', 0.25, 0.2419],
  ] as const)('%s-%d-%s major diameter %d to %d in (5/8 in open table, 1/4 from memory)', (...row) => {
    const [size, tpi, toleranceClass, high, low] = row;
    const { majorDiameter } = valueOf(unifiedThread(size, tpi, toleranceClass));
    expect(Math.abs(inch(majorDiameter.highM)! - high)).toBeLessThan(lastDigit);
    expect(Math.abs(inch(majorDiameter.lowM)! - low)).toBeLessThan(lastDigit);
  });

  it.each([
    ['1/4', 20, 0.0011],
    ['5/16', 18, 0.0012],
    ['3/8', 16, 0.0013],
    ['7/16', 14, 0.0014],
    ['1/2', 13, 0.0015],
    ['9/16', 12, 0.0016],
    ['5/8', 11, 0.0016],
    ['3/4', 10, 0.0018],
    ['7/8', 9, 0.0019],
    ['1', 8, 0.002],
  ])(
    '%s-%d leaves 1A and 2A %d in for a coating (an open specification’s table after ASME B1.1)',
    (size, tpi, inches) => {
      for (const toleranceClass of ['1A', '2A']) {
        const { gauge, coatedPitch, pitchDiameter } = valueOf(unifiedThread(size, tpi, toleranceClass));
        expect(inch(gauge.allowanceM)).toBe(inches);
        expect(inch(coatedPitch.highM - pitchDiameter.highM)).toBe(inches);
        // Basic size, as 3A's most and 2B's least.
        expect(coatedPitch.highM).toBeCloseTo(
          valueOf(unifiedThread(size, tpi, '3A')).pitchDiameter.highM,
          12,
        );
        expect(coatedPitch.highM).toBeCloseTo(valueOf(unifiedThread(size, tpi, '2B')).pitchDiameter.lowM, 12);
      }
      expect(valueOf(unifiedThread(size, tpi, '3A')).gauge.allowanceM).toBe(0);
    },
  );

  it('ground taps: 1/4-20 H5 is 0.2195 to 0.2200 in, each limit 0.0005 in (two open tool catalogues)', () => {
    const basic = valueOf(unifiedThread('1/4', 20, '2B')).pitchDiameter.lowM;
    const inches = (thousandths: number) => thousandths * 25.4e-6;
    const h5 = valueOf(tapLimitOver(inches(1.6)));
    expect(h5.name).toBe('H5');
    expect([inch(basic + h5.lowM), inch(basic + h5.highM)]).toEqual([0.2195, 0.22]);
    expect(valueOf(tapLimitOver(0)).name).toBe('H1');
    expect(valueOf(tapLimitOver(inches(1))).name).toBe('H3');
    expect(valueOf(tapLimitOver(inches(4.5))).name).toBe('H10');
    expect(tapLimitOver(inches(4.6))).toMatchObject({ ok: false, error: { code: 'tap-not-held' } });
    expect(() => tapLimitOver(-1e-6)).toThrow(RangeError);
  });

  it('says which of them were read in a chart', () => {
    const standing = (d: number, c: string) => valueOf(isoThread(d, null, c)).source.standing;
    expect([standing(6, '6g'), standing(16, '6g'), standing(12, '6H'), standing(6, '6H')]).toEqual([
      'published',
      'from memory',
      'published',
      'from memory',
    ]);
    expect(valueOf(unifiedThread('1/4', 20, '2B')).source.standing).toBe('published');
    expect(valueOf(unifiedThread('1/4', 20, '2A')).source.standing).toBe('published');
    expect(valueOf(unifiedThread('1/4', 20, '1B')).source.standing).toBe('from memory');
  });

  it('number sizes are 0.060 + 0.013·n inch', () => {
    for (const [size, diameter] of UNIFIED_SIZES) {
      if (!size.includes('/') && size !== '1') expect(numberSizeInch(Number(size))).toBe(diameter);
    }
  });

  it('refuses what it does not hold', () => {
    expect(unifiedThread('1/4', 24, '2B')).toMatchObject({ ok: false, error: { code: 'thread-not-held' } });
    expect(unifiedThread('2', 56, '2B')).toMatchObject({ ok: false, error: { code: 'thread-not-held' } });
    expect(unifiedThread('1/4', 20, '4B')).toMatchObject({ ok: false, error: { code: 'thread-not-held' } });
    const small = unifiedThread('10', 32, '1A');
    expect(small).toMatchObject({ ok: false, error: { message: 'ASME B1.1 has no class 1A below 1/4 in.' } });
  });
});
