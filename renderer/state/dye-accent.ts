import { deltaE2000, labFromSrgb, screenColour, type Lab } from '../../core/finish/colour.ts';

/** Colours of the theme that the accent has to stand out from, each `#rrggbb`. */
export interface AccentGround {
  readonly surface: string;
  readonly raised: string;
  readonly sunken: string;
  readonly ink: string;
  readonly inkSoft: string;
  /** What stops and alarms are drawn in: no control may look like one. */
  readonly warnings: readonly string[];
}

export interface DyeAccent {
  readonly accent: string;
  readonly soft: string;
  readonly onAccent: string;
}

/** WCAG 2.2, 1.4.3: text against its ground. */
const LEAST_CONTRAST = 4.5;
const SOFT_SHARE = 0.22;
/** Two reds that a hurried eye takes for one; wine red and rose stay apart from signal red (from memory). */
const LIKE_A_WARNING_DELTA_E = 20;

/**
 * The window's accent in the dye's hue: lightened or darkened until it can be read on the theme's surfaces, with a
 * tint of it that text still stands out from. null where it would pass for a warning: then the theme's own accent stays.
 */
export function dyeAccent(dye: Lab, ground: AccentGround): DyeAccent | null {
  const dark = luminance(ground.raised) < luminance(ground.ink);
  const readable = (hex: string): boolean =>
    [ground.raised, ground.surface, ground.sunken].every((under) => contrast(hex, under) >= LEAST_CONTRAST);
  const end = dark ? 100 : 0;
  let l = Math.min(100, Math.max(0, dye.l));
  let accent = hexOfLab({ ...dye, l });
  while (!readable(accent) && l !== end) {
    l = dark ? Math.min(end, l + 1) : Math.max(end, l - 1);
    accent = hexOfLab({ ...dye, l });
  }
  const shown = labOfHex(accent);
  if (ground.warnings.some((warning) => deltaE2000(shown, labOfHex(warning)) < LIKE_A_WARNING_DELTA_E))
    return null;
  const onAccent = contrast('#ffffff', accent) >= contrast('#0b1210', accent) ? '#ffffff' : '#0b1210';
  let share = SOFT_SHARE;
  let soft = mix(ground.raised, accent, share);
  const carries = (): boolean =>
    [ground.inkSoft, accent].every((text) => contrast(text, soft) >= LEAST_CONTRAST);
  while (share > 0 && !carries()) {
    share = Math.max(0, share - 0.02);
    soft = mix(ground.raised, accent, share);
  }
  return { accent, soft, onAccent };
}

/** Told apart at a glance, and by those who see no red or green: far apart in lightness as well (from memory). */
const TOLD_APART_DELTA_E = 30;
const TOLD_APART_L = 15;

/** Colour of selected faces on a part shown in the dye's colour: the theme's own, or the first other that is told from it. */
export function selectedOnDye(dye: Lab, own: string): string {
  const others = ['#ff8a1f', '#fff27a', '#10161c'];
  const apart = (hex: string): boolean => {
    const lab = labOfHex(hex);
    return deltaE2000(lab, dye) >= TOLD_APART_DELTA_E && Math.abs(lab.l - dye.l) >= TOLD_APART_L;
  };
  return [own, ...others].find(apart) ?? (dye.l > 50 ? '#10161c' : '#fff27a');
}

/** What a screen shows of a colour, clipped into what it can show. */
export function hexOfLab(lab: Lab): string {
  const { r, g, b } = screenColour(lab);
  return hex([r, g, b]);
}

/** CIELAB of `#rrggbb`. */
export function labOfHex(text: string): Lab {
  const [r, g, b] = channels(text);
  return labFromSrgb(r!, g!, b!);
}

/** Contrast ratio of WCAG 2.2, 1 to 21. */
export function contrast(one: string, other: string): number {
  const [a, b] = [luminance(one), luminance(other)];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

function luminance(text: string): number {
  const [r, g, b] = channels(text).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

/** Of `#rrggbb`, or `#rgb` as a style sheet may have been shortened to. */
function channels(text: string): number[] {
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/i.exec(text);
  const long = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(text);
  if (short) return short.slice(1).map((digit) => Number.parseInt(digit, 16) / 15);
  if (long) return long.slice(1).map((digits) => Number.parseInt(digits, 16) / 255);
  throw new RangeError(`channels: “${text}” is no colour`);
}

function hex(rgb: readonly number[]): string {
  return `#${rgb
    .map((c) =>
      Math.round(c * 255)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;
}

function mix(ground: string, colour: string, share: number): string {
  const [a, b] = [channels(ground), channels(colour)];
  return hex(a.map((c, i) => c * (1 - share) + b[i]! * share));
}
