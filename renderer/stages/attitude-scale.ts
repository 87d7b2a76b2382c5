import { formatHex, interpolate, modeOklab, modeRgb, useMode as withMode } from 'culori/fn';
import type { AttitudeScore } from '../../core/racking/search-attitudes.ts';
import { angleBetween, dot, scale, subtract, unit, type Vec3 } from '../../core/racking/vec3.ts';

withMode(modeRgb);
withMode(modeOklab);

/** Lightness rises evenly with the score, so that the order is seen without telling the hues apart. */
const toColour = interpolate(
  ['oklab(0.32 0.09 -0.13)', 'oklab(0.62 -0.06 -0.05)', 'oklab(0.94 -0.06 0.15)'].map((text) => {
    const [l, a, b] = text.slice(6, -1).split(' ').map(Number);
    return { mode: 'oklab' as const, l: l!, a: a!, b: b! };
  }),
  'oklab',
);

/** `share` from 0, the worst looked at, to 1, the best. */
export function scoreColour(share: number): string {
  return formatHex(toColour(Math.min(1, Math.max(0, share))));
}

/**
 * Place of a direction on one of two discs of radius 1, seen along the model's −z: Lambert's equal-area projection, so
 * that a spot's size says how many attitudes it stands for.
 */
export function onDisc([x, y, z]: Vec3): {
  readonly disc: 'upper' | 'lower';
  readonly x: number;
  readonly y: number;
} {
  const across = Math.hypot(x, y);
  const r = Math.sqrt(Math.max(0, 1 - Math.abs(z)));
  return {
    disc: z >= 0 ? 'upper' : 'lower',
    x: across > 0 ? (x / across) * r : 0,
    y: across > 0 ? (y / across) * r : 0,
  };
}

/** The next attitude the way an arrow key points: across, right and left; along y, up and down. */
export function neighbourBy(
  attitudes: readonly Pick<AttitudeScore, 'up'>[],
  from: number,
  arrow: readonly [number, number],
): number {
  const u = attitudes[from]!.up;
  const axis: Vec3 = [arrow[0], arrow[1], 0];
  const tangent = subtract(axis, scale(u, dot(axis, u)));
  if (Math.hypot(...tangent) < 1e-6) return from;
  const way = unit(tangent);
  for (const narrow of [0.8, 0.4, 0]) {
    let best = from;
    let nearest = Infinity;
    attitudes.forEach(({ up }, index) => {
      const step = subtract(up, scale(u, dot(up, u)));
      const size = Math.hypot(...step);
      if (index === from || size < 1e-6 || dot(step, way) / size <= narrow) return;
      const away = angleBetween(u, up);
      if (away < nearest) {
        nearest = away;
        best = index;
      }
    });
    if (best !== from) return best;
  }
  return from;
}

export function nearestTo(attitudes: readonly Pick<AttitudeScore, 'up'>[], up: Vec3): number {
  let best = 0;
  attitudes.forEach((attitude, index) => {
    if (angleBetween(attitude.up, up) < angleBetween(attitudes[best]!.up, up) - 1e-9) best = index;
  });
  return best;
}
