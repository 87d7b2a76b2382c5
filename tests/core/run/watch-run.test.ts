import { describe, expect, it } from 'vitest';
import { CHARGE_CONSTANT_DEFAULT } from '../../../core/reference/charge-constant.ts';
import { readingAt, readingsFrom, type Reading } from '../../../core/run/readings.ts';
import { simulateRun } from '../../../core/run/simulated-run.ts';
import type { WatchEvent } from '../../../core/run/watch-event.ts';
import { logWatch, watchedRun } from '../../../core/run/watch-run.ts';
import { corpusRun } from './watch-corpus.ts';

/** 12 A/ft² on 3.5 dm²: 142 s of full current grow 1 µm by the 720 rule (720 A·min/ft² a mil). */
const J = 129.17;
const AREA_M2 = 0.035;
const I0 = J * AREA_M2;
const plan = {
  mode: 'current' as const,
  areaM2: AREA_M2,
  currentDensityAPerM2: J,
  chargePerVolumeCPerM3: CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3,
  chargeRelativeUncertainty: 0.1,
  chargeSource: CHARGE_CONSTANT_DEFAULT.source,
  thicknessM: 25e-6,
  rampS: 0,
  supplyVoltageLimitV: null,
  supplyCurrentLimitA: null,
  learntVoltage: null,
};
const lostAt = (atS: number): WatchEvent => ({
  atS,
  sinceS: atS - 20,
  kind: 'contact-lost',
  level: 'alarm',
  areaLeft: [0.5, 0.7],
  likelyAreaLeft: 0.6,
});
/** Every 5 s but where none is read, at full current but where it is off. */
const said = (untilS: number, isRead: (t: number) => boolean, isOff = (_t: number): boolean => false) =>
  watchedRun(
    readingsFrom(
      Array.from({ length: untilS / 5 + 1 }, (_, i) => 5 * i)
        .filter(isRead)
        .map((tS) => ({ tS, voltageV: isOff(tS) ? 0 : 15, currentA: isOff(tS) ? 0 : I0 })),
      'supply',
    ),
    plan,
    [lostAt(untilS)],
  ).events[0]!;

describe('a lost contact after a gap in the readings', () => {
  const inGap = (t: number): boolean => t > 60 && t < 260;

  it('is not to be clamped again where the film may have grown too thick unread', () => {
    const { remedy, filmM } = said(300, (t) => !inGap(t));
    expect(remedy).toMatch(/stripped and done again/);
    expect(remedy).not.toMatch(/clamp it again/);
    // As if the current had flowed all through: 300 s of it.
    expect(filmM).toBeCloseTo((300 * J) / plan.chargePerVolumeCPerM3, 12);
  });

  it('is, where the readings show that the power was off meanwhile, or the gap is too short for that', () => {
    expect(said(300, () => true, inGap).remedy).toMatch(/clamp it again/);
    expect(said(120, (t) => t <= 30 || t >= 100).remedy).toMatch(/clamp it again/);
  });
});

describe('a log whose readings come now close, now minutes apart', () => {
  /** Volts at 2.23 A in the hold; the ramp before that, every `stepS` up to 5 min. */
  const log = (stepS: number, hold: readonly (readonly [tS: number, voltageV: number])[]): Reading[] => [
    ...Array.from({ length: 300 / stepS + 1 }, (_, i) => {
      const share = (i * stepS) / 300;
      return { tS: i * stepS, voltageV: 6 + 8.5 * share, currentA: 2.23 * share };
    }),
    ...hold.map(([tS, voltageV]) => ({ tS, voltageV, currentA: 2.23 })),
  ];
  // 12 A/ft² on 26.7 in².
  const small = { ...plan, areaM2: 2.23 / J, learntVoltage: undefined, rampS: null };
  const watched = (list: readonly Reading[]) => {
    const watch = logWatch(small, readingsFrom(list, 'log'));
    for (const reading of list) watch.add(reading);
    return watch;
  };
  const told = (list: readonly Reading[]) =>
    watched(list)
      .events()
      .map(({ kind, atS }) => [kind, atS]);
  const sound = [600, 900, 1200].map((tS) => [tS, 14.7] as const);
  const lost = [1500, 1800, 2100, 2400, 2700].map((tS) => [tS, 18.9] as const);

  it.each([5, 30, 60])('a loss in the hold, every 5 min, is told after a ramp of every %i s', (stepS) => {
    expect(told(log(stepS, [...sound, ...lost]))).toEqual([
      ['reading-doubtful', 1500],
      ['contact-lost', 1800],
    ]);
    // At a held current the volts over any part E go as one over the area: 14.7 to 18.9 V is 22 % with no E, 53 % with three quarters of it.
    const { low, value, high } = watched(log(stepS, [...sound, ...lost])).areaLeft();
    expect(low).toBeLessThanOrEqual(14.7 / 4 / (18.9 - (3 * 14.7) / 4));
    expect(high).toBeGreaterThanOrEqual(14.7 / 18.9);
    expect(value).toBeGreaterThan(low);
    expect(value).toBeLessThan(high);
  });

  it('a close reading settles what the one after the pause leaves in doubt', () => {
    const found = [...sound, [1500, 18.9], [1530, 18.9], [1800, 19]] as const;
    expect(told(log(60, found)).slice(0, 2)).toEqual([
      ['reading-doubtful', 1500],
      ['contact-lost', 1530],
    ]);
    const slip = [...sound, [1500, 18.9], [1530, 14.7], [1800, 14.7]] as const;
    expect(told(log(60, slip)).slice(0, 2)).toEqual([
      ['reading-doubtful', 1500],
      ['reading-was-off', 1530],
    ]);
  });

  it('pauses of a sound hold are no cable that came off, and one amid close readings is', () => {
    expect(told(log(30, [...sound, [1500, 14.8], [1800, 14.8]]))).toEqual([]);
    const close = (fromS: number) => Array.from({ length: 40 }, (_, i) => [fromS + 5 * i, 14.6] as const);
    expect(told(log(5, [...close(305), ...close(900)]))).toEqual([['gap', 900]]);
  });

  it('a supply that was off in the pause and ramps again is no lost contact', () => {
    const close = (fromS: number) => Array.from({ length: 60 }, (_, i) => [fromS + 5 * i, 14.6] as const);
    const again = Array.from({ length: 60 }, (_, i) => ({
      tS: 1000 + 5 * i,
      voltageV: 12 + (2.6 * i) / 59,
      currentA: (2.23 * (i + 18)) / 77,
    }));
    const after = close(1300).map(([tS, voltageV]) => ({ tS, voltageV, currentA: 2.23 }));
    const list = [...log(5, close(305)), ...again, ...after];
    expect(told(list).filter(([kind]) => String(kind).startsWith('contact'))).toEqual([]);
  });

  it('in bursts of 20 s every 5 min a hard coat’s film is no loss, and an ordinary coat’s loss is told', () => {
    const alarms = (seed: number, fault: 'none' | 'contact') => {
      const { setup, plan: drawn } = corpusRun(seed, fault);
      const { readings } = simulateRun(setup);
      const list = Array.from(readings.tS, (_, i) => readingAt(readings, i)).filter(
        ({ tS }) => tS <= setup.rampS + 90 || tS % 300 <= 20,
      );
      const watch = logWatch(drawn, readingsFrom(list, 'log'));
      list.forEach((reading) => watch.add(reading));
      return watch.events().filter(({ level }) => level === 'alarm').length;
    };
    // Of the first sixty drawn all hard coats; held one burst against the next, seven of them looked like losses.
    const seeds = Array.from({ length: 60 }, (_, i) => 1000 + i);
    const hard = seeds.filter((seed) => corpusRun(seed, 'none').plan.currentDensityAPerM2 > 230);
    expect(hard.length).toBeGreaterThan(5);
    expect(hard.filter((seed) => alarms(seed, 'none') > 0)).toEqual([]);
    const lost = seeds.slice(0, 20).filter((seed) => {
      const { fault, setup, plan: drawn } = corpusRun(seed, 'contact');
      const isSeen = fault!.lostShare > 0.4 && fault!.atS < setup.durationS - 700;
      return drawn.currentDensityAPerM2 < 200 && isSeen;
    });
    expect(lost.length).toBeGreaterThan(3);
    expect(lost.filter((seed) => alarms(seed, 'contact') === 0)).toEqual([]);
  });

  it('of the corpus sound runs raise no alarm, and large losses at a held current do', () => {
    const alarms = (seed: number, fault: 'none' | 'contact') => {
      const { setup, plan: drawn } = corpusRun(seed, fault);
      const { readings } = simulateRun(setup);
      const list = Array.from(readings.tS, (_, i) => readingAt(readings, i)).filter(
        ({ tS }) => tS <= setup.rampS + 200 || tS % 300 === 0,
      );
      const watch = logWatch(drawn, readingsFrom(list, 'log'));
      return list.flatMap((reading) => watch.add(reading)).filter(({ level }) => level === 'alarm').length;
    };
    const seeds = Array.from({ length: 24 }, (_, i) => 9_200_001 + 2 * i);
    expect(seeds.filter((seed) => alarms(seed, 'none') > 0)).toEqual([]);
    const large = seeds.filter((seed) => {
      const { fault, setup, plan: drawn } = corpusRun(seed, 'contact');
      return (
        drawn.mode === 'current' &&
        drawn.currentDensityAPerM2 < 200 &&
        fault!.lostShare > 0.4 &&
        fault!.atS < setup.durationS - 700
      );
    });
    expect(large.length).toBeGreaterThan(3);
    expect(large.filter((seed) => alarms(seed, 'contact') === 0)).toEqual([]);
  });
});
