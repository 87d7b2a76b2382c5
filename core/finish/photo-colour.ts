import { failure, success, type Result } from '../result.ts';
import { deltaE2000, labFromXyz, type Lab } from './colour.ts';

/** Decoded pixels, four bytes each (red, green, blue, alpha), sRGB, rows from the top. */
export interface PixelImage {
  readonly width: number;
  readonly height: number;
  readonly rgba: Uint8ClampedArray;
}

/** A rectangle of pixels. */
export interface Patch {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface PhotoColour {
  readonly lab: Lab;
  /** Mean colour difference of the patch’s quarters from its mean: how even it is. */
  readonly unevenness: number;
  readonly notes: readonly string[];
}

/** Plain white paper reflects about this much, evenly (common practice); a photographer’s card prints its own. */
export const WHITE_PAPER_REFLECTANCE = 0.85;

const CLIPPED = 254;
const LEAST_WHITE = 60;
const UNEVEN = 2;
/** White is 100; a unit of noise is let pass and counts as white. */
const MOST_L = 101;
/** Of one colour channel, white being 1: a strong red reaches a little more in sRGB than white does, no surface this much. */
const MOST_CHANNEL = 1.25;
/** So much of the photo is so much brighter than its white paper: then that was hardly on the paper. Glare is smaller. */
const BRIGHTER = { share: 0.05, times: 1.5 } as const;
const OPAQUE = 250;

/** sRGB to linear light for the 256 bytes (IEC 61966-2-1). */
function linearTable(): Float64Array {
  return Float64Array.from({ length: 256 }, (_, byte) => {
    const c = byte / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
}

/**
 * CIELAB of a patch of a photo, with a white patch in the same light as reference: mean linear light of the patch, each
 * channel divided by the white’s and multiplied by its reflectance. That takes out the lamp’s strength and tint, not the
 * camera’s own colour errors: good for comparing parts of one shop, a few ΔE off in absolute terms.
 * Fails with `photo-patches-overlap`, `photo-transparent`, `photo-white-bright` (clipped), `photo-white-dark`, `photo-over-white` (the part
 * brighter than white); throws RangeError for a patch outside the image.
 */
export function photoColour(
  image: PixelImage,
  part: Patch,
  white: Patch,
  whiteReflectance: number = WHITE_PAPER_REFLECTANCE,
): Result<PhotoColour> {
  if (image.rgba.length !== image.width * image.height * 4) {
    throw new RangeError(`photoColour: ${image.rgba.length} bytes for ${image.width} × ${image.height}`);
  }
  if (!(whiteReflectance > 0 && whiteReflectance <= 1)) {
    throw new RangeError(`photoColour: whiteReflectance is ${whiteReflectance}`);
  }
  checkPatch(image, part, 'part');
  checkPatch(image, white, 'white');
  if (overlap(part, white)) {
    return failure(
      'photo-patches-overlap',
      'The two patches lie on one another.',
      'Put one on the part and the other on the white paper beside it.',
    );
  }
  if (Math.min(meanAlpha(image, part), meanAlpha(image, white)) < OPAQUE) {
    return failure(
      'photo-transparent',
      'The picture is transparent there, so it shows no colour.',
      'Take the photo as the camera made it, not one that was cut out.',
    );
  }
  const linear = linearTable();
  const whiteBytes = meanBytes(image, white);
  if (whiteBytes.clippedShare > 0.02) {
    return failure(
      'photo-white-bright',
      'The white patch is overexposed, so it no longer tells the colour of the light.',
      'Take the photo again a little darker.',
    );
  }
  if (Math.min(...whiteBytes.mean) < LEAST_WHITE) {
    return failure(
      'photo-white-dark',
      'The white patch is so dark or tinted that colours drown in noise.',
      'Take the photo in daylight or brighter, neutral light.',
    );
  }
  const whiteLight = meanLight(image, white, linear);
  const shareOf = (patch: Patch): [number, number, number] =>
    meanLight(image, patch, linear).map((value, i) => (value / whiteLight[i]!) * whiteReflectance) as [
      number,
      number,
      number,
    ];
  const labOf = (patch: Patch): Lab => {
    const [r, g, b] = shareOf(patch);
    // Linear sRGB to XYZ, D65 (IEC 61966-2-1).
    return labFromXyz({
      x: 0.4123907992659595 * r + 0.357584339383878 * g + 0.1804807884018343 * b,
      y: 0.21263900587151033 * r + 0.715168678767756 * g + 0.07219231536073373 * b,
      z: 0.01933081871559182 * r + 0.11919477979462598 * g + 0.9505321522496605 * b,
    });
  };
  const lab = labOf(part);
  if (lab.l > MOST_L || Math.max(...shareOf(part)) > MOST_CHANNEL) {
    return failure(
      'photo-over-white',
      'The part’s patch is brighter than white itself can be: it mirrors the lamp, the white patch is not on white paper, or the two are swapped.',
      'Put the part’s patch where nothing glares and the white one on the paper, both in the same light.',
    );
  }
  const unevenness = quarters(part).reduce(
    (sum, quarter, _, all) => sum + deltaE2000(labOf(quarter), lab) / all.length,
    0,
  );
  const notes: string[] = [];
  if (unevenness > UNEVEN) {
    notes.push(
      'The patch is uneven: choose a smaller one without reflections, or light the part from both sides.',
    );
  }
  if (brighterShare(image, whiteLight, linear) > BRIGHTER.share) {
    notes.push(
      'Much of the photo is brighter than the white patch: is that on the white paper, in the same light as the part?',
    );
  }
  if (meanBytes(image, part).clippedShare > 0.02) {
    notes.push('Part of the patch is overexposed: its colour reads too pale.');
  }
  return success({ lab: { ...lab, l: Math.min(100, lab.l) }, unevenness, notes });
}

function checkPatch(image: PixelImage, patch: Patch, name: string): void {
  const { x, y, width, height } = patch;
  const whole = [x, y, width, height].every(Number.isInteger);
  if (!(
    whole &&
    width > 0 &&
    height > 0 &&
    x >= 0 &&
    y >= 0 &&
    x + width <= image.width &&
    y + height <= image.height
  )) {
    throw new RangeError(`photoColour: the ${name} patch ${x},${y} ${width}×${height} is outside the image`);
  }
}

function overlap(a: Patch, b: Patch): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

function meanAlpha(image: PixelImage, patch: Patch): number {
  let sum = 0;
  for (let row = patch.y; row < patch.y + patch.height; row++) {
    let at = (row * image.width + patch.x) * 4 + 3;
    for (let column = 0; column < patch.width; column++, at += 4) sum += image.rgba[at]!;
  }
  return sum / (patch.width * patch.height);
}

/** How much of the photo is clearly brighter than the white patch, by its green light, which carries most of the lightness. */
function brighterShare(image: PixelImage, white: readonly number[], linear: Float64Array): number {
  const limit = BRIGHTER.times * white[1]!;
  let count = 0;
  for (let at = 1; at < image.rgba.length; at += 4) if (linear[image.rgba[at]!]! > limit) count++;
  return count / (image.width * image.height);
}

/** Four quarters of a patch; the patch itself where it is a single row or column. */
function quarters(patch: Patch): Patch[] {
  const w = Math.floor(patch.width / 2);
  const h = Math.floor(patch.height / 2);
  if (w === 0 || h === 0) return [patch];
  return [0, 1, 2, 3].map((i) => ({
    x: patch.x + (i % 2) * w,
    y: patch.y + Math.floor(i / 2) * h,
    width: w,
    height: h,
  }));
}

function meanLight(image: PixelImage, patch: Patch, linear: Float64Array): [number, number, number] {
  let [r, g, b] = [0, 0, 0];
  for (let row = patch.y; row < patch.y + patch.height; row++) {
    let at = (row * image.width + patch.x) * 4;
    for (let column = 0; column < patch.width; column++, at += 4) {
      r += linear[image.rgba[at]!]!;
      g += linear[image.rgba[at + 1]!]!;
      b += linear[image.rgba[at + 2]!]!;
    }
  }
  const count = patch.width * patch.height;
  return [r / count, g / count, b / count];
}

function meanBytes(
  image: PixelImage,
  patch: Patch,
): { mean: [number, number, number]; clippedShare: number } {
  const sum: [number, number, number] = [0, 0, 0];
  let clipped = 0;
  for (let row = patch.y; row < patch.y + patch.height; row++) {
    let at = (row * image.width + patch.x) * 4;
    for (let column = 0; column < patch.width; column++, at += 4) {
      for (let channel = 0; channel < 3; channel++) sum[channel]! += image.rgba[at + channel]!;
      if (Math.max(image.rgba[at]!, image.rgba[at + 1]!, image.rgba[at + 2]!) >= CLIPPED) clipped++;
    }
  }
  const count = patch.width * patch.height;
  return { mean: [sum[0] / count, sum[1] / count, sum[2] / count], clippedShare: clipped / count };
}
