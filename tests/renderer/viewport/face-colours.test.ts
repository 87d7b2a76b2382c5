import { readFileSync } from 'node:fs';
import {
  differenceCiede2000,
  filterDeficiencyDeuter,
  filterDeficiencyProt,
  parse,
  wcagContrast,
} from 'culori';
import { describe, expect, it } from 'vitest';
import { DRY_ENTRY, FACE_LEGEND, legendFor } from '../../../renderer/viewport/face-legend.ts';
import { PRINT_THEME } from '../../../renderer/viewport/viewport-theme.ts';

const css = readFileSync(new URL('../../../renderer/viewport/viewport.css', import.meta.url), 'utf8');

/** The custom property's colour in one theme. */
function colour(property: string, theme: 'light' | 'dark'): string {
  const found = new RegExp(`${property}: light-dark\\((#[0-9a-f]{6}), (#[0-9a-f]{6})\\)`).exec(css);
  if (!found) throw new Error(`${property} is not in viewport.css`);
  return found[theme === 'light' ? 1 : 2]!;
}

describe.each(['light', 'dark'] as const)('colours of faces, %s', (theme) => {
  const entry = (style: string) =>
    [...FACE_LEGEND, DRY_ENTRY].find((candidate) => candidate.style === style)!;

  it.each(['mask', 'contact', 'finding', 'gas', 'liquid', 'dry'])(
    'the pattern of %s stands out from what is under it',
    (style) => {
      const { colour: under, ink } = entry(style);
      // WCAG 2.2, 1.4.11: 3 : 1 for graphics that carry meaning.
      expect(wcagContrast(colour(under, theme), colour(ink, theme))).toBeGreaterThan(3);
    },
  );

  // Machado, Oliveira and Fernandes (2009) simulate full protanopia and deuteranopia; a CIEDE2000 difference of 10
  // is seen at a glance (common practice: 2.3 is just noticeable).
  it.each([
    ['nobody in particular', (hex: string) => parse(hex)!],
    ['protanopia', (hex: string) => filterDeficiencyProt(1)(parse(hex)!)],
    ['deuteranopia', (hex: string) => filterDeficiencyDeuter(1)(parse(hex)!)],
  ] as const)('treatments differ even without their patterns, for %s', (_, seen) => {
    const difference = differenceCiede2000();
    const treatments = ['coat', 'mask', 'contact', 'dry'].map((style) =>
      seen(colour(entry(style).colour, theme)),
    );
    for (let i = 0; i < treatments.length; i++) {
      for (let j = 0; j < i; j++) expect(difference(treatments[i]!, treatments[j]!)).toBeGreaterThan(10);
    }
  });
});

describe('colours on paper', () => {
  it('stay readable in grey: ink on mask and contact, edges on coat', () => {
    expect(wcagContrast(PRINT_THEME.mask, PRINT_THEME.maskInk)).toBeGreaterThan(7);
    expect(wcagContrast(PRINT_THEME.contact, PRINT_THEME.contactInk)).toBeGreaterThan(7);
    expect(wcagContrast(PRINT_THEME.coat, PRINT_THEME.edge)).toBeGreaterThan(7);
    expect(wcagContrast(PRINT_THEME.dry, PRINT_THEME.dryInk)).toBeGreaterThan(3);
  });
});

describe('the legend', () => {
  it('names what stands out of the bath where something does', () => {
    const labels = (standsOut: boolean) => legendFor(new Uint8Array(3), standsOut).map(({ label }) => label);
    expect(labels(false)).toEqual(['Coated']);
    expect(labels(true)).toEqual(['Coated', 'Above the level, not in the bath']);
  });
});
