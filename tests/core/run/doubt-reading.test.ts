/** What is asked about, by the numbers of a bench supply of 30 V and 10 A and a plan of 3.2 A at about 15 V. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { doubtReading, type DoubtContext } from '../../../core/run/doubt-reading.ts';
import { mayBeSlip } from '../../../core/run/typed-slip.ts';

const context: DoubtContext = {
  plannedA: 3.2,
  expectedVoltageV: 15,
  supplyVoltageLimitV: 30,
  supplyCurrentLimitA: 10,
  bathTemperatureK: 293.15,
  last: null,
  isLastSettled: true,
  system: 'metric',
};
const reason = (voltageV: number, currentA: number, more: Partial<DoubtContext> = {}): string | null =>
  doubtReading({ voltageV, currentA }, { ...context, ...more })?.reason ?? null;

describe('a typed reading is asked about', () => {
  it('where the supply can not give it', () => {
    expect(reason(145, 3.2)).toBe('145 V is more than the supply gives (30.0 V).');
    expect(reason(15, 32)).toBe('32.0 A is more than the supply gives (10.0 A).');
    expect(reason(30.3, 3.2)).toBeNull(); // a display may be a percent off
    expect(reason(145, 3.2, { supplyVoltageLimitV: null })).toMatch(/more than any bath/);
    expect(reason(15, 32, { supplyCurrentLimitA: null })).toMatch(/three times the plan/);
  });

  it('where volts and amps look exchanged, with what was perhaps meant', () => {
    const doubt = doubtReading({ voltageV: 3.2, currentA: 15 }, context)!;
    expect(doubt.reason).toMatch(/exchanged/);
    expect(doubt.meant).toEqual({ voltageV: 15, currentA: 3.2 });
    // With a reading before, that is the measure: late in a run at 21 V.
    const last = { voltageV: 21, currentA: 3.2 };
    expect(doubtReading({ voltageV: 3.2, currentA: 21 }, { ...context, last })!.meant).toEqual({
      voltageV: 21,
      currentA: 3.2,
    });
    // Close to each other, but the reading before to the digit once they are exchanged.
    const close = { ...context, plannedA: 20.3, supplyCurrentLimitA: 25 };
    const before = { voltageV: 14.6, currentA: 20.3 };
    expect(doubtReading({ voltageV: 20.3, currentA: 14.5 }, { ...close, last: before })!.meant).toEqual({
      voltageV: 14.5,
      currentA: 20.3,
    });
    // A third of the area lost at a held voltage is no such thing, nor is a pair that is nearly one number.
    expect(doubtReading({ voltageV: 14.6, currentA: 14.5 }, { ...close, last: before })).toBeNull();
    const near = { voltageV: 14.6, currentA: 14 };
    expect(doubtReading({ voltageV: 14.1, currentA: 14.5 }, { ...close, last: near })).toBeNull();
  });

  it('where no current flows any more and it did before: one slip of a 0 would stop the clock', () => {
    const last = { voltageV: 15, currentA: 3.2 };
    expect(reason(0, 0, { last })).toBe('0 A: no current at all, where 3.20 A flowed before.');
    expect(reason(30, 0, { last })).toMatch(/no current at all/);
    expect(reason(15, 0.6, { last })).toBeNull();
    // Before the supply is on, and said once, it is as it should be.
    expect(reason(0, 0)).toBeNull();
    expect(reason(0, 0, { last: { voltageV: 0.1, currentA: 0.01 } })).toBeNull();
  });

  it('where one slip of a finger makes it of what was there, the other number being as it was', () => {
    const last = { voltageV: 14.8, currentA: 4.1 };
    const more = { last, plannedA: 4.1 };
    expect(reason(11.8, 4.1, more)).toBe(
      '11.8 V at 4.10 A, where 14.8 V stood before: a digit may be wrong.',
    );
    expect(reason(14.9, 5.1, more)).toBe(
      '5.10 A at 14.9 V, where 4.10 A flowed before: a digit may be wrong.',
    );
    // Further off than what the watch itself asks about.
    expect(reason(24.8, 4.1, more)).toMatch(/a digit may be wrong/);
    expect(reason(14.8, 1.1, more)).toMatch(/a digit may be wrong/);
    expect(reason(18.8, 4.1, more)).toBeNull();
    expect(reason(14.8, 3.1, more)).toBeNull();
    // By no slip; set anew, so that both moved; a little; while the ramp moves both.
    expect(reason(9.3, 4.1, more)).toBeNull();
    expect(reason(11.8, 3.1, more)).toBeNull();
    expect(reason(13.8, 4.1, more)).toBeNull();
    expect(reason(11.8, 4.1, { ...more, isLastSettled: false })).toBeNull();
  });

  it('where a short may be a slip: that says to look at the supply first, and what to do if it is none', () => {
    const last = { voltageV: 14.8, currentA: 4.1 };
    for (const [volts, isLastSettled] of [
      [1.48, true],
      [1.5, false],
      [1.9, true],
    ] as const) {
      const doubt = doubtReading({ voltageV: volts, currentA: 4.1 }, { ...context, last, isLastSettled })!;
      expect(doubt.reason).toMatch(/where 14\.8 V stood: a short, or a digit is wrong/);
      expect(doubt.remedy).toMatch(/^Look at the supply now.*switch the power off at once/);
      expect(doubt).toMatchObject({ isDanger: true, meant: null });
    }
    // No slip makes it of 14.8: taken, and called, at once.
    expect(reason(0.3, 4.1, { last })).toBeNull();
    expect(reason(2.2, 4.3, { last })).toBeNull();
  });

  it('a slip is one digit wrong, missing or too many, two exchanged, or the point elsewhere', () => {
    for (const typed of [11.8, 14.3, 4.8, 148, 1.48, 0.148, 114.8, 41.8, 14.88, 15, 1.5])
      expect(mayBeSlip(typed, 14.8), String(typed)).toBe(true);
    for (const typed of [22, 9.3, 0.3, 30]) expect(mayBeSlip(typed, 14.8), String(typed)).toBe(false);
  });

  it('never in an honest run: the ramp, a lost contact, a short', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0.7, max: 1.6, noNaN: true }),
        (ramp, off) => {
          // Half of the volts stand at once, the rest goes with the current (4 V per A/dm², handbooks, from memory).
          expect(reason((8 + 7 * ramp) * off, 3.2 * ramp)).toBeNull();
        },
      ),
      { seed: 9, numRuns: 500 },
    );
    const last = { voltageV: 15, currentA: 3.2 };
    for (const [volts, amps] of [
      [22, 3.2],
      [0.2, 3.2],
      [15, 1.9],
      [12, 6],
    ] as const)
      expect(reason(volts, amps, { last })).toBeNull();
  });

  it('where the bath is far from the plan, and a thermometer in the other scale is named', () => {
    const at = (kelvin: number, system: 'metric' | 'us' = 'metric') =>
      doubtReading({ voltageV: 15, currentA: 3.2, bathTemperatureK: kelvin }, { ...context, system });
    expect(at(293.15 + 5)).toBeNull();
    // 68 typed as °C and meant as °F is 20 °C; 20 typed as °F and meant as °C is 68 °F.
    const fahrenheit = at(68 + 273.15)!;
    expect(fahrenheit.reason).toMatch(/in °F\?$/);
    expect(fahrenheit.meant!.bathTemperatureK).toBeCloseTo(293.15, 9);
    const celsius = at((20 - 32) / 1.8 + 273.15, 'us')!;
    expect(celsius.reason).toMatch(/in °C\?$/);
    expect(celsius.meant!.bathTemperatureK).toBeCloseTo(293.15, 9);
    expect(at(360.15)!.meant).toBeNull(); // 87: neither in °C nor in °F a bath
  });
});
