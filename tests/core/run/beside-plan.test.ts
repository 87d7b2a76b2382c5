import { describe, expect, it } from 'vitest';
import { feedRunWatch, newRunWatch, watchedRun } from '../../../core/run/watch-run.ts';
import { readingsFrom, type Reading, type ReadingOrigin } from '../../../core/run/readings.ts';
import { FULL_A, TYPE_TWO } from './type-two.ts';

const said = (
  list: readonly Reading[],
  change: Partial<typeof TYPE_TWO> = {},
  origin: ReadingOrigin = 'typed',
) => {
  const plan = { ...TYPE_TWO, ...change };
  const readings = readingsFrom([...list], origin);
  const { watch } = feedRunWatch(newRunWatch(plan, origin, readings), readings);
  return watchedRun(readings, plan, watch.events()).events;
};
const kinds = (...args: Parameters<typeof said>): [string, number][] =>
  said(...args).map(({ kind, atS }) => [kind, atS]);

/** Every five minutes, as typed: the current by an even ramp, the bath as given. */
const typed = (celsius: readonly number[], rampS = 300): Reading[] =>
  celsius.map((degrees, i) => ({
    tS: 300 * i,
    voltageV: i === 0 ? 0 : 15,
    currentA: FULL_A * Math.min(1, rampS === 0 ? 1 : (300 * i) / rampS),
    bathTemperatureK: 273.15 + degrees,
  }));

describe('a bath above its limit', () => {
  it('is called each time it gets there, in typed readings too', () => {
    // 24 °C is the limit; called again only once it has been a kelvin colder.
    const run = typed([21, 22, 23.5, 24, 24.4, 25, 23.8, 24.5, 22.8, 24.3]);
    expect(kinds(run)).toEqual([
      ['bath-too-warm', 1200],
      ['bath-too-warm', 2700],
    ]);
    const [first] = said(run);
    expect(first!.message).toContain('24.4 °C');
    expect(first!.message).toContain('24.0 °C');
  });

  it('a hard coat’s is another one, and another thing to do', () => {
    // 5 °C: 0 ± 2 °C for hard coat, to 5 °C at most (reference/bath-limits.ts).
    const hard = { currentDensityAPerM2: 300, bathLimitK: 278.15 };
    const cold = typed([0, 1, 2, 3.5, 4.8, 5.4]).map((one) => ({
      ...one,
      currentA: (one.currentA * 300) / 130,
    }));
    const events = said(cold, hard).filter(({ kind }) => kind === 'bath-too-warm');
    expect(events.map(({ atS }) => atS)).toEqual([1500]);
    expect(events[0]!.remedy).toMatch(/halve the current.*hard coat/);
  });

  it('nothing is said where nobody has said a limit, or read the bath', () => {
    expect(kinds(typed([21, 30, 31]), { bathLimitK: null })).toEqual([]);
    expect(kinds(typed([21, 30, 31]).map(({ bathTemperatureK: _unread, ...rest }) => rest))).toEqual([]);
  });
});

describe('a current that is up before its ramp', () => {
  const every5 = (currentAt: (tS: number) => number): Reading[] =>
    Array.from({ length: 80 }, (_, i) => ({ tS: 5 * i, voltageV: 14, currentA: currentAt(5 * i) }));

  it('is said at once, once, and not of the ramp as planned', () => {
    const inAMinute = every5((t) => FULL_A * Math.min(1, t / 60));
    // 0.9 of it after 54 s.
    expect(kinds(inAMinute, {}, 'supply')).toContainEqual(['fast-ramp', 55]);
    expect(kinds(inAMinute, {}, 'supply').filter(([kind]) => kind === 'fast-ramp')).toHaveLength(1);
    const even = every5((t) => FULL_A * Math.min(1, t / 300));
    expect(kinds(even, {}, 'supply').map(([kind]) => kind)).not.toContain('fast-ramp');
  });

  it('a reading that begins when the ramp is over tells nothing of it, nor where none was planned or the voltage is held', () => {
    const late = every5(() => FULL_A).map((one) => ({ ...one, tS: one.tS + 290 }));
    const none = (kindsOf: [string, number][]) => kindsOf.filter(([kind]) => kind === 'fast-ramp');
    expect(none(kinds(late, {}, 'supply'))).toEqual([]);
    const atOnce = every5(() => FULL_A);
    expect(none(kinds(atOnce, {}, 'supply'))).toHaveLength(1);
    expect(none(kinds(atOnce, { rampS: 0 }, 'supply'))).toEqual([]);
    expect(none(kinds(atOnce, { mode: 'voltage' }, 'supply'))).toEqual([]);
  });

  it('a hard coat is to be set down again', () => {
    const hard = { currentDensityAPerM2: 300 };
    const [event] = said(
      every5(() => 15),
      hard,
      'supply',
    ).filter(({ kind }) => kind === 'fast-ramp');
    expect(event!.remedy).toMatch(/^Set it down now/);
  });
});

it('what stood in a list stays where it stood as more is said', () => {
  const run = typed([21, 22, 25, 25, 22, 25.5]);
  run.forEach((_, i) => {
    const before = kinds(run.slice(0, i));
    expect(kinds(run).slice(0, before.length)).toEqual(before);
  });
});
