/**
 * The scale of a map: from dark violet over teal to light yellow, our own curve through OKLab (B. Ottosson, "A perceptual
 * color space for image processing", 2020). Lightness rises all the way, so that it reads without colour vision and in
 * print; equal steps of the value are equal distances along the curve in OKLab.
 */

/** Steps of the table. */
export const RAMP_STEPS = 256;

const curve = (t: number): [number, number, number] => {
  const lightness = 0.3 + 0.62 * t;
  const hue = ((290 - 185 * t) * Math.PI) / 180;
  const chroma = 0.084 + 0.076 * (2 * t - 1) ** 2;
  return [lightness, chroma * Math.cos(hue), chroma * Math.sin(hue)];
};

/** sRGB, 0-255, not rounded. */
function srgbOfOklab([lightness, a, b]: readonly [number, number, number]): [number, number, number] {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const linear = [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
  const encode = (x: number): number =>
    255 * (x <= 0.0031308 ? 12.92 * x : 1.055 * Math.max(0, x) ** (1 / 2.4) - 0.055);
  return [encode(linear[0]!), encode(linear[1]!), encode(linear[2]!)];
}

/** RAMP_STEPS colours, three bytes each, thin to thick. */
export function colourRamp(): Uint8Array {
  const fine = 4096;
  const along = new Float64Array(fine + 1);
  let before = curve(0);
  for (let i = 1; i <= fine; i++) {
    const here = curve(i / fine);
    along[i] = along[i - 1]! + Math.hypot(here[0] - before[0], here[1] - before[1], here[2] - before[2]);
    before = here;
  }
  const table = new Uint8Array(3 * RAMP_STEPS);
  let at = 0;
  for (let step = 0; step < RAMP_STEPS; step++) {
    const wanted = (along[fine]! * step) / (RAMP_STEPS - 1);
    while (at < fine && along[at + 1]! < wanted) at++;
    const span = at < fine ? along[at + 1]! - along[at]! : 0;
    const t = (at + (span > 0 ? (wanted - along[at]!) / span : 0)) / fine;
    table.set(
      srgbOfOklab(curve(t)).map((x) => Math.round(Math.min(255, Math.max(0, x)))),
      3 * step,
    );
  }
  return table;
}

/** One colour of the scale as `#rrggbb`; `share` is cut to 0-1. */
export function rampColour(table: Uint8Array, share: number): string {
  const step = Math.round(Math.min(1, Math.max(0, share)) * (RAMP_STEPS - 1));
  return `#${[0, 1, 2].map((n) => table[3 * step + n]!.toString(16).padStart(2, '0')).join('')}`;
}
