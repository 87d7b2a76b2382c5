import { describe, expect, it } from 'vitest';
import { readingsFrom } from '../../../core/run/readings.ts';
import {
  nearestReading,
  spokenMoment,
  spokenReading,
  walkTo,
} from '../../../renderer/widgets/walk-readings.ts';

describe('walking along readings by keys', () => {
  it('goes one or ten at a time, to both ends, and never past them', () => {
    const keys = (at: number, ...pressed: string[]): number =>
      pressed.reduce((now, key) => walkTo(key, now, 50, [12, 30])!, at);
    expect(keys(-1, 'ArrowRight')).toBe(12); // the first that is shown
    expect(keys(-1, 'ArrowLeft')).toBe(30); // the last that is shown
    expect(keys(12, 'ArrowRight', 'ArrowUp', 'ArrowLeft')).toBe(13);
    expect(keys(5, 'PageDown')).toBe(0);
    expect(keys(45, 'PageUp')).toBe(49);
    expect(keys(20, 'Home')).toBe(0);
    expect(keys(20, 'End', 'ArrowRight')).toBe(49);
    expect(walkTo('a', 3, 50, [0, 49])).toBeUndefined();
    expect(walkTo('End', -1, 0, [0, 0])).toBeUndefined();
  });

  it('every reading is reached, each once, in order', () => {
    const seen = [walkTo('Home', -1, 7, [0, 6])!];
    while (seen.at(-1)! < 6) seen.push(walkTo('ArrowRight', seen.at(-1)!, 7, [0, 6])!);
    expect(seen).toEqual([0, 1, 2, 3, 4, 5, 6]);
  });

  it('the nearest reading is that of a search through all', () => {
    const tS = [0, 4, 5, 30, 31, 90];
    for (let at = -10; at <= 100; at += 0.5) {
      const best = Math.min(...tS.map((t) => Math.abs(t - at)));
      expect(Math.abs(tS[nearestReading(tS, at)]! - at)).toBe(best);
    }
    expect(nearestReading([], 3)).toBe(-1);
  });
});

describe('a reading in words', () => {
  const at = (tS: number, voltageV: number, currentA: number, celsius?: number) => ({
    tS,
    voltageV,
    currentA,
    ...(celsius === undefined ? {} : { bathTemperatureK: celsius + 273.15 }),
  });
  const readings = readingsFrom(
    [
      at(-45, 0, 0),
      at(0, 9, 1, 20),
      at(5, 10, 2),
      at(10, 11, 3),
      at(15, 12, 3.5),
      at(750, 14.615, 5.6, 21.5),
    ],
    'supply',
  );
  const one = [{ label: 'Plate 10', readings }];

  it('says when, volts, amps and the bath in the reader’s unit', () => {
    expect(spokenReading(one, 0, '°C')).toBe('45 s before power on: 0.00 V, 0.00 A');
    expect(spokenReading(one, 1, '°C')).toBe('0 s: 9.00 V, 1.00 A, bath 20.0 °C');
    expect(spokenReading(one, 1, '°F')).toContain('bath 68.0 °F'); // 20 °C by definition
    expect(spokenReading(one, 2, null)).toBe('5 s: 10.00 V, 2.00 A');
    expect(() => spokenReading(one, 6, null)).toThrow(RangeError);
  });

  it('says how long nothing was read before it', () => {
    // 15 s to 750 s amid readings of 5 s.
    expect(spokenReading(one, 5, null)).toMatch(/^12 min 30 s, after 12 min 15 s without a reading: /);
  });

  it('of two runs says both, and that the other is over', () => {
    const other = readingsFrom([at(0, 8, 1), at(5, 8.5, 1.2)], 'supply');
    const two = [...one, { label: 'Plate 9', readings: other }];
    expect(spokenReading(two, 2, null)).toBe('5 s: 10.00 V, 2.00 A; Plate 9: 8.50 V, 1.20 A');
    expect(spokenReading(two, 5, null)).toMatch(/Plate 9: over by then$/);
  });

  it('moments as they are spoken', () => {
    expect([0, 59.6, 3600, 3661, -0.2].map(spokenMoment)).toEqual([
      '0 s',
      '1 min',
      '1 h',
      '1 h 1 min 1 s',
      '0 s',
    ]);
  });
});
