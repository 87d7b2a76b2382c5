import { describe, expect, it } from 'vitest';
import { saidPauses, type SaidPause } from '../../../core/run/power-again.ts';
import { readingsFrom, type Reading, type ReadingOrigin } from '../../../core/run/readings.ts';
import type { StepMark } from '../../../core/run/step-clock.ts';
import { feedRunWatch, newRunWatch, watchedRun } from '../../../core/run/watch-run.ts';
import { FULL_A, TYPE_TWO } from './type-two.ts';

// Common practice: after a pause the current is brought up again over a minute or two.
const PLAN = { ...TYPE_TWO, bathLimitK: null };

interface Course {
  /** Without current from here to there, s. */
  readonly offS: readonly [number, number];
  /** How long it takes to bring the current up again. */
  readonly upS: number;
  readonly everyS?: number;
}

const evenRamp = (tS: number): number => FULL_A * Math.min(1, tS / 300);

/** As the plan has it but for one pause. */
const course = ({ offS: [from, to], upS, everyS = 5 }: Course): Reading[] =>
  Array.from({ length: Math.floor(1500 / everyS) }, (_, i) => {
    const tS = everyS * i;
    const up = tS < to ? 0 : upS === 0 ? 1 : Math.min(1, (tS - to) / upS);
    const currentA = tS < from ? evenRamp(tS) : FULL_A * up;
    return { tS, voltageV: currentA === 0 ? 0 : 8 + (6 * currentA) / FULL_A, currentA };
  });

const said = (
  list: readonly Reading[],
  change: Partial<typeof PLAN> = {},
  origin: ReadingOrigin = 'supply',
  pauses: readonly SaidPause[] = [],
) => {
  const plan = { ...PLAN, ...change };
  const readings = readingsFrom([...list], origin);
  const { watch } = feedRunWatch(newRunWatch(plan, origin, readings), readings, Infinity, pauses);
  return watchedRun(readings, plan, watch.events()).events.filter(({ kind }) => kind.startsWith('fast'));
};
const at = (...args: Parameters<typeof said>): [string, number][] =>
  said(...args).map(({ kind, atS }) => [kind, atS]);

describe('power that comes on again after a pause', () => {
  it('is said where all the current is there at once, beside that reading and once', () => {
    expect(at(course({ offS: [600, 800], upS: 0 }))).toEqual([['fast-again', 800]]);
    expect(at(course({ offS: [600, 800], upS: 15 }))).toEqual([['fast-again', 815]]);
    const [event] = said(course({ offS: [600, 800], upS: 0 }));
    expect(event!.level).toBe('check');
    expect(event!.remedy).toMatch(/over a minute or two.*burn a contact/);
  });

  it('is not where it was brought up over a minute or two, as is common practice', () => {
    expect(at(course({ offS: [600, 800], upS: 60 }))).toEqual([]);
    expect(at(course({ offS: [600, 800], upS: 120 }))).toEqual([]);
  });

  it('nor after a minute or less without current, nor where no ramp is planned or the voltage is held', () => {
    expect(at(course({ offS: [600, 660], upS: 0 }))).toEqual([]);
    expect(at(course({ offS: [600, 605], upS: 0 }))).toEqual([]);
    const atOnce = course({ offS: [600, 800], upS: 0 });
    expect(at(atOnce, { rampS: 0 })).toEqual([]);
    expect(at(atOnce, { mode: 'voltage' })).toEqual([]);
  });

  it('each pause counts for itself', () => {
    const first = course({ offS: [600, 800], upS: 0 });
    const twice = first.map((one) =>
      one.tS >= 1000 && one.tS < 1100 ? { ...one, currentA: 0, voltageV: 0 } : one,
    );
    expect(at(twice)).toEqual([
      ['fast-again', 800],
      ['fast-again', 1100],
    ]);
  });

  it('one reading never says two things of the same current', () => {
    // Off from 60 s on, and all there at 140 s: the first ramp has not had half its time.
    expect(at(course({ offS: [60, 140], upS: 0 }))).toEqual([['fast-ramp', 140]]);
    expect(at(course({ offS: [60, 240], upS: 0 }))).toEqual([['fast-again', 240]]);
  });

  it('a hard coat is to be set down again', () => {
    const hard = course({ offS: [600, 800], upS: 0 }).map((one) => ({
      ...one,
      currentA: (one.currentA * 300) / 130,
    }));
    const events = said(hard, { currentDensityAPerM2: 300 });
    expect(events.map(({ kind }) => kind)).toEqual(['fast-again']);
    expect(events[0]!.remedy).toMatch(/set the current down now/);
  });

  it('of readings typed minutes apart nothing is told but by a pause that was said', () => {
    const typed: Reading[] = [300, 600, 900, 1210, 1500].map((tS) => ({
      tS,
      voltageV: tS === 900 ? 0 : 14,
      currentA: tS === 900 ? 0 : FULL_A,
    }));
    expect(at(typed, {}, 'typed')).toEqual([]);
    expect(at(typed, {}, 'typed', [{ fromS: 905, toS: 1200 }])).toEqual([['fast-again', 1210]]);
    // Gone on with two minutes before the reading: it may have been brought up slowly.
    expect(at(typed, {}, 'typed', [{ fromS: 905, toS: 1090 }])).toEqual([]);
  });

  it('a pause of the timer alone is one, unless a reading in it shows current', () => {
    const typed: Reading[] = [600, 900, 1210].map((tS) => ({ tS, voltageV: 14, currentA: FULL_A }));
    expect(at(typed, {}, 'typed', [{ fromS: 910, toS: 1200 }])).toEqual([['fast-again', 1210]]);
    expect(at(typed, {}, 'typed', [{ fromS: 1150, toS: 1200 }])).toEqual([]);
    expect(at(typed, {}, 'typed', [{ fromS: 890, toS: 1200 }])).toEqual([]);
    const read = course({ offS: [1500, 1500], upS: 0 });
    expect(at(read, {}, 'supply', [{ fromS: 601, toS: 900 }])).toEqual([]);
  });
});

it('the timer’s pauses are counted from power on; one that still lasts is none yet', () => {
  const marks: StepMark[] = [
    { kind: 'begin', atMs: 0 },
    { kind: 'next', atMs: 60_000 },
    { kind: 'pause', atMs: 160_000 },
    { kind: 'note', atMs: 170_000, text: 'clamped again' },
    { kind: 'resume', atMs: 260_000 },
    { kind: 'pause', atMs: 360_000 },
  ];
  expect(saidPauses({ marks }, 60_000)).toEqual([{ fromS: 100, toS: 200 }]);
  expect(saidPauses({ marks }, null)).toEqual([]);
});
