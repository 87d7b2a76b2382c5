import { acidStrength } from '../../../core/bath/acid-strength.ts';
import { describe, expect, it } from 'vitest';
import { finishedVolumeM3, mixFromTexts, mixReport } from '../../../core/bath/mix-report.ts';
import { parseAcid } from '../../../core/bath/parse-acid.ts';
import { valueOf } from '../value-of.ts';

describe('reading an acid', () => {
  it.each([
    ['35%', { as: 'massFraction', massFraction: 0.35 }],
    ['96 wt %', { as: 'massFraction', massFraction: 0.96 }],
    ['37,5 % w/w', { as: 'massFraction', massFraction: 0.375 }],
    ['180g/L', { as: 'concentration', acidKgPerM3: 180 }],
    ['1.28', { as: 'specificGravity', specificGravity: 1.28 }],
    ['1.265', { as: 'specificGravity', specificGravity: 1.265 }],
    ['1.28 SG', { as: 'specificGravity', specificGravity: 1.28 }],
    ['specific gravity 1.28', { as: 'specificGravity', specificGravity: 1.28 }],
    ['SG 1.265', { as: 'specificGravity', specificGravity: 1.265 }],
    ['1.84 g/cm3', { as: 'density', densityKgPerM3: 1840 }],
    ['96 Gew.-%', { as: 'massFraction', massFraction: 0.96 }],
    ['37 Ma%', { as: 'massFraction', massFraction: 0.37 }],
    ['37,5 Masse-%', { as: 'massFraction', massFraction: 0.375 }],
    ['1,28', { as: 'specificGravity', specificGravity: 1.28 }],
    ['1280 kg/m3', { as: 'density', densityKgPerM3: 1280 }],
  ])('%s', (text, statement) => {
    const acid = valueOf(parseAcid(text));
    expect(acid.as).toBe(statement.as);
    for (const [key, value] of Object.entries(statement)) {
      if (typeof value === 'number') expect(acid[key as keyof typeof acid]).toBeCloseTo(value, 9);
    }
  });

  it('reads every example that hint and help give, down to its strength', () => {
    for (const text of ['35 %', '96 %', '66 °Bé', 'SG 1.280', '1.83 g/cm³', '1.83g/cm3', '500g/L', '1.265'])
      expect(acidStrength(valueOf(parseAcid(text)), 293.15).ok, text).toBe(true);
  });

  it('24 oz/gal is 179.7 g/L (avoirdupois ounce, US gallon)', () => {
    expect(valueOf(parseAcid('24 oz/gal'))).toMatchObject({ as: 'concentration' });
    expect((valueOf(parseAcid('24 oz/gal')) as { acidKgPerM3: number }).acidKgPerM3).toBeCloseTo(
      (24 * 28.349523125) / 3.785411784,
      6,
    );
  });

  it.each([
    ['200 %', /acid alone is 100 %/, /200 g\/L/],
    ['SG 2.1', /between 1.001 and 1.836/, /SG 1.280/],
    ['35', /no unit/, /35 %/],
    ['1,84', /gravity of strong acid/, /per cent that its container says/],
    ['SG 1.84', /hardly changes with the strength/, /96 %/],
  ])('says what is wrong with %s and what may be meant', (text, cause, remedy) => {
    const read = parseAcid(text);
    if (read.ok) throw new Error('read');
    expect(read.error.message).toMatch(cause);
    expect(read.error.remedy).toMatch(remedy);
  });

  it.each(['', '35', '180', 'strong', '35 mm', 'SG 35', 'SG 1.28 %', '200 %', '1.9 SG'])(
    'refuses “%s”',
    (text) => {
      expect(parseAcid(text)).toMatchObject({ ok: false, error: { code: 'acid-not-read' } });
    },
  );
});

describe('a mix in the terminal’s form', () => {
  it('35 % to 180 g/L in 12 L: the acid is 2.16 kg of H₂SO₄, everything adds up by mass', () => {
    const mix = valueOf(mixReport({ acid: '35%', target: '180g/L', volume: '12L' }));
    expect(mix.acidKg * 0.35).toBeCloseTo(2.16, 4);
    // Density at 20 °C: 35 % 1.2599, 16.2 % 1.1110, water 0.9982 g/cm³ (Perry).
    expect(mix.acidL).toBeCloseTo(2.16 / 0.35 / 1.2599, 3);
    expect(Math.abs(mix.acidKg + mix.waterKg - 12 * 1.111)).toBeLessThan(12 * 0.0005);
    expect(mix.waterL).toBeCloseTo(mix.waterKg / 0.9982, 3);
    expect(mix.finalGPerL).toBe(180);
    expect(Math.abs(mix.finalWtPercent - 16.2)).toBeLessThan(0.02);
    expect(mix.mixingRiseK).toBeGreaterThan(2);
    expect(mix.mixingRiseK).toBeLessThan(4);
  });

  it('1:3 of battery acid 1.280 is 118.95 g/L (Myhre, inverted)', () => {
    const mix = valueOf(mixReport({ acid: '1.280', parts: '1:3', volume: '4 L' }));
    expect(Math.abs(mix.finalGPerL - 118.95)).toBeLessThan(0.6);
    expect(mix.waterL / mix.acidL).toBeCloseTo(3, 3);
    expect(mix.acidL + mix.waterL).toBeGreaterThan(4);
    expect(valueOf(mixReport({ acid: '1.280', parts: '1:3' })).acidL).toBe(1);
  });

  it('the other way round: all of 2 L of 35 % acid make so much bath', () => {
    // 2 L at 1.2599 g/cm³ hold 0.8819 kg of acid: 4.900 L of 180 g/L (Perry’s density, mass balance).
    const mix = valueOf(mixReport({ acid: '35%', target: '180g/L', acidVolume: '2 L' }));
    expect(mix.acidL).toBeCloseTo(2, 4);
    expect(mix.finalGPerL).toBe(180);
    expect(mix.acidKg * 0.35).toBeCloseTo(0.8819, 3);
    const volumeL = (mix.acidKg * 0.35) / 0.18;
    expect(mix.acidKg + mix.waterKg).toBeCloseTo(volumeL * 1.111, 2);
    const made = valueOf(mixFromTexts({ acid: '35%', target: '180g/L', acidVolume: '2 L' }));
    expect(finishedVolumeM3(made) * 1000).toBeCloseTo(volumeL, 3);
    // The same in parts: what it says of water to one of acid gives the strength back.
    const parts = valueOf(mixReport({ acid: '35%', parts: `1:${mix.waterPerAcid}`, acidVolume: '2 L' }));
    expect(parts.finalGPerL).toBeCloseTo(180, 1);
    expect(parts.waterL).toBeCloseTo(mix.waterL, 3);
  });

  it('96 % acid is never poured in one go, and no pour passes 50 °C with the heat at its high end', () => {
    // 29 K by the textbook’s heat of solution, ±6 %: from 20 °C one pour may pass 50 °C.
    for (const texts of [
      { target: '180 g/L', volume: '10 L' },
      { parts: '1:3', volume: '10 L' },
      { parts: '1:1' },
    ]) {
      const { pours, acidKg } = valueOf(mixReport({ acid: '96%', ...texts }));
      expect(pours.length).toBeGreaterThan(1);
      expect(Math.max(...pours.map(({ reachesC }) => reachesC))).toBeLessThanOrEqual(50);
      expect(pours.reduce((sum, pour) => sum + pour.acidKg, 0)).toBeCloseTo(acidKg, 2);
    }
    expect(valueOf(mixReport({ acid: '35%', parts: '1:3' })).pours).toHaveLength(1);
    expect(valueOf(mixFromTexts({ acid: '96%', parts: '1:9' })).caution).toMatch(/spits/);
    expect(valueOf(mixFromTexts({ acid: '35%', parts: '1:3' })).caution).toBeNull();
  });

  it('refuses half a question', () => {
    const code = (texts: Parameters<typeof mixReport>[0]) => {
      const result = mixReport(texts);
      return result.ok ? 'ok' : result.error.code;
    };
    expect(code({ acid: '35%' })).toBe('mix-input');
    expect(code({ acid: '35%', target: '180 g/L' })).toBe('mix-input');
    expect(code({ acid: '35%', target: '180 g/L', parts: '1:3', volume: '1 L' })).toBe('mix-input');
    expect(code({ acid: '35%', target: '180 g/L', volume: '1 L', acidVolume: '1 L' })).toBe('mix-input');
    expect(code({ acid: '35%', target: '180 g/L', volume: '0 L' })).toBe('no-volume');
    expect(code({ acid: '35%', target: '200 %', volume: '1 L' })).toBe('acid-not-read');
    expect(code({ acid: '35%', parts: '1:0' })).toBe('no-parts');
    expect(code({ acid: '35%', parts: '0:3' })).toBe('no-parts');
    expect(code({ acid: '35%', parts: 'three' })).toBe('parts-not-read');
    expect(code({ acid: '35%', target: '180', volume: '1 L' })).toBe('acid-not-read');
    expect(code({ acid: '35%', target: '180 g/L', volume: '12' })).toBe('quantity-no-unit');
    expect(code({ acid: '10%', target: '180 g/L', volume: '12 L' })).toBe('acid-too-weak');
  });
});
