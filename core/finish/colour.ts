import { differenceCiede2000, useMode, modeLab65, modeRgb, modeXyz65, converter } from 'culori/fn';

/** CIELAB for D65 and the 2° observer. */
export interface Lab {
  readonly l: number;
  readonly a: number;
  readonly b: number;
}

useMode(modeRgb);
useMode(modeXyz65);
useMode(modeLab65);
const difference = differenceCiede2000();
const toLab65 = converter('lab65');
const toXyz65 = converter('xyz65');
const toRgb = converter('rgb');

/** Tristimulus values with white at Y = 1. */
export interface Xyz {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

const asColour = (lab: Lab) => ({ mode: 'lab65' as const, l: lab.l, a: lab.a, b: lab.b });

/**
 * Colour difference CIEDE2000 (Sharma, Wu and Dalal, Color Res. Appl. 30 (2005) 21): 1 is just seen side by side,
 * 2-3 is a fair match between parts, above 5 anybody sees it.
 */
export function deltaE2000(one: Lab, other: Lab): number {
  return difference(asColour(one), asColour(other));
}

/** sRGB components 0-1 (IEC 61966-2-1) as CIELAB. */
export function labFromSrgb(r: number, g: number, b: number): Lab {
  const lab = toLab65({ mode: 'rgb', r, g, b });
  return { l: lab.l, a: lab.a, b: lab.b };
}

export function xyzFromLab(lab: Lab): Xyz {
  const xyz = toXyz65(asColour(lab));
  return { x: xyz.x, y: xyz.y, z: xyz.z };
}

export function labFromXyz(xyz: Xyz): Lab {
  const lab = toLab65({ mode: 'xyz65', ...xyz });
  return { l: lab.l, a: lab.a, b: lab.b };
}

/** For the screen: sRGB 0-1, clipped into what a screen can show; `clipped` says whether that changed it. */
export function screenColour(lab: Lab): { r: number; g: number; b: number; clipped: boolean } {
  const { r, g, b } = toRgb(asColour(lab));
  const clip = (value: number): number => Math.min(1, Math.max(0, value));
  const clipped = [r, g, b].some((value) => value < -0.002 || value > 1.002);
  return { r: clip(r), g: clip(g), b: clip(b), clipped };
}
