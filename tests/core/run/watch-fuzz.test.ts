import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CHARGE_CONSTANT_DEFAULT } from '../../../core/reference/charge-constant.ts';
import { importLog } from '../../../core/run/import-log.ts';
import { createContactWatch, type ContactWatch } from '../../../core/run/contact-watch.ts';
import { readingAt } from '../../../core/run/readings.ts';
import { liveSpans } from '../../../core/run/live-spans.ts';
import { runProgress } from '../../../core/run/run-progress.ts';
import { createPacedWatch } from '../../../core/run/paced-watch.ts';
import { createTypedWatch } from '../../../core/run/typed-watch.ts';
import { watchAdvice } from '../../../core/run/watch-advice.ts';
import type { WatchPlan } from '../../../core/run/watch-event.ts';

/** Whatever a logger writes: a failure with something to do, or readings the watch can judge, with no NaN in what it says. */

const ORDINARY = 120;
const HARD = 300;

const plan = (mode: 'current' | 'voltage', currentDensityAPerM2: number): WatchPlan => ({
  mode,
  areaM2: 0.05,
  currentDensityAPerM2,
  chargePerVolumeCPerM3: CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3,
  rampS: 60,
  supplyVoltageLimitV: null,
  supplyCurrentLimitA: null,
});

function judge(
  text: string,
  mode: 'current' | 'voltage',
  make: (of: WatchPlan) => ContactWatch,
  density = ORDINARY,
): void {
  const log = importLog(text);
  if (!log.ok) {
    expect(log.error.message).toMatch(/\.$/);
    expect(log.error.remedy.length).toBeGreaterThan(10);
    return;
  }
  const { readings } = log.value;
  const watch = make(plan(mode, density));
  for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
  const { value, low, high } = watch.areaLeft();
  expect(low).toBeGreaterThanOrEqual(0);
  expect(low).toBeLessThanOrEqual(value);
  expect(value).toBeLessThanOrEqual(high);
  expect(high).toBeLessThanOrEqual(1);
  const progress = runProgress(
    readings,
    {
      ...plan(mode, density),
      rampS: 60,
      thicknessM: 20e-6,
      chargeRelativeUncertainty: CHARGE_CONSTANT_DEFAULT.relativeUncertainty,
      chargeSource: CHARGE_CONSTANT_DEFAULT.source,
    },
    {},
    liveSpans(watch.events()),
  );
  for (const { valueSi, lowSi, highSi } of [progress.chargeC, progress.thicknessM]) {
    expect([valueSi, lowSi, highSi].every(Number.isFinite)).toBe(true);
  }
  for (const event of watch.events()) {
    const stage = { mode, thicknessM: progress.thicknessM.valueSi, plannedA: 6 };
    const { message, remedy } = watchAdvice(event, stage);
    expect(`${message} ${remedy}`).not.toMatch(/NaN|Infinity|undefined/);
    expect([event.atS, event.sinceS, ...event.areaLeft].every(Number.isFinite)).toBe(true);
    expect(event.areaLeft[0]).toBeGreaterThanOrEqual(0);
    expect(event.areaLeft[0]).toBeLessThanOrEqual(event.likelyAreaLeft);
    expect(event.likelyAreaLeft).toBeLessThanOrEqual(event.areaLeft[1]);
    expect(event.areaLeft[1]).toBeLessThanOrEqual(1);
  }
}

/** A cell of a log: mostly a plausible number, now and then what loggers write when something is wrong. */
const cell = (low: number, high: number) =>
  fc.oneof(
    {
      weight: 30,
      arbitrary: fc.double({ min: low, max: high, noNaN: true }).map((value) => value.toPrecision(4)),
    },
    {
      weight: 1,
      arbitrary: fc.constantFrom('NaN', 'Infinity', '-4', '0', '', '#ERR', '1e30', '12,5', '-0', '1e-300'),
    },
  );

const rows = fc
  .array(
    fc.tuple(
      fc.oneof(
        { weight: 20, arbitrary: fc.constantFrom(5, 1, 20) },
        { weight: 1, arbitrary: fc.constantFrom(0, 300, 4000, -5) },
      ),
      cell(0, 25),
      cell(0, 9),
      cell(5, 40),
    ),
    { maxLength: 250 },
  )
  .map((list) => {
    let t = 0;
    return list.map(([dt, ...cells]) => [(t += dt), ...cells]);
  });

describe('any log', () => {
  it('with readings below any meter’s last digit, or current without volts, is judged in numbers', () => {
    const text = 't_s,volt,amp,degC\n4000,0,0,5\n4005,4.941e-324,4.941e-324,5\n4010,4.941e-324,4.941e-324,5';
    const wavy = (volts: number, i: number): number => volts * (1 + 0.01 * Math.sin(7 * i));
    const noVolts = [
      ...Array.from({ length: 31 }, () => [0, 3]),
      ...Array.from({ length: 12 }, (_, i) => [wavy(0.5, i), 40]),
      ...Array.from({ length: 6 }, (_, i) => [wavy(15, i), 40]),
    ].map((row, i) => [5 * i, ...row].join());
    const thenNone = [
      ...Array.from({ length: 3 }, (_, i) => [wavy(29, i), 9000]),
      ...Array.from({ length: 25 }, () => [0, 0.01]),
      [0, 0],
    ].map((row, i) => [5 * i, ...row].join());
    for (const make of [createTypedWatch, createContactWatch, createPacedWatch]) {
      for (const mode of ['current', 'voltage'] as const) {
        judge(text, mode, make);
        judge(['t_s,volt,amp', ...noVolts].join('\n'), mode, make);
        judge(['t_s,volt,amp', ...thenNone].join('\n'), mode, make);
      }
    }
  });

  it.each(['current', 'voltage'] as const)(
    'is refused with something to do or judged in numbers, %s held',
    (mode) => {
      fc.assert(
        fc.property(
          rows,
          fc.constantFrom(',', ';', '\t'),
          fc.constantFrom(
            't_s,volt,amp,degC',
            '\uFEFFZeit [s],Spannung [V],Strom [A],Temp',
            't_s,volt',
            'a,b,c,d',
            '',
          ),
          fc.constantFrom('\n', '\r\n'),
          fc.constantFrom(createContactWatch, createTypedWatch, createPacedWatch),
          fc.constantFrom(ORDINARY, HARD),
          (list, delimiter, heading, end, make, density) => {
            const text = [heading.replaceAll(',', delimiter), ...list.map((row) => row.join(delimiter))].join(
              end,
            );
            judge(text, mode, make, density);
          },
        ),
        { numRuns: 300 },
      );
    },
  );

  it('steps, spikes and power cuts of any size, anywhere, give numbers', () => {
    const part = fc.record({
      samples: fc.integer({ min: 1, max: 60 }),
      volts: fc.constantFrom(0, 0.5, 3, 12, 15, 18, 29, 200),
      amps: fc.constantFrom(0, 0.01, 0.5, 3, 6, 6.5, 40, 9000),
    });
    const manyParts = fc.array(part, { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(manyParts, fc.boolean(), fc.constantFrom(ORDINARY, HARD), (parts, held, density) => {
        const lines = parts.flatMap(({ samples, volts, amps }) =>
          Array.from({ length: samples }, (_, i) => `${volts * (1 + 0.01 * Math.sin(7 * i))},${amps}`),
        );
        judge(
          `t_s,volt,amp\n${lines.map((line, i) => `${5 * i},${line}`).join('\n')}`,
          held ? 'current' : 'voltage',
          createContactWatch,
          density,
        );
      }),
      { numRuns: 300 },
    );
  });
});
