import type { Vec3 } from '../racking/vec3.ts';
import { add, scale, unit } from '../racking/vec3.ts';
import { rodBody } from './body-shapes.ts';

/** Wires at one contact, in the tank's axes. */
export interface HangerRod {
  /** Contact on the part's surface. */
  readonly atM: Vec3;
  /** Outward unit normal there. */
  readonly facing: Vec3;
  readonly diameterM: number;
  readonly count: number;
}

const BEYOND_M = 0.05;
/** The wire's skin lies this share of its diameter off the surface it clamps. */
const OFF_SURFACE = 0.55;

/**
 * A contact's wires as closed bodies: straight up through the level where nothing of the part is above, else sideways out
 * of the part's box first. Several wires at one contact become one with the perimeter of all of them, since their skin is
 * what takes current; wires that touch shade each other.
 * @param isBlocked whether the part lies straight above a point
 * @param box the part's in the tank, low and high corner
 */
export function hangerRods(
  rod: HangerRod,
  levelM: number,
  isBlocked: (from: Vec3) => boolean,
  box: { readonly low: Vec3; readonly high: Vec3 },
): Float64Array[] {
  const diameterM = rod.diameterM * rod.count;
  const start = add(rod.atM, scale(rod.facing, OFF_SURFACE * diameterM));
  if (start[2] >= levelM) return [];
  const topM = levelM + BEYOND_M;
  if (!isBlocked(start)) return [rodBody(start, [start[0], start[1], topM], diameterM)];
  const aside = clearOfBox(start, rod.facing, box, 1.5 * diameterM);
  return [
    rodBody(start, aside, diameterM),
    rodBody([aside[0], aside[1], aside[2] - diameterM / 2], [aside[0], aside[1], topM], diameterM),
  ];
}

/** The way the contact looks, levelled; where it looks straight up or down, towards the nearest side of the box. */
function clearOfBox(start: Vec3, facing: Vec3, box: { low: Vec3; high: Vec3 }, spareM: number): Vec3 {
  const level = Math.hypot(facing[0], facing[1]);
  const ways: Vec3[] =
    level > 0.2
      ? [unit([facing[0], facing[1], 0])]
      : [
          [1, 0, 0],
          [-1, 0, 0],
          [0, 1, 0],
          [0, -1, 0],
        ];
  let best = start;
  let shortest = Infinity;
  for (const way of ways) {
    let reach = Infinity;
    for (const n of [0, 1] as const) {
      if (Math.abs(way[n]) < 1e-6) continue;
      const edge = way[n] > 0 ? box.high[n] : box.low[n];
      reach = Math.min(reach, (edge - start[n]) / way[n]);
    }
    reach = Math.max(0, reach) + spareM;
    if (reach < shortest) {
      shortest = reach;
      best = add(start, scale(way, reach));
    }
  }
  return best;
}
