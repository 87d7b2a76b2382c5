import { describe, expect, it } from 'vitest';
import { CHARGE_CONSTANT_DEFAULT } from '../../../core/reference/charge-constant.ts';
import { currentNow } from '../../../core/run/current-now.ts';
import { readingsFrom, type ReadingOrigin } from '../../../core/run/readings.ts';
import { runProgress, type ProgressOptions, type ProgressPlan } from '../../../core/run/run-progress.ts';
import { seededRandom, type SeededRandom } from '../../../core/run/seeded-random.ts';

/** 2.79 dm², 25 µm at 3.051 A·min/(dm²·µm), the 720 rule of the trade journal in metric units: 212.8 A·min. */
const AREA_M2 = 0.0279;
const I0 = 6.75;
const K = 3.051 * 60 * 1e2 * 1e6;
const WANTED_C = K * AREA_M2 * 25e-6;
const plan: ProgressPlan = {
  areaM2: AREA_M2,
  thicknessM: 25e-6,
  currentDensityAPerM2: I0 / AREA_M2,
  chargePerVolumeCPerM3: K,
  chargeRelativeUncertainty: 0.1,
  chargeSource: CHARGE_CONSTANT_DEFAULT.source,
  rampS: 300,
};
const KNOWN = { ...plan, chargeRelativeUncertainty: 0 };
type Row = readonly [tS: number, currentA: number];
const readings = (rows: readonly Row[], origin: ReadingOrigin = 'typed') =>
  readingsFrom(
    rows.map(([tS, currentA]) => ({ tS, voltageV: 15, currentA })),
    origin,
  );
const every = (stepS: number, toS: number, currentA: number, fromS = 0): Row[] =>
  Array.from({ length: Math.floor((toS - fromS) / stepS) + 1 }, (_, i) => [fromS + i * stepS, currentA]);
const end = (rows: readonly Row[], origin?: ReadingOrigin, options?: ProgressOptions) =>
  runProgress(readings(rows, origin), KNOWN, options).endS!;

describe('what flows now', () => {
  it('after a step is the last reading, typed or logged', () => {
    // 6.75 A for 20 min, 4 A read 30 s later: with the step half way 135 + 2.6875 A·min have flowed, of 212.8.
    const wantedAMin = WANTED_C / 60;
    const leftMin = (wantedAMin - 135 - (0.25 * 6.75 + 0.25 * 4)) / 4;
    const rows = [...every(5, 1200, I0), [1230, 4] as const];
    for (const origin of ['typed', 'log'] as const) {
      const figure = end(rows, origin);
      expect(figure.valueSi).toBeCloseTo(1230 + leftMin * 60, 6);
      // As early, or as late, as it can have been set.
      expect(figure.lowSi).toBeCloseTo(figure.valueSi - (15 * 2.75) / 4, 6);
      expect(figure.highSi).toBeCloseTo(figure.valueSi + (15 * 2.75) / 4, 6);
      expect(figure.inputs.find(({ symbol }) => symbol === 'I')).toMatchObject({
        valueSi: 4,
        label: 'current now, the last reading',
      });
    }
  });

  it('turned up again a second later is no ramp that would go on to the planned current', () => {
    const rows: Row[] = [...every(300, 1500, I0), [1530, 4.19], [1600, 3], [1601, 4.19]];
    const now = currentNow(readings(rows), { plannedA: I0, rampS: 300 })!;
    expect(now).toMatchObject({ levelA: 4.19, riseAPerS: 0, readings: 1 });
    const { missingChargeC, endS } = runProgress(readings(rows), KNOWN);
    expect(endS!.valueSi).toBeCloseTo(1601 + missingChargeC / 4.19, 6);
  });

  it('without a step is the mean of the last minute, or of the last two readings', () => {
    const noisy: Row[] = every(10, 600, 4).map(([t], i) => [t, i % 2 ? 4.02 : 3.98]);
    const mean = noisy.filter(([t]) => t >= 540).reduce((sum, [, a], _, all) => sum + a / all.length, 0);
    expect(currentNow(readings(noisy, 'supply'), { plannedA: 4, rampS: 60 })!.levelA).toBeCloseTo(mean, 12);
    const seldom: Row[] = [...every(300, 1500, 4), [1800, 4.06]];
    expect(currentNow(readings(seldom), { plannedA: 4, rampS: 60 })!.levelA).toBeCloseTo(4.03, 12);
  });

  it('of one quick reading off the rest is the lower of both until the next; in the range are both', () => {
    for (const slip of [5.2, 2.8]) {
      const rows: Row[] = [...every(5, 600, 4), [605, slip]];
      const now = currentNow(readings(rows, 'supply'), { plannedA: 6, rampS: 60 })!;
      expect(now).toMatchObject({
        levelA: Math.min(4, slip),
        lowA: Math.min(4, slip),
        highA: Math.max(4, slip),
      });
      const after = readings([...rows, [610, 4]], 'supply');
      expect(currentNow(after, { plannedA: 6, rampS: 60 })!.levelA).toBeCloseTo(4, 12);
      const stays = readings([...rows, [610, slip]], 'supply');
      expect(currentNow(stays, { plannedA: 6, rampS: 60 })!.levelA).toBeCloseTo(slip, 12);
    }
  });

  it('is as it was told to be set until a reading shows what came of it, and the range has what flowed', () => {
    const asked = [{ atS: 1553, toA: 4.19, stands: true }];
    const before: Row[] = every(300, 1500, I0);
    const told: Row[] = [...before, [1553, I0]];
    const missingC = WANTED_C - 1553 * I0;
    const waiting = end(told, 'typed', { asked });
    expect(waiting.valueSi).toBeCloseTo(1553 + missingC / 4.19, 6);
    expect(waiting.lowSi).toBeCloseTo(1553 + missingC / I0, 6);
    expect(waiting.inputs.find(({ symbol }) => symbol === 'I_read')!.valueSi).toBeCloseTo(I0, 12);
    // Typed 32 s later: set when it was told, and the end stays where it was.
    const done = end([...told, [1585, 4.19]], 'typed', { asked });
    expect(done.valueSi).toBeCloseTo(waiting.valueSi, 6);
    // Had it been set only just before it was read.
    expect(done.lowSi).toBeCloseTo(done.valueSi - (32 * (I0 - 4.19)) / 4.19, 6);
    // Read a minute later as it was: nobody has set it.
    const not = end([...told, [1623, I0]], 'typed', { asked });
    expect(not.valueSi).toBeCloseTo(1553 + missingC / I0, 6);
    // And taken back when the contact is back.
    const back = end(told, 'typed', { asked: [{ ...asked[0]!, stands: false }] });
    expect(back.valueSi).toBeCloseTo(1553 + missingC / I0, 6);
  });

  it('past the wanted since then too counts what was told from when it was told', () => {
    const asked = [{ atS: 1500, toA: 3.375, stands: true }];
    const rows: Row[] = [...every(300, 1500, I0), [1800, 3.375]];
    // 1500 s at 6.75 A, the rest of a thinner film at half of it.
    const thin = { ...KNOWN, thicknessM: ((1600 * I0) / WANTED_C) * 25e-6 };
    expect(runProgress(readings(rows), thin, { asked }).wantedSinceS).toBeCloseTo(1700, 6);
  });
});

/** A run as it may go: a ramp of 5 min, then a step, or two; read with a meter that has noise. */
function simulated(random: SeededRandom, sd: number, gapS: readonly [number, number], steps: number) {
  const shares = [1];
  const times = [random.between(700, 1400)];
  for (let i = 0; i < steps; i++) {
    shares.push(shares[i]! * random.between(0.35, 0.9));
    times.push(times[i]! + random.between(20, 500));
  }
  const share = (t: number): number =>
    t < 300 ? t / 300 : (shares[times.findIndex((at) => t < at)] ?? shares.at(-1)!);
  // Of pieces of constant current and the ramp, in closed form.
  const chargeC = (t: number): number => {
    const edges = [300, ...times.slice(0, steps), Infinity];
    let sumC = (I0 * Math.min(t, 300) ** 2) / 600;
    for (let i = 0; i + 1 < edges.length; i++)
      sumC += I0 * shares[i]! * Math.max(0, Math.min(t, edges[i + 1]!) - edges[i]!);
    return sumC;
  };
  const lastStepS = times[steps - 1] ?? times[0]!;
  const rows: Row[] = [];
  const read = (t: number): void => {
    rows.push([t, Math.round(I0 * share(t) * (1 + sd * random.normal()) * 100) / 100]);
  };
  const readAfter = Math.floor(random.between(2, 6));
  for (let t = 0, after = 0; after < readAfter; t += random.between(...gapS)) {
    // By hand the ramp's end is read.
    if (rows.length > 0 && rows.at(-1)![0] < 300 && t > 300) read(300);
    if (t !== 300) read(t);
    if (t >= lastStepS) after++;
  }
  const nowS = rows.at(-1)![0];
  const leftS = (WANTED_C - chargeC(nowS)) / (I0 * shares.at(-1)!);
  return { rows, leftS, endS: nowS + leftS, nowS };
}

describe('over many runs with steps', () => {
  it.each([
    ['a supply that is read', [5, 5], 'supply'],
    ['a supply read every second', [1, 1], 'supply'],
    ['a log by the minute', [60, 60], 'log'],
    ['typed every minute or two', [30, 150], 'typed'],
    ['typed every few minutes', [150, 420], 'typed'],
  ] as const)('the end lies in the range and is told without bias: %s', (_, gapS, origin) => {
    const random = seededRandom(50_061);
    for (const sd of [0, 0.01, 0.02]) {
      let count = 0;
      let inside = 0;
      let off = 0;
      for (let i = 0; i < 150; i++) {
        const { rows, leftS, endS, nowS } = simulated(random, sd, gapS, 1 + (i % 2));
        if (leftS < 300) continue;
        const told = runProgress(readings(rows, origin), { ...plan, chargeRelativeUncertainty: 0.02 }).endS!;
        count++;
        if (told.lowSi! <= endS && endS <= told.highSi!) inside++;
        off += (told.valueSi - nowS) / leftS - 1;
      }
      expect(count).toBeGreaterThan(80);
      expect(inside / count).toBeGreaterThan(0.97);
      expect(Math.abs(off / count)).toBeLessThan(0.02);
    }
  });

  it('noise alone, and one reading that is rubbish, moves the time left no more than the mean of two readings would', () => {
    const random = seededRandom(50_062);
    for (const sd of [0.005, 0.01, 0.02]) {
      let squares = 0;
      const runs = 200;
      for (let i = 0; i < runs; i++) {
        const rows = every(5, 1500 + 5 * i, I0).map(([t, a]): Row => [t, a * (1 + sd * random.normal())]);
        rows[rows.length - 4] = [rows.at(-4)![0], I0 * 1.3];
        const { levelA } = currentNow(readings(rows, 'supply'), { plannedA: I0, rampS: 300 })!;
        squares += (levelA / I0 - 1) ** 2 / runs;
      }
      // Of thirteen readings the mean is off by 0.28 deviations; of two by 0.71.
      expect(Math.sqrt(squares)).toBeLessThan(0.5 * sd);
    }
  });
});
