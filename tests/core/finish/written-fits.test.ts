/** Fits as drawings in inches write them: ASME Y14.5-2018, 4.3 and 5.3 (limits, plus and minus, no zero before an inch's point). */
import { describe, expect, it } from 'vitest';
import { typedBuildUp } from '../../../core/finish/build-up.ts';
import { completeFit } from '../../../core/finish/complete-fit.ts';
import { fitAfterCoating } from '../../../core/finish/fit-after-coating.ts';
import { fitReport } from '../../../core/finish/fit-report.ts';
import { parseFit } from '../../../core/finish/parse-fit.ts';
import { valueOf } from '../value-of.ts';

const INCH = 0.0254;

describe('limits and deviations', () => {
  it.each([
    ['.2575/.2565', 0.2565, 0.2575],
    ['.2565 – .2575', 0.2565, 0.2575],
    ['0.2565in / 0.2575in', 0.2565, 0.2575],
    ['0.2565 to 0.2575"', 0.2565, 0.2575],
    ['0.2570 +0.0005 -0.0000 in', 0.257, 0.2575],
    ['.2570 +.0005/-.0000', 0.257, 0.2575],
    ['0.2570in +.0010 +.0005', 0.2575, 0.258],
    ['.2570 -.0005 -.0010', 0.256, 0.2565],
    ['1/4 +.001 -0', 0.25, 0.251],
    ['1 1/4 ±.002', 1.248, 1.252],
    ['1.250 +/-.002 in', 1.248, 1.252],
  ])('%s is %d to %d in', (text, low, high) => {
    const { limits } = valueOf(parseFit(text));
    expect(limits.kind).toBe('hole');
    expect('lowM' in limits && [limits.lowM / INCH, limits.highM / INCH]).toEqual([
      expect.closeTo(low, 9),
      expect.closeTo(high, 9),
    ]);
  });

  it.each([
    ['6.50/6.52 mm', 6.5, 6.52],
    ['6,5 +0,02 0 mm', 6.5, 6.52],
    ['6.5mm 0/-0.02', 6.48, 6.5],
    ['⌀6.5 ±0.01mm', 6.49, 6.51],
  ])('%s is %d to %d mm', (text, low, high) => {
    expect(valueOf(fitReport(text, typedBuildUp(0))).beforeMm).toEqual([low, high]);
  });

  it('a hole’s close and a shaft’s open, and the side taken for granted is said', () => {
    const growth = typedBuildUp(0.0003 * INCH);
    const hole = valueOf(fitAfterCoating('.8745/.8740', growth));
    expect(hole.window.after.lowM / INCH).toBeCloseTo(0.8734, 9);
    expect(hole.text).toContain('for a shaft write “shaft .8745/.8740”');
    const shaft = valueOf(fitAfterCoating('shaft .8745/.8740', growth));
    expect(shaft.window.after.lowM / INCH).toBeCloseTo(0.8746, 9);
    expect(shaft.text).not.toContain('Taken as');
    expect(valueOf(fitAfterCoating('.8745/.8740', growth, 'external')).window.after).toEqual(
      shaft.window.after,
    );
  });

  it.each([
    ['0.8745/0.8740', 'fit-no-unit'],
    ['.8745/0.8740 mm/in', 'fit-not-read'],
    ['.25in/6.5mm', 'fit-limits'],
    ['.8745/.8745', 'fit-limits'],
    ['.2575/.9', 'fit-limits'],
    ['.257 +.0005', 'fit-not-read'],
    ['1/4', 'fit-not-read'],
    ['3/8', 'fit-not-read'],
  ])('refuses %s: %s', (text, code) => {
    expect(parseFit(text)).toMatchObject({ ok: false, error: { code } });
  });

  it('names what can be typed instead of an inch class of fit', () => {
    for (const text of ['FN2', 'LN2', '0.2500 RC4']) {
      const read = parseFit(text);
      expect(read.ok ? '' : read.error.message + read.error.remedy).toMatch(/ANSI B4.1.*\.2575\/\.2565/);
    }
  });
});

describe('a class on a size in inches', () => {
  it.each([
    ['1/4 H7', 0.25],
    ['0.2570 in H7', 0.257],
    ['.257H7', 0.257],
    ['0.257" H7', 0.257],
  ])('%s starts at %d in and spans the 15 µm of ISO 286-1, 6 to 10 mm', (text, inches) => {
    const { limits } = valueOf(parseFit(text));
    expect(limits.nominalM / INCH).toBeCloseTo(inches, 7);
    expect('lowM' in limits && (limits.highM - limits.lowM) * 1e6).toBeCloseTo(15, 6);
  });
});

describe('a fit is kept with its size and unit', () => {
  it.each([
    ['H7', 0.257 * INCH, 'us', '0.2570 in H7'],
    ['H7', 0.257 * INCH, 'metric', '6.5278H7'],
    ['H7', 0.025 + 3e-8, 'metric', '25H7'],
    ['js6', 0.0066, 'us', '0.25984 in js6'],
    ['H7', null, 'us', 'H7'],
    ['0.257 H7', 0.257 * INCH, 'us', '0.257 in H7'],
    ['10H7', 0.257 * INCH, 'us', '10H7'],
    ['1/4 H7', null, 'metric', '1/4 in H7'],
    ['0.2575/0.2565', null, 'us', '0.2575/0.2565 in'],
    ['6.52/6.50', null, 'metric', '6.52/6.50 mm'],
    ['.2575/.2565', null, 'metric', '.2575/.2565'],
    [' M6x1-6H ', 0.005, 'us', 'M6x1-6H'],
    ['M6', 0.005, 'us', 'M6'],
    ['1/4-20', 0.005, 'us', '1/4-20'],
    ['nonsense', 0.005, 'us', 'nonsense'],
  ] as const)('%s on %d m, %s: %s', (text, diameterM, system, kept) => {
    expect(completeFit(text, diameterM, system)).toBe(kept);
  });

  it('starts within a tenth of a micrometre of the model’s size', () => {
    for (const system of ['us', 'metric'] as const)
      for (let diameterM = 1.2345e-3; diameterM < 0.4; diameterM *= 1.0837) {
        const { limits } = valueOf(parseFit(completeFit('H7', diameterM, system)));
        expect(Math.abs(limits.nominalM - diameterM)).toBeLessThan(0.1e-6 + 1e-12);
      }
  });
});
