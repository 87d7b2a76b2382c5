import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { deltaE2000 } from '../../../core/finish/colour.ts';
import {
  contrast,
  dyeAccent,
  hexOfLab,
  labOfHex,
  selectedOnDye,
  type AccentGround,
} from '../../../renderer/state/dye-accent.ts';

/** The themes as the style sheet has them. */
const css = readFileSync('renderer/app/tokens.css', 'utf8');
const [light, dark] = css.split("[data-theme='dark']") as [string, string];
const ground = (sheet: string): AccentGround => {
  const token = (name: string): string => new RegExp(`--${name}: (#[0-9a-f]{6})`).exec(sheet)![1]!;
  return {
    surface: token('surface'),
    raised: token('surface-raised'),
    sunken: token('surface-sunken'),
    ink: token('ink'),
    inkSoft: token('ink-soft'),
    warnings: [token('stop'), token('check')],
  };
};

it('reads contrast as WCAG defines it', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
  expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2); // the well-known grey that just fails
  expect(contrast('#fff', '#000')).toBeCloseTo(21, 10);
  expect(() => contrast('red', '#ffffff')).toThrow(RangeError);
});

it('takes any dye into an accent that can be read, in both themes', () => {
  const lab = fc.record({
    l: fc.double({ min: 0, max: 100, noNaN: true }),
    a: fc.double({ min: -90, max: 90, noNaN: true }),
    b: fc.double({ min: -90, max: 90, noNaN: true }),
  });
  fc.assert(
    fc.property(lab, fc.constantFrom(ground(light), ground(dark)), (dye, theme) => {
      const made = dyeAccent(dye, theme);
      if (!made) return;
      const { accent, soft, onAccent } = made;
      for (const warning of theme.warnings) {
        expect(deltaE2000(labOfHex(accent), labOfHex(warning))).toBeGreaterThanOrEqual(20);
      }
      // WCAG 2.2 1.4.3: 4.5 : 1 for text; the soft ground also carries the theme's own inks.
      expect(contrast(accent, theme.raised)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(accent, theme.surface)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(accent, theme.sunken)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(accent, soft)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(onAccent, accent)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(theme.inkSoft, soft)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(theme.ink, soft)).toBeGreaterThanOrEqual(4.5);
    }),
  );
});

it('leaves the accent alone where a red or amber dye would make every control look like a stop', () => {
  for (const theme of [ground(light), ground(dark)]) {
    for (const warning of theme.warnings) expect(dyeAccent(labOfHex(warning), theme)).toBeNull();
    expect(dyeAccent(labOfHex('#a01828'), theme)).toBeNull();
    for (const dye of ['#1c3f94', '#127a3c', '#5b2a86', '#101010']) {
      expect(dyeAccent(labOfHex(dye), theme)).not.toBeNull();
    }
  }
});

it('keeps a dye that can already be read as it is', () => {
  const blue = labOfHex('#1c3f94');
  expect(dyeAccent(blue, ground(light))!.accent).toBe('#1c3f94');
  expect(hexOfLab(blue)).toBe('#1c3f94');
});

it('selected faces are told from a dyed part, whatever the dye', () => {
  const viewport = readFileSync('renderer/viewport/viewport.css', 'utf8');
  const [own] = /--view-selected: light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/.exec(viewport)!.slice(1);
  // A blue dye is where the theme's own blue fails; a red one keeps it.
  const blue = labOfHex('#1b4fb0');
  expect(deltaE2000(labOfHex(own!), blue)).toBeLessThan(10);
  expect(selectedOnDye(blue, own!)).not.toBe(own);
  expect(selectedOnDye(labOfHex('#d8a080'), own!)).toBe(own);
  const lab = fc.record({
    l: fc.double({ min: 0, max: 100, noNaN: true }),
    a: fc.double({ min: -60, max: 60, noNaN: true }),
    b: fc.double({ min: -60, max: 60, noNaN: true }),
  });
  fc.assert(
    fc.property(lab, (dye) => {
      // Well above the 5 that anybody sees side by side (Sharma, Wu and Dalal 2005 for the measure).
      expect(deltaE2000(labOfHex(selectedOnDye(dye, own!)), dye)).toBeGreaterThan(20);
    }),
  );
});
