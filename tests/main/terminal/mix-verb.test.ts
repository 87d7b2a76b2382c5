/** `tankside mix` as it is run: mass and acid balances, the two ways round, refusals. */
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { runTankside } from './run-tankside.ts';

const report = z.strictObject({
  acidL: z.number(),
  waterL: z.number(),
  acidKg: z.number(),
  waterKg: z.number(),
  finalGPerL: z.number(),
  finalWtPercent: z.number(),
  mixingRiseK: z.number(),
  waterPerAcid: z.number(),
  pours: z.array(z.strictObject({ acidKg: z.number(), reachesC: z.number() })).min(1),
});
const mix = (...args: string[]) => {
  const ended = runTankside('mix', ...args, '--json');
  expect(ended.err).toBe('');
  expect(ended.code).toBe(0);
  return report.parse(JSON.parse(ended.out));
};

describe('mix', () => {
  it('gives acid and water for 12 L of 180 g/L from 35 % acid that balance in mass and in acid', () => {
    const made = mix('--acid', '35%', '--target', '180g/L', '--volume', '12L');
    expect(made.finalGPerL).toBeCloseTo(180, 1);
    // Acid: 12 L of 180 g/L hold 2.16 kg of H2SO4, which is 35 % of what is poured. Rounded to 0.1 g.
    expect(made.acidKg * 0.35).toBeCloseTo(2.16, 3);
    expect((made.acidKg + made.waterKg) * (made.finalWtPercent / 100)).toBeCloseTo(2.16, 3);
    // 35 % acid: 1.2599 g/cm³ at 20 °C; water 0.9982 (CRC Handbook, Perry’s table 2-75). A thousandth for rounding.
    expect(made.acidKg / made.acidL).toBeCloseTo(1.2599, 3);
    expect(made.waterKg / made.waterL).toBeCloseTo(0.9982, 3);
    // Volumes shrink: what is poured is more than what it makes.
    expect(made.acidL + made.waterL).toBeGreaterThan(12);
  });

  it('is the same mix the other way round, in parts', () => {
    const made = mix('--acid', '96%', '--target', '180g/L', '--volume', '10L');
    const back = mix('--acid', '96%', '--parts', `${made.acidL}:${made.waterL}`, '--volume', '10L');
    expect(back.finalGPerL).toBeCloseTo(180, 1);
    expect(back.acidKg).toBeCloseTo(made.acidKg, 3);
    expect(back.mixingRiseK).toBeCloseTo(made.mixingRiseK, 1);
  });

  it('tells what one part of acid to three of water gives, a part being a litre', () => {
    const made = mix('--acid', '35%', '--parts', '1:3');
    expect(made.acidL).toBeCloseTo(1, 4);
    expect(made.waterL).toBeCloseTo(3, 4);
    expect(made.finalWtPercent).toBeCloseTo((100 * 0.35 * 1.2599) / (1.2599 + 3 * 0.9982), 2);
  });

  it('prints amounts, pours and the caution as text, and the working when asked', () => {
    const ended = runTankside('mix', '--acid', '96%', '--target', '180g/L', '--volume', '12L', '--working');
    expect(ended.code).toBe(0);
    expect(ended.out).toContain('acid into water');
    expect(ended.out).toContain('pour 1 of 2');
    expect(ended.out).toContain('spits');
    expect(ended.out).toContain('source:');
  });

  it('answers in gallons and pounds where they were typed: 3 gal of 24 oz/gal hold 4.5 lb of acid', () => {
    // 3 · 24 oz are 72 oz of H2SO4, 4.5 lb (avoirdupois); of 35 % acid 12.857 lb.
    const ended = runTankside('mix', '--acid', '35%', '--target', '24oz/gal', '--volume', '3gal');
    expect(ended.out).toContain('Acid by weight: 12.86 lb');
    expect(ended.out).toContain('°F');
    expect(ended.out).not.toMatch(/ kg| L\b/);
  });

  it('tells how much bath the acid at hand makes', () => {
    const made = mix('--acid', '1.265', '--target', '180g/L', '--acid-volume', '1gal');
    expect(made.acidL).toBeCloseTo(3.7854, 3);
    expect(made.finalGPerL).toBeCloseTo(180, 1);
  });

  it.each([
    [['--target', '180g/L', '--volume', '12L'], 'The acid is missing.'],
    [['--acid', '35%', '--target', '180g/L'], 'volume'],
    [['--acid', '10%', '--target', '20%', '--volume', '1L'], 'weaker than the bath should be'],
    [['--acid', '35', '--target', '180g/L', '--volume', '1L'], 'no unit'],
    [['--acid', '35%', '--target', '200 %', '--volume', '1L'], 'acid alone is 100 %'],
    [['--acid', '35%', '--parts', '1:0'], 'has no water in it'],
    [['--acid', '35%', '--pour', '1L'], 'pour'],
  ])('refuses %j with a cause and what to do', (args, says) => {
    const ended = runTankside('mix', ...args);
    expect(ended.code).toBe(2);
    expect(ended.out).toBe('');
    expect(ended.err).toContain(says);
    expect(ended.err.trimEnd().split('\n')).toHaveLength(2);
  });
});
