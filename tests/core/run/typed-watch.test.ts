import { describe, expect, it } from 'vitest';
import { readingAt, type Reading } from '../../../core/run/readings.ts';
import { simulateRun, usualSetup } from '../../../core/run/simulated-run.ts';
import { createTypedWatch } from '../../../core/run/typed-watch.ts';
import type { WatchPlan } from '../../../core/run/watch-event.ts';

const plan: WatchPlan = {
  mode: 'current',
  areaM2: 0.04,
  currentDensityAPerM2: 129.17,
  chargePerVolumeCPerM3: 1.83e10,
  rampS: 300,
  supplyVoltageLimitV: null,
  supplyCurrentLimitA: null,
};
const A = 0.04 * 129.17;

function watch(readings: readonly Reading[], change: Partial<WatchPlan> = {}) {
  const made = createTypedWatch({ ...plan, ...change });
  readings.forEach((reading) => made.add(reading));
  return made;
}

const every5 = (volts: readonly number[], amps: readonly number[] = []): Reading[] =>
  volts.map((voltageV, i) => ({ tS: 600 + 300 * i, voltageV, currentA: amps[i] ?? A }));

describe('readings typed every five minutes', () => {
  it('a sound run with growth of 0.1 V per µm stays quiet', () => {
    // 2 µm in five minutes at this density: 0.2 V.
    expect(watch(every5([15, 15.2, 15.4, 15.6, 15.8, 16])).events()).toEqual([]);
  });

  it('lost area at a held current: the range holds the closed form for any share of voltage that goes with the area', () => {
    // V = E + r · I / a, with E from none to three quarters of it: solve for V after a loss of 40 %.
    for (const eShare of [0, 0.3, 0.6, 0.74]) {
      const before = 15;
      const after = before * eShare + (before * (1 - eShare)) / 0.6;
      if (after / before < 1.12) continue; // below what is called at all
      const events = watch(every5([before, before, after, after])).events();
      const event = events.at(-1);
      expect(event).toMatchObject({ kind: 'contact-lost', level: 'alarm', sinceS: 900 });
      // By no more than two fifths a voltage may be misread: that is asked about first.
      const isAsked = after / before - 1 <= 0.4;
      expect(events.map(({ kind }) => kind)).toEqual([
        ...(isAsked ? ['reading-doubtful'] : []),
        'contact-lost',
      ]);
      expect(event!.atS).toBe(isAsked ? 1500 : 1200);
      expect(event!.areaLeft[0]).toBeLessThanOrEqual(0.6);
      expect(event!.areaLeft[1]).toBeGreaterThanOrEqual(0.6 - 1e-12);
    }
  });

  it('a current set down by hand is no loss: V = E + U · I, with any E up to three quarters', () => {
    for (const eShare of [0, 0.3, 0.6, 0.75]) {
      const low = 15 * eShare + 15 * (1 - eShare) * 0.5;
      expect(watch(every5([15, 15, low, low], [A, A, A / 2, A / 2])).events()).toEqual([]);
    }
  });

  it('at a held voltage the current falls by the share that was lost', () => {
    const { events } = watch(every5([15, 15, 15], [A, A, 0.55 * A]), { mode: 'voltage' });
    expect(events()[0]!.kind).toBe('contact-lost');
    expect(events()[0]!.likelyAreaLeft).toBeCloseTo(0.55, 12);
  });

  it('what one wrong number would explain is asked about, and the next reading tells', () => {
    const readings = (amps: readonly number[]): Reading[] =>
      every5(
        amps.map(() => 15),
        amps,
      );
    const kinds = (list: readonly Reading[]) =>
      watch(list, { mode: 'voltage' })
        .events()
        .map(({ kind, atS, sinceS }) => [kind, sinceS, atS]);
    const asked = ['reading-doubtful', 900, 1200];
    expect(kinds(readings([A, A, 0.75 * A]))).toEqual([asked]);
    // Read again half a minute later, or five minutes.
    for (const afterS of [30, 300]) {
      const again = (amps: number): Reading[] => [
        ...readings([A, A, 0.75 * A]),
        { tS: 1200 + afterS, voltageV: 15, currentA: amps },
      ];
      expect(kinds(again(0.74 * A))).toEqual([asked, ['contact-lost', 900, 1200 + afterS]]);
      expect(kinds(again(0.99 * A))).toEqual([asked, ['reading-was-off', 900, 1200 + afterS]]);
    }
    // While it is in doubt the whole area counts, and what is said has the least that may be left.
    const doubted = watch(readings([A, A, 0.75 * A]), { mode: 'voltage' });
    expect(doubted.areaLeft()).toEqual({ value: 1, low: 1, high: 1 });
    expect(doubted.events()[0]!.areaLeft[0]).toBeLessThan(0.75);
  });

  it('a number that was wrong makes no loss of the reading after it, in what is held or in what is free', () => {
    for (const mode of ['current', 'voltage'] as const) {
      for (const [volts, amps] of [
        [15 * 0.77, A],
        [15, A * 1.25],
      ] as const) {
        const list = every5([15, 15, volts, 15, 15], [A, A, amps, A, A]);
        expect(watch(list, { mode }).events(), `${mode} ${volts} ${amps}`).toEqual([]);
      }
    }
  });

  it('a first number that was wrong is asked about too, by any amount; what then is called rests on it alone, and says so', () => {
    const told = (volts: readonly number[]) =>
      watch(every5(volts))
        .events()
        .map(({ kind, sinceS, alone }) => [kind, sinceS, alone]);
    const asked = ['reading-doubtful', 600, true];
    for (const first of [11.8, 4.8, 8.4]) {
      expect(told([first, 14.8])).toEqual([asked]);
      expect(told([first, 14.8, 14.9])).toEqual([asked, ['contact-lost', 600, true]]);
      // Without it nothing is lost.
      expect(told([14.8, 14.9, 15])).toEqual([]);
    }
    // The second one was the wrong one.
    expect(told([14.8, 18.8, 14.9])).toEqual([asked, ['reading-was-off', 600, undefined]]);
    // With one before that bears it out.
    expect(told([14.8, 14.9, 18.8])).toEqual([['reading-doubtful', 900, undefined]]);
  });

  it('of a hard coat at a held voltage it says once that no loss can be seen', () => {
    const hard = { mode: 'voltage', currentDensityAPerM2: 300 } as const;
    const B = 0.04 * 300;
    const falling = every5([26, 26, 26, 26], [B, 0.8 * B, 0.5 * B, 0.2 * B]);
    expect(watch(falling, hard).events()).toMatchObject([{ kind: 'loss-unseen', level: 'check', atS: 600 }]);
  });

  it('no current, a short and the power off are told apart', () => {
    const kinds = (last: Omit<Reading, 'tS'>) =>
      watch([...every5([15, 15]), { tS: 1200, ...last }])
        .events()
        .map(({ kind }) => kind);
    expect(kinds({ voltageV: 29, currentA: 0 })).toEqual(['contact-total']);
    expect(kinds({ voltageV: 0, currentA: 0 })).toEqual(['supply-off']);
    expect(kinds({ voltageV: 1, currentA: A })).toEqual(['short']);
  });

  describe('the first reading of the hold, with one right after the ramp before it', () => {
    const begin: Reading[] = [
      { tS: 0, voltageV: 0, currentA: 0 },
      { tS: 90, voltageV: 9.5, currentA: 0.2 * A },
      { tS: 210, voltageV: 13.2, currentA: 0.6 * A },
      { tS: 336, voltageV: 14.5, currentA: A },
    ];
    const kinds = (...volts: number[]) =>
      watch([...begin, ...volts.map((voltageV, i) => ({ tS: 636 + 60 * i, voltageV, currentA: A }))])
        .events()
        .map(({ kind }) => kind);

    it('a short is called, and over once the volts are back; what follows is no loss', () => {
      expect(kinds(1.9, 14.7, 14.7)).toEqual(['short']);
      // With nothing before it as well: no bath takes its current at so little.
      const alone = [1.9, 14.7, 14.8].map((voltageV, i) => ({ tS: 636 + 60 * i, voltageV, currentA: A }));
      expect(
        watch(alone)
          .events()
          .map(({ kind }) => kind),
      ).toEqual(['short']);
    });

    it('a loss is asked about and then called; a wrong number is none', () => {
      expect(kinds(19, 19, 19.1)).toEqual(['reading-doubtful', 'contact-lost']);
      expect(kinds(19, 14.7, 14.8)).toEqual(['reading-doubtful', 'reading-was-off']);
      expect(kinds(11, 14.6, 14.6)).toEqual([]);
      expect(kinds(15.6, 15.8, 15.9)).toEqual([]);
    });
  });

  it('the ramp and the start-up peak are not judged', () => {
    const ramp: Reading[] = [60, 120, 240, 360].map((tS) => ({
      tS,
      voltageV: 5 + tS / 20,
      currentA: (A * tS) / 300,
    }));
    expect(watch(ramp).events()).toEqual([]);
  });

  it('area lost bit by bit is called before half of it is gone, and the range holds the closed form', () => {
    // 8 % of what is left goes every five minutes: no reading stands out. V = E + r · I / a with E 60 % of 15 V.
    const left = (i: number): number => 0.92 ** i;
    const readings = every5(Array.from({ length: 13 }, (_, i) => 15 * (0.6 + 0.4 / left(i)))).map(
      (reading) => ({ ...reading, bathTemperatureK: 293.15 }),
    );
    const [event] = watch(readings).events();
    expect(event).toMatchObject({ kind: 'contact-drift', level: 'alarm', sinceS: 600 });
    const then = left((event!.atS - 600) / 300);
    expect(then).toBeGreaterThan(0.5);
    expect(event!.areaLeft[0]).toBeLessThanOrEqual(then);
    expect(event!.areaLeft[1]).toBeGreaterThanOrEqual(then);
    // At a held voltage the current tells it: nothing of the voltage hides it.
    const held = every5(
      Array.from({ length: 13 }, () => 15),
      Array.from({ length: 13 }, (_, i) => A * left(i)),
    );
    expect(watch(held, { mode: 'voltage' }).events()[0]!.kind).toBe('contact-drift');
  });

  it('a contact failing over twenty minutes, four readings: half of the area goes, and it is said before the end', () => {
    // V = E + U / a with E a third to a half of 15 V (with more of it nobody can tell); an eighth of the whole area goes between two readings.
    for (const eShare of [0.3, 0.4, 0.5]) {
      const left = (i: number): number => 1 - 0.125 * Math.min(4, Math.max(0, i - 2));
      const volts = Array.from({ length: 9 }, (_, i) => 15 * (eShare + (1 - eShare) / left(i)));
      const events = watch(every5(volts)).events();
      const event = events.find(({ level }) => level === 'alarm');
      expect(['contact-lost', 'contact-drift']).toContain(event!.kind);
      const index = (event!.atS - 600) / 300;
      expect(index).toBeLessThanOrEqual(6);
      expect(event!.areaLeft[0]).toBeLessThanOrEqual(left(index));
      expect(event!.areaLeft[1]).toBeGreaterThanOrEqual(left(index));
    }
  });

  it('film growth, and a bath that cools as it is read, are no slow loss; what is on top of them is', () => {
    // 1 V per 10 µm, the most of an ordinary film: 24 readings in two hours at 2.12 µm each.
    const growing = Array.from({ length: 24 }, (_, i) => 15 + 0.212 * i);
    expect(watch(every5(growing)).events()).toEqual([]);
    // 6 K colder in two hours, 0.44 eV: the oxide part of the voltage goes up by 1.41.
    const cooling = every5(growing.map((volts, i) => volts + 6 * (1.41 ** (i / 23) - 1))).map(
      (reading, i) => ({
        ...reading,
        bathTemperatureK: 294.15 - (6 * i) / 23,
      }),
    );
    expect(watch(cooling).events()).toEqual([]);
    const both = cooling.map((reading, i) => ({ ...reading, voltageV: reading.voltageV + 0.35 * i }));
    expect(watch(both).events()[0]!.kind).toBe('contact-drift');
  });

  it('simulated sound runs, read every five minutes, stay quiet', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const setup = { ...usualSetup(0.04, 129.17, seed), durationS: 7200, sampleS: 300 };
      const { readings } = simulateRun(setup);
      const list = Array.from(readings.tS, (_, i) => readingAt(readings, i));
      expect(watch(list).events(), `seed ${seed}`).toEqual([]);
    }
  });

  it('refuses numbers that are none', () => {
    expect(() => watch([{ tS: 0, voltageV: NaN, currentA: 1 }])).toThrow(RangeError);
  });
});
