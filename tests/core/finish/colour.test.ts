import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  deltaE2000,
  labFromSrgb,
  labFromXyz,
  screenColour,
  xyzFromLab,
  type Lab,
} from '../../../core/finish/colour.ts';
import { parseColour } from '../../../core/finish/parse-colour.ts';
import { photoColour, type PixelImage } from '../../../core/finish/photo-colour.ts';
import { valueOf } from '../value-of.ts';

/** Sharma, Wu and Dalal, Color Res. Appl. 30 (2005) 21, table 1: both colours and their CIEDE2000. */
const PAIRS = `
50 2.6772 -79.7751 50 0 -82.7485 2.0425
50 3.1571 -77.2803 50 0 -82.7485 2.8615
50 2.8361 -74.02 50 0 -82.7485 3.4412
50 -1.3802 -84.2814 50 0 -82.7485 1.0000
50 -1.1848 -84.8006 50 0 -82.7485 1.0000
50 -0.9009 -85.5211 50 0 -82.7485 1.0000
50 0 0 50 -1 2 2.3669
50 -1 2 50 0 0 2.3669
50 2.49 -0.001 50 -2.49 0.0009 7.1792
50 2.49 -0.001 50 -2.49 0.001 7.1792
50 2.49 -0.001 50 -2.49 0.0011 7.2195
50 2.49 -0.001 50 -2.49 0.0012 7.2195
50 -0.001 2.49 50 0.0009 -2.49 4.8045
50 -0.001 2.49 50 0.001 -2.49 4.8045
50 -0.001 2.49 50 0.0011 -2.49 4.7461
50 2.5 0 50 0 -2.5 4.3065
50 2.5 0 73 25 -18 27.1492
50 2.5 0 61 -5 29 22.8977
50 2.5 0 56 -27 -3 31.9030
50 2.5 0 58 24 15 19.4535
50 2.5 0 50 3.1736 0.5854 1.0000
50 2.5 0 50 3.2972 0 1.0000
50 2.5 0 50 1.8634 0.5757 1.0000
50 2.5 0 50 3.2592 0.335 1.0000
60.2574 -34.0099 36.2677 60.4626 -34.1751 39.4387 1.2644
63.0109 -31.0961 -5.8663 62.8187 -29.7946 -4.0864 1.2630
61.2901 3.7196 -5.3901 61.4292 2.248 -4.962 1.8731
35.0831 -44.1164 3.7933 35.0232 -40.0716 1.5901 1.8645
22.7233 20.0904 -46.694 23.0331 14.973 -42.5619 2.0373
36.4612 47.858 18.3852 36.2715 50.5065 21.2231 1.4146
90.8027 -2.0831 1.441 91.1528 -1.6435 0.0447 1.4441
90.9257 -0.5406 -0.9208 88.6381 -0.8985 -0.7239 1.5381
6.7747 -0.2908 -2.4247 5.8714 -0.0985 -2.2286 0.6377
2.0776 0.0795 -1.135 0.9033 -0.0636 -0.5514 0.9082`
  .trim()
  .split('\n')
  .map((line) => line.split(' ').map(Number) as [number, number, number, number, number, number, number]);

const lab = (l: number, a: number, b: number): Lab => ({ l, a, b });

describe('colour difference', () => {
  it('has all 34 pairs', () => expect(PAIRS).toHaveLength(34));

  it.each(PAIRS)('%d %d %d against %d %d %d is %d', (l1, a1, b1, l2, a2, b2, expected) => {
    // Printed to four digits.
    expect(Math.abs(deltaE2000(lab(l1, a1, b1), lab(l2, a2, b2)) - expected)).toBeLessThan(1e-4);
    expect(deltaE2000(lab(l2, a2, b2), lab(l1, a1, b1))).toBeCloseTo(
      deltaE2000(lab(l1, a1, b1), lab(l2, a2, b2)),
      9,
    );
  });

  it('white to black is 100; pure sRGB red is Lab 53.24, 80.09, 67.20 (D65)', () => {
    expect(deltaE2000(lab(100, 0, 0), lab(0, 0, 0))).toBeCloseTo(100, 6);
    const red = labFromSrgb(1, 0, 0);
    // Published to two digits; the sRGB matrix is given with more or fewer digits by different sources.
    expect(red.l).toBeCloseTo(53.24, 1);
    expect(red.a).toBeCloseTo(80.09, 1);
    expect(red.b).toBeCloseTo(67.2, 1);
  });

  it('goes to tristimulus values and back, and clips for the screen only', () => {
    const colour = fc.record({
      l: fc.double({ min: 5, max: 99, noNaN: true }),
      a: fc.double({ min: -60, max: 60, noNaN: true }),
      b: fc.double({ min: -60, max: 60, noNaN: true }),
    });
    fc.assert(
      fc.property(colour, (c) => {
        expect(deltaE2000(labFromXyz(xyzFromLab(c)), c)).toBeLessThan(1e-6);
        const shown = screenColour(c);
        if (!shown.clipped) expect(deltaE2000(labFromSrgb(shown.r, shown.g, shown.b), c)).toBeLessThan(0.3);
      }),
    );
    expect(screenColour(lab(50, -120, 60)).clipped).toBe(true);
  });
});

describe('a white patch that is not on white paper', () => {
  /** Three stripes: a part, a grey card of 18 % and white paper of 85 %, all in one light (photographers' grey, common practice). */
  const stripes = (srgb: readonly number[]): PixelImage => {
    const [width, height] = [60, 20];
    const rgba = new Uint8ClampedArray(width * height * 4).fill(255);
    const grey = 255 * (1.055 * 0.18 ** (1 / 2.4) - 0.055);
    const paper = 255 * (1.055 * 0.85 ** (1 / 2.4) - 0.055);
    for (let i = 0; i < width * height; i++) {
      const stripe = Math.floor((i % width) / 20);
      for (let channel = 0; channel < 3; channel++)
        rgba[i * 4 + channel] = stripe === 0 ? 255 * srgb[channel]! : stripe === 1 ? grey : paper;
    }
    return { width, height, rgba };
  };
  const at = (x: number) => ({ x, y: 4, width: 12, height: 12 });

  it('is refused where it makes a red of more red than white has', () => {
    const red = stripes([0.627, 0.094, 0.157]);
    expect(photoColour(red, at(4), at(24))).toMatchObject({ ok: false, error: { code: 'photo-over-white' } });
    expect(valueOf(photoColour(red, at(4), at(44))).notes).toEqual([]);
  });

  it('is said where the rest of the photo is brighter, though the colour it gives might be one', () => {
    const dark = stripes([0.1, 0.12, 0.3]);
    expect(valueOf(photoColour(dark, at(4), at(24))).notes.join(' ')).toMatch(
      /brighter than the white patch/,
    );
    expect(valueOf(photoColour(dark, at(4), at(44))).notes).toEqual([]);
  });
});

describe('colour from a photo', () => {
  const encode = (linear: number): number => {
    const c = linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
    return Math.round(255 * c);
  };
  const decode = (srgb: number): number => (srgb <= 0.04045 ? srgb / 12.92 : ((srgb + 0.055) / 1.055) ** 2.4);
  const WHITE = 0.85;

  /** Left half the part's colour, right half white of 85 %, both under a lamp with a strength per channel. */
  function photo(
    srgb: readonly number[],
    lamp: readonly number[],
    noise: (i: number) => number = () => 0,
  ): PixelImage {
    const [width, height] = [40, 20];
    const rgba = new Uint8ClampedArray(width * height * 4);
    for (let i = 0; i < width * height; i++) {
      const isPart = i % width < width / 2;
      for (let channel = 0; channel < 3; channel++) {
        const reflected = isPart ? decode(srgb[channel]!) : WHITE;
        rgba[i * 4 + channel] = encode(Math.min(1, reflected * lamp[channel]!)) + noise(i * 3 + channel);
      }
      rgba[i * 4 + 3] = 255;
    }
    return { width, height, rgba };
  }
  const part = { x: 2, y: 2, width: 12, height: 12 };
  const white = { x: 24, y: 2, width: 12, height: 12 };

  it.each([
    ['blue in daylight', [0.1, 0.2, 0.6], [1, 1, 1]],
    ['red under a warm lamp', [0.6, 0.15, 0.12], [1, 0.8, 0.5]],
    ['gold under a cold, weak lamp', [0.75, 0.6, 0.3], [0.5, 0.6, 0.75]],
    ['dark green', [0.12, 0.25, 0.15], [0.9, 1, 0.8]],
  ] as const)('%s', (_, srgb, lamp) => {
    const measured = valueOf(photoColour(photo(srgb, lamp), part, white, WHITE));
    // One byte of rounding in a dark channel under a weak lamp is up to 0.8 ΔE.
    expect(deltaE2000(measured.lab, labFromSrgb(srgb[0], srgb[1], srgb[2]))).toBeLessThan(0.8);
    expect(measured.unevenness).toBeLessThan(0.01);
    expect(measured.notes).toEqual([]);
  });

  it('averages noise in linear light', () => {
    const noisy = photo([0.3, 0.4, 0.5], [1, 0.9, 0.8], (i) => ((i * 7919) % 7) - 3);
    const measured = valueOf(photoColour(noisy, part, white, WHITE));
    expect(deltaE2000(measured.lab, labFromSrgb(0.3, 0.4, 0.5))).toBeLessThan(0.8);
  });

  it('refuses an overexposed or dark white, notes a gradient, throws for a patch outside', () => {
    expect(photoColour(photo([0.3, 0.4, 0.5], [1.6, 1.6, 1.6]), part, white)).toMatchObject({
      ok: false,
      error: { code: 'photo-white-bright' },
    });
    expect(photoColour(photo([0.3, 0.4, 0.5], [0.02, 0.02, 0.02]), part, white)).toMatchObject({
      ok: false,
      error: { code: 'photo-white-dark' },
    });
    const striped = photo([0.3, 0.4, 0.5], [1, 1, 1], (i) => (Math.floor(i / 3) % 40 < 8 ? 60 : 0));
    // A mirrored lamp on a white part: 230 of 255 beside paper at 202, linear 0.79 to 0.595, so Y is 1.13 and L* 105.
    const glare = photo([1, 1, 1], [0.7, 0.7, 0.7], (i) => (Math.floor(i / 3) % 40 < 20 ? 12 : 0));
    expect(photoColour(glare, part, white)).toMatchObject({ ok: false, error: { code: 'photo-over-white' } });
    expect(valueOf(photoColour(striped, part, white)).notes.join(' ')).toMatch(/uneven/);
    const image = photo([0.3, 0.4, 0.5], [1, 1, 1]);
    expect(photoColour(image, part, { ...part, x: 8 })).toMatchObject({
      ok: false,
      error: { code: 'photo-patches-overlap' },
    });
    const cutOut = {
      ...image,
      rgba: image.rgba.map((byte, i) => (i % 4 === 3 && (i >> 2) % 40 < 20 ? 60 : byte)),
    };
    expect(photoColour(cutOut, part, white)).toMatchObject({
      ok: false,
      error: { code: 'photo-transparent' },
    });
    expect(() => photoColour(image, { ...part, x: 35 }, white)).toThrow(RangeError);
    expect(() => photoColour({ ...image, width: 41 }, part, white)).toThrow(RangeError);
    expect(() => photoColour(image, part, white, 0)).toThrow(RangeError);
  });
});

describe('a colour as it is written', () => {
  // IEC 61966-2-1: sRGB (255, 0, 0) is L* 53.24, a* 80.09, b* 67.20 under D65; white and black by definition.
  it.each([
    ['#ff0000', 53.24, 80.09, 67.2],
    ['ff0000', 53.24, 80.09, 67.2],
    ['#F00', 53.24, 80.09, 67.2],
    ['rgb(255, 0, 0)', 53.24, 80.09, 67.2],
    ['sRGB 255 0 0', 53.24, 80.09, 67.2],
    ['#ffffff', 100, 0, 0],
    ['rgb(0 0 0)', 0, 0, 0],
    ['lab(38 52 24)', 38, 52, 24],
    ['L* 38 a* 52 b* -24', 38, 52, -24],
    ['L=38,5; a=52; b=−24', 38.5, 52, -24],
  ])('%s', (text, l, a, b) => {
    const lab = valueOf(parseColour(text));
    expect(lab.l).toBeCloseTo(l, 1);
    expect(lab.a).toBeCloseTo(a, 1);
    expect(lab.b).toBeCloseTo(b, 1);
  });

  it.each(['', 'red', '38 52 24', 'rgb(300, 0, 0)', 'L 106.6 a 0 b 0', '#12345', 'lab(50 200 0)'])(
    'refuses “%s”',
    (text) => {
      expect(parseColour(text)).toMatchObject({ ok: false, error: { code: 'colour-not-read' } });
    },
  );
});
