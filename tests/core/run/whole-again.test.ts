/** Film after a contact that came back unseen, and after a short, against what the simulated run really grew. */
import { describe, expect, it } from 'vitest';
import { CHARGE_CONSTANT_DEFAULT } from '../../../core/reference/charge-constant.ts';
import { createContactWatch } from '../../../core/run/contact-watch.ts';
import { readingAt, readingsFrom, type Readings } from '../../../core/run/readings.ts';
import {
  simulateRun,
  usualSetup,
  type SimulatedAct,
  type SimulatedFault,
} from '../../../core/run/simulated-run.ts';
import { createTypedWatch } from '../../../core/run/typed-watch.ts';
import type { WatchEvent, WatchPlan } from '../../../core/run/watch-event.ts';
import { watchedRun } from '../../../core/run/watch-run.ts';

const AREA_M2 = 0.0568;
/** 6 A/ft². */
const J = 64.58;
const WANTED_M = 12e-6;
const watchPlan = (mode: WatchPlan['mode']): WatchPlan => ({
  mode,
  areaM2: AREA_M2,
  currentDensityAPerM2: J,
  chargePerVolumeCPerM3: CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3,
  rampS: 300,
  supplyVoltageLimitV: null,
  supplyCurrentLimitA: null,
});

function watched(readings: Readings, mode: WatchPlan['mode'], events: readonly WatchEvent[]) {
  return watchedRun(
    readings,
    {
      ...watchPlan(mode),
      learntVoltage: null,
      thicknessM: WANTED_M,
      chargeRelativeUncertainty: CHARGE_CONSTANT_DEFAULT.relativeUncertainty,
      chargeSource: CHARGE_CONSTANT_DEFAULT.source,
      rampS: 300,
    },
    events,
  );
}

const progressOf = (...of: Parameters<typeof watched>) => watched(...of).progress;

function run(
  faults: readonly SimulatedFault[],
  acts: readonly SimulatedAct[],
  { mode = 'current' as WatchPlan['mode'], seed = 1, silent = (_tS: number): boolean => false } = {},
) {
  const made = simulateRun({ ...usualSetup(AREA_M2, J, seed), mode, faults, acts });
  const { truth } = made;
  const list = Array.from(made.readings.tS, (_, i) => readingAt(made.readings, i));
  const readings = readingsFrom(
    list.filter(({ tS }) => !silent(tS)),
    'simulated',
  );
  const watch = createContactWatch(watchPlan(mode));
  for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
  const events = watch.events();
  const { thicknessM, done } = progressOf(readings, mode, events);
  return {
    trueM: truth.thicknessM.at(-1)!,
    film: thicknessM,
    done,
    kinds: events.map(({ kind }) => kind),
    events,
  };
}
type Run = ReturnType<typeof run>;

function holdsTruth({ film, trueM }: Run): void {
  expect(film.lowSi!).toBeLessThanOrEqual(trueM);
  expect(film.highSi!).toBeGreaterThanOrEqual(trueM);
}

const lost = (minute: number, lostShare = 0.45): SimulatedFault => ({
  kind: 'contact',
  atS: 60 * minute,
  lostShare,
  overS: 2,
});
const offAndOn = (minute: number): SimulatedAct[] => [
  { kind: 'power', atS: 60 * minute + 60, on: false },
  { kind: 'power', atS: 60 * minute + 150, on: true },
];

const CASES = [3, 5, 8, 12].flatMap((minute) => [1, 2, 6].map((seed) => [minute, seed] as const));

describe('what is said of an event', () => {
  it.each([8, 12, 30])('goes by the film as it stood then, not by the whole log’s (minute %i)', (minute) => {
    const setup = { ...usualSetup(AREA_M2, J, 1), mode: 'current' as const, faults: [lost(minute)] };
    const { readings, truth } = simulateRun(setup);
    const watch = createContactWatch(watchPlan('current'));
    for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
    const event = watched(readings, 'current', watch.events()).events[0]!;
    expect(event.kind).toBe('contact-lost');
    const then = truth.thicknessM[readings.tS.findIndex((tS) => tS >= event.atS)]!;
    expect(event.filmM / then).toBeGreaterThan(0.9);
    expect(event.filmM / then).toBeLessThan(1.1);
  });
});

describe('a new clamp with the power off, and a new ramp', () => {
  it.each(CASES)('lost at minute %i, clamped again: the film of the whole area (seed %i)', (minute, seed) => {
    const mended = run([lost(minute), { kind: 'restore', atS: 60 * minute + 100 }], offAndOn(minute), {
      seed,
    });
    expect(mended.kinds).toContain('contact-lost');
    holdsTruth(mended);
    // Within 5 % of the truth, and never more: the hold is not done too early.
    expect(Math.abs(mended.film.valueSi / mended.trueM - 1)).toBeLessThan(0.05);
    expect(mended.done).toBe(false);
  });

  it.each(CASES)('lost at minute %i, clamped in vain: known, or open (seed %i)', (minute, seed) => {
    const still = run([lost(minute)], offAndOn(minute), { seed });
    holdsTruth(still);
    expect(still.kinds).not.toContain('contact-back');
    // Said anew, or said that it can't be told, and then the range is open.
    const anew = still.kinds.filter((kind) => kind === 'contact-lost').length === 2;
    expect(anew || still.kinds.includes('contact-unsure')).toBe(true);
    expect(anew || /may have contact again/.test(still.film.unconfirmed ?? '')).toBe(true);
  });

  it('through the little that is left hardly any current flows: said too, with a supply that holds the voltage', () => {
    for (const seed of [2, 6]) {
      const { events } = run([lost(8, 0.85)], offAndOn(8), { mode: 'voltage', seed });
      // At the latest a ramp without current, then one and a quarter ramps and five minutes.
      const after = events.filter(({ atS }) => atS > 630 && atS < 630 + 300 + 375 + 300 + 30);
      expect(after.some(({ kind }) => kind === 'contact-lost' || kind === 'contact-unsure')).toBe(true);
    }
  });

  it.each(CASES)(
    'nothing read meanwhile: lost at minute %i, the range opens all the same (seed %i)',
    (minute, seed) => {
      const silent = (tS: number): boolean => tS > 60 * minute + 55 && tS < 60 * minute + 155;
      for (const mended of [true, false]) {
        const restore = { kind: 'restore', atS: 60 * minute + 100 } as const;
        const faults = mended ? [lost(minute), restore] : [lost(minute)];
        const after = run(faults, offAndOn(minute), { seed, silent });
        expect(after.kinds).toContain('gap');
        holdsTruth(after);
        if (mended) expect(after.film.valueSi).toBeLessThan(1.05 * after.trueM);
        else expect(after.kinds).not.toContain('contact-back');
      }
    },
  );

  it.each([8, 12])('says so once the supply is steady: lost at minute %i', (minute) => {
    const { events } = run([lost(minute), { kind: 'restore', atS: 60 * minute + 100 }], offAndOn(minute));
    const back = events.find(({ kind }) => kind === 'contact-back')!;
    // Five minutes' ramp from 2.5 min after the loss, and two minutes.
    expect(back.atS).toBeLessThanOrEqual(60 * minute + 150 + 300 + 120);
    expect(back.likelyAreaLeft).toBe(1);
  });

  it('counts the whole area from power off until it can be told', () => {
    const { readings } = simulateRun({
      ...usualSetup(AREA_M2, J, 1),
      faults: [lost(12)],
      acts: offAndOn(12),
      durationS: 1100,
    });
    const watch = createContactWatch(watchPlan('current'));
    for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
    const left = watch.areaLeft();
    expect(left).toMatchObject({ value: 1, high: 1 });
    expect(left.low).toBeLessThan(0.55);
    const { thicknessM } = progressOf(readings, 'current', watch.events());
    expect(thicknessM.unconfirmed).toMatch(/may have contact again/);
  });

  it('holds with a supply that holds the voltage', () => {
    const mended = run([lost(12), { kind: 'restore', atS: 820 }], offAndOn(12), { mode: 'voltage' });
    expect(mended.kinds).toContain('contact-lost');
    holdsTruth(mended);
    expect(Math.abs(mended.film.valueSi / mended.trueM - 1)).toBeLessThan(0.05);
  });
});

describe('lost in the ramp and clamped again', () => {
  const cases = [220, 255, 285];
  const acts = (atS: number): SimulatedAct[] => [
    { kind: 'power', atS: atS + 60, on: false },
    { kind: 'power', atS: atS + 150, on: true },
  ];
  const lostFrom = (atS: number): SimulatedFault => ({ kind: 'contact', atS, lostShare: 0.5, overS: 2 });

  it.each(cases)('is told by the end of the new ramp: lost at %i s, current held', (atS) => {
    for (const seed of [1, 2, 6]) {
      const mended = run([lostFrom(atS), { kind: 'restore', atS: atS + 100 }], acts(atS), { seed });
      const back = mended.events.find(({ kind }) => kind === 'contact-back')!;
      // The new ramp takes 300 s and reaches the level of the loss by its end.
      expect(back.atS).toBeLessThan(atS + 150 + 300 + 60);
      expect(mended.kinds.filter((kind) => kind === 'contact-lost')).toHaveLength(1);
      holdsTruth(mended);
    }
  });

  it.each(cases)('in vain is told as soon: lost at %i s', (atS) => {
    for (const seed of [1, 2, 6]) {
      const still = run([lostFrom(atS)], acts(atS), { seed });
      const again = still.events.filter(({ kind }) => kind === 'contact-lost');
      expect(again).toHaveLength(2);
      expect(again[1]!.atS).toBeLessThan(atS + 150 + 300 + 60);
      expect(still.kinds).not.toContain('contact-back');
      holdsTruth(still);
    }
  });
});

describe('a contact that comes back while the supply still ramps', () => {
  it.each([1, 2, 3, 4, 5, 6])('never makes the hold done early (seed %i)', (seed) => {
    for (const share of [0.3, 0.45, 0.6]) {
      const mended = run([lost(3.5, share), { kind: 'restore', atS: 290 }], [], { seed });
      holdsTruth(mended);
      expect(mended.film.valueSi).toBeLessThan(1.02 * mended.trueM);
    }
  });

  it.each([1, 2, 3, 4, 5, 6])('and one that does not is not said to be back (seed %i)', (seed) => {
    const still = run([lost(3.5, 0.6)], [], { seed });
    expect(still.kinds).not.toContain('contact-back');
    holdsTruth(still);
    expect(Math.abs(still.film.valueSi / still.trueM - 1)).toBeLessThan(0.15);
  });
});

describe('the current of a short', () => {
  const short: SimulatedFault = { kind: 'short', atS: 720, resistanceOhm: 0.05 };

  it('makes no film from its first reading on', () => {
    const shorted = run([short], []);
    holdsTruth(shorted);
    // 9.5 min at full current less the ramp's other half: 2 µm, not the 12 µm of the whole charge.
    expect(shorted.film.valueSi).toBeLessThan(2.2e-6);
    expect(shorted.film.unconfirmed).toMatch(/short makes no film/);
  });

  it.each([
    ['with the power on', []],
    [
      'with the power off',
      [
        { kind: 'power', atS: 800, on: false },
        { kind: 'power', atS: 920, on: true },
      ],
    ],
  ] as [string, SimulatedAct[]][])('counts again once the load is moved clear, %s', (_, acts) => {
    const all = [...acts, { kind: 'clamp', atS: 900 } as const].sort((a, b) => a.atS - b.atS);
    const cleared = run([short], all);
    holdsTruth(cleared);
    expect(Math.abs(cleared.film.valueSi / cleared.trueM - 1)).toBeLessThan(0.03);
    expect(cleared.events.find(({ kind }) => kind === 'short')!.untilS).toBeGreaterThanOrEqual(900);
  });

  it('the same for readings typed minutes apart', () => {
    const A = AREA_M2 * J;
    const readings = readingsFrom(
      [0, 5, 10, 15, 20, 25, 30, 35].map((minute) => ({
        tS: 60 * minute,
        voltageV: minute === 20 || minute === 25 ? 0.2 : minute === 0 ? 0 : 12,
        currentA: minute === 0 ? 0 : A,
      })),
      'typed',
    );
    const watch = createTypedWatch(watchPlan('current'));
    for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
    const { thicknessM } = progressOf(readings, 'current', watch.events());
    // Half of five minutes, ten and five minutes of the rest: 17.5 min; from 15 to 30 min it may all have been short.
    const chargeC = A * 17.5 * 60;
    expect(thicknessM.valueSi).toBeCloseTo(
      chargeC / (AREA_M2 * CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3),
      9,
    );
  });
});

describe('no current at all, and current again', () => {
  it('grows film again', () => {
    const again = run([{ kind: 'total', atS: 720 }], [{ kind: 'clamp', atS: 900 }]);
    expect(again.kinds.slice(0, 2)).toEqual(['contact-total', 'contact-back']);
    holdsTruth(again);
  });

  it.each([
    ['read once, in doubt', [0, 12, 12, 16, 0, 12, 12], ['reading-doubtful', 'supply-off']],
    [
      'read twice, called',
      [0, 12, 12, 16, 16, 0, 12, 12],
      ['reading-doubtful', 'contact-lost', 'supply-off'],
    ],
  ])('typed: a new clamp after a loss that was %s leaves it open', (_, levels, kinds) => {
    const A = AREA_M2 * J;
    const readings = readingsFrom(
      levels.map((voltageV, i) => ({ tS: 420 * i, voltageV, currentA: voltageV === 0 ? 0 : A })),
      'typed',
    );
    const watch = createTypedWatch(watchPlan('current'));
    for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
    expect(watch.events().map(({ kind }) => kind)).toEqual(kinds);
    expect(watch.areaLeft()).toMatchObject({ value: 1, high: 1 });
    expect(watch.areaLeft().low).toBeLessThan(0.9);
  });
});
