import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { packReadings, unpackReadings } from '../../../core/run/pack-readings.ts';
import { readingsFrom, type Reading } from '../../../core/run/readings.ts';
import { seededRandom } from '../../../core/run/seeded-random.ts';

const finite = fc.double({ noNaN: true, noDefaultInfinity: true });
const decimal = (places: number) =>
  fc.integer({ min: -1e9, max: 1e9 }).map((whole) => Number((whole / 10 ** places).toFixed(places)));
const value = fc.oneof(finite, decimal(0), decimal(2), decimal(4));
const reading = fc.record(
  {
    voltageV: value,
    currentA: value,
    bathTemperatureK: value,
    stepS: fc.double({ min: 0, max: 1e6, noNaN: true }),
  },
  { requiredKeys: ['voltageV', 'currentA', 'stepS'] },
);
const list = fc.array(reading, { maxLength: 60 }).map((raw): Reading[] => {
  let tS = 0;
  return raw.map(({ stepS, ...rest }) => ({ ...rest, tS: (tS += stepS) }));
});

describe('packReadings', () => {
  it('gives back every bit of any readings', () => {
    fc.assert(
      fc.property(list, fc.constantFrom('supply', 'log', 'typed', 'simulated'), (raw, origin) => {
        const readings = readingsFrom(raw, origin);
        const back = unpackReadings(packReadings(readings));
        expect(back).toEqual({ ok: true, value: readings });
      }),
      { numRuns: 300 },
    );
  });

  it('keeps the sign of zero and whole numbers too large for differences', () => {
    const readings = readingsFrom(
      [
        { tS: 0, voltageV: -0, currentA: 2 ** 60 },
        { tS: 1, voltageV: 0, currentA: -(2 ** 60) },
      ],
      'log',
    );
    const back = unpackReadings(packReadings(readings));
    expect(back.ok && Object.is(back.value.voltageV[0], -0)).toBe(true);
    expect(back.ok && back.value.currentA[1]).toBe(-(2 ** 60));
  });

  it('takes two hours of a second each in less than a fifth of float64', () => {
    const random = seededRandom(1);
    const readings = readingsFrom(
      Array.from({ length: 7200 }, (_, tS) => ({
        tS,
        voltageV: Number((15 + 0.15 * random.normal()).toFixed(2)),
        currentA: Number((4.53 + 0.045 * random.normal()).toFixed(3)),
        bathTemperatureK: Number((293.15 + 0.1 * Math.round(random.normal())).toFixed(2)),
      })),
      'supply',
    );
    // Four columns of eight bytes are 230 400 bytes; 1 % noise at these steps is worth about 5, 8 and 2 bits a reading.
    expect(packReadings(readings).length).toBeLessThan(230_400 / 5);
  });

  it('finds any changed byte and never fills memory from a broken count', () => {
    const bytes = packReadings(
      readingsFrom(
        Array.from({ length: 50 }, (_, i) => ({ tS: i, voltageV: i / 10, currentA: 1 })),
        'log',
      ),
    );
    for (let i = 1; i < bytes.length; i++) {
      const broken = bytes.slice();
      broken[i]! ^= 0x55;
      const back = unpackReadings(broken);
      expect(back.ok ? 'accepted' : back.error.code).toBe('readings-damaged');
    }
    expect(unpackReadings(new Uint8Array()).ok).toBe(false);
    expect(unpackReadings(bytes.slice(0, 20)).ok).toBe(false);
  });

  it('says that a later version wrote it', () => {
    const bytes = packReadings(readingsFrom([], 'log'));
    bytes[0] = 200;
    const back = unpackReadings(bytes);
    expect(back.ok ? '' : back.error.code).toBe('readings-newer');
  });

  it('refuses times that go back and values that are none', () => {
    const at = (tS: number, voltageV = 1) => ({ tS, voltageV, currentA: 1 });
    expect(() => readingsFrom([at(1), at(0)], 'log')).toThrow(/tS\[1\]/);
    expect(() => readingsFrom([at(0, NaN)], 'log')).toThrow(/voltageV\[0\]/);
  });
});
