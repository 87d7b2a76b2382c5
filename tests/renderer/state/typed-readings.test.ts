import { describe, expect, it } from 'vitest';
import { readingsFrom } from '../../../core/run/readings.ts';
import { isZeroAtPowerOn, typedReadings } from '../../../renderer/state/typed-readings.ts';

describe('the zero at power on', () => {
  it('comes by itself with the first that is typed after a ramp, and is none that was typed', () => {
    const first = typedReadings({ voltageV: 5, currentA: 1 }, 30, null, 300);
    if (!first.ok) throw new Error(first.error.message);
    const readings = readingsFrom(first.value, 'typed');
    expect([0, 1].map((place) => isZeroAtPowerOn(readings, place))).toEqual([true, false]);
    const next = typedReadings({ voltageV: 0, currentA: 0 }, 60, 30, 300);
    expect(next.ok && next.value).toHaveLength(1);
  });

  it('of a supply that is read, or a log, is a reading', () => {
    for (const origin of ['supply', 'log'] as const)
      expect(isZeroAtPowerOn(readingsFrom([{ tS: 0, voltageV: 0, currentA: 0 }], origin), 0)).toBe(false);
  });
});
