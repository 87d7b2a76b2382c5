/** `tankside fit` as it is run: limits from ISO 286-2, ISO 965-1 and ASME B1.1 tables, moved by the build-up. */
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { runTankside } from './run-tankside.ts';

const pair = z.tuple([z.number(), z.number()]);
const report = z.strictObject({
  beforeMm: pair,
  afterMm: pair,
  machineToMm: pair.nullable(),
  advice: z.string().min(10),
});
const fit = (...args: string[]) => {
  const ended = runTankside('fit', ...args, '--json');
  expect(ended.err).toBe('');
  expect(ended.code).toBe(0);
  return report.parse(JSON.parse(ended.out));
};
const near = (got: readonly number[] | null, wanted: readonly number[]): void => {
  // Printed to a tenth of a micrometre.
  wanted.forEach((value, i) => expect(got![i]).toBeCloseTo(value, 4));
};

describe('fit', () => {
  it('closes a 10H7 bore by twice the build-up and opens what to machine by the same', () => {
    const after = fit('10H7', '--build-up', '8.5um');
    near(after.beforeMm, [10, 10.015]); // ISO 286-2, H7 over 6 to 10 mm: +15, 0 µm
    near(after.afterMm, [9.983, 9.998]);
    near(after.machineToMm, [10.017, 10.032]);
    expect(after.advice).toMatch(/machine|mask/i);
  });

  it('moves the pitch diameter of a 60° thread by four times the build-up', () => {
    const inner = fit('M6x1-6H', '--build-up', '5um');
    near(inner.beforeMm, [5.35, 5.5]); // ISO 965-1: D2 5.350, TD2 150 µm
    near(inner.afterMm, [5.33, 5.48]);
    near(inner.machineToMm, [5.37, 5.52]);
    const inch = fit('1/4-20-2B', '--build-up', '0mil');
    // ASME B1.1: 0.2175 to 0.2224 in. Half a ten-thousandth of an inch for the table's own rounding.
    expect(Math.abs(inch.beforeMm[0] - 0.2175 * 25.4)).toBeLessThan(0.0013);
    expect(Math.abs(inch.beforeMm[1] - 0.2224 * 25.4)).toBeLessThan(0.0013);
  });

  it('takes a film’s thickness with its published range, which narrows what to machine to', () => {
    const after = fit('25H7', '--thickness', '24um');
    // 30 to 40 % of 24 µm (growth-ratio.ts), 7.2 to 9.6 µm a side, on 25.000 to 25.021 (ISO 286-2).
    near(after.afterMm, [24.9808, 25.0066]);
    expect(after.machineToMm![1] - after.machineToMm![0]).toBeLessThan(0.021);
  });

  it('takes limits in inches, a hole’s or a shaft’s', () => {
    const hole = fit('.8745/.8740', '--build-up', '0.3mil');
    near(hole.beforeMm, [22.1996, 22.2123]); // 0.8740 and 0.8745 times 25.4, to a tenth of a micrometre
    near(hole.afterMm, [22.1844, 22.1971]); // 0.6 thou smaller
    expect(hole.advice).toContain('Taken as a hole’s');
    near(fit('shaft .8745/.8740', '--build-up', '0.3mil').afterMm, [22.2148, 22.2275]);
    const bare = runTankside('fit', '0.8745/0.8740', '--build-up', '0.3mil');
    expect(bare.code).toBe(2);
    expect(bare.err).toContain('0.8745/0.8740in');
  });

  it('lists several and prints text', () => {
    const ended = runTankside('fit', '10H7', '10g6', '--build-up', '3um', '--json');
    const listed = z
      .object({ fits: z.array(report.extend({ fit: z.string() })).length(2) })
      .parse(JSON.parse(ended.out));
    expect(listed.fits.map((one) => one.fit)).toEqual(['10H7', '10g6']);
    const text = runTankside('fit', 'M6x1-6H', '--thickness', '10um', '--working');
    expect(text.out).toContain('machine to:');
    expect(text.out).toContain('source:');
    expect(text.out).toContain('M6x1-6H, all as pitch diameter');
    // ISO 965-1, M6 × 1 6H: 5.350 to 5.500 mm.
    expect(text.out).toContain('by the drawing: 5.35 to 5.5 mm (0.21063 to 0.21654 in)');
    expect(runTankside('fit', '10H7', '--build-up', '3um').out).not.toContain('pitch');
  });

  it.each([
    [['10Q7', '--build-up', '5um'], 'can be read|tolerance class'],
    [['--build-up', '5um'], 'No fit is named'],
    [['10H7'], 'build-up or the film'],
    [['10H7', '--build-up', '5'], 'no unit'],
    [['10H7', '--thickness', '5um', '--type', 'soft'], 'no type of film'],
    [['10H7', '--build-up', '5m'], 'between 0 and 1 mm'],
  ])('refuses %j with a cause and what to do', (args, says) => {
    const ended = runTankside('fit', ...args);
    expect(ended.code).toBe(2);
    expect(ended.out).toBe('');
    expect(ended.err).toMatch(new RegExp(says));
    expect(ended.err.trimEnd().split('\n')).toHaveLength(2);
  });
});
