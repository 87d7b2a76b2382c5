import {
  converter,
  differenceEuclidean,
  filterDeficiencyDeuter,
  filterDeficiencyProt,
  filterDeficiencyTrit,
} from 'culori';
import { describe, expect, it } from 'vitest';
import { colourRamp, rampColour, RAMP_STEPS } from '../../../renderer/viewport/colour-ramp.ts';

/** Held against culori, a colour library of its own. */
const table = colourRamp();
const colours = Array.from({ length: RAMP_STEPS }, (_, i) => rampColour(table, i / (RAMP_STEPS - 1)));
const lab = converter('lab');
const difference = differenceEuclidean('oklab');

describe('the colours of a map', () => {
  it('get lighter all the way, so that they read without colour and in print', () => {
    const lightness = colours.map((colour) => lab(colour)!.l);
    // Eight-bit colours: rounding moves CIELAB lightness by up to a quarter.
    for (let i = 1; i < RAMP_STEPS; i++) expect(lightness[i]!).toBeGreaterThan(lightness[i - 1]! - 0.25);
    expect(lightness.at(-1)! - lightness[0]!).toBeGreaterThan(65);
  });

  it('are equally far apart for equal steps', () => {
    const stops = Array.from({ length: 16 }, (_, i) => rampColour(table, i / 15));
    const steps = stops.slice(1).map((colour, i) => difference(colour, stops[i]!));
    // 17 of the table's steps each. Rounding to eight bits moves a dark colour by 0.002, of a step of about 0.06.
    expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(1.1);
  });

  it.each([
    ['protanopia', filterDeficiencyProt(1)],
    ['deuteranopia', filterDeficiencyDeuter(1)],
    ['tritanopia', filterDeficiencyTrit(1)],
  ])('stay apart with %s', (_, seen) => {
    const stops = Array.from({ length: 9 }, (_, i) => seen(lab(rampColour(table, i / 8))!));
    for (let a = 0; a < stops.length; a++) {
      for (let b = 0; b < a; b++) expect(lab(stops[a]!)!.l - lab(stops[b]!)!.l).toBeGreaterThan(2 * (a - b));
    }
  });

  it('take the ends for values beyond them', () => {
    expect(rampColour(table, -3)).toBe(colours[0]);
    expect(rampColour(table, 7)).toBe(colours.at(-1));
  });
});
