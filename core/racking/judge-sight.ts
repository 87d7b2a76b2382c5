import { cast, type ClampPlace, type Surface } from './clamp-places.ts';
import { castRay } from './ray-cast.ts';
import { spreadDirections } from './search-attitudes.ts';
import { add, dot, scale, type Vec3 } from './vec3.ts';

export interface SightContext {
  readonly surface: Surface;
  readonly up: Vec3;
  readonly metresPerUnit: number;
  /** Height of the bath's level along `up`, model units; undefined where all of the part is in the bath. */
  readonly level?: number | undefined;
  /** Half of the bare metal under the clamp, model units. */
  readonly padRadius: number;
}

/** What one thing about a place comes to. */
export interface Verdict {
  /** 0 to 1. */
  readonly share: number;
  readonly reason: string;
}

/** Acid creeps and splashes so far above its level; common practice. */
const CREEP_M = 0.005;
const SKY = spreadDirections(24);

/** Share of the sky above the spot that the part itself hides; out of the bath no coating is marked. */
export function judgeSight(
  { surface, level, up, metresPerUnit, padRadius }: SightContext,
  place: ClampPlace,
): Verdict {
  const over = level === undefined ? -Infinity : dot(place.at, up) - level;
  const creep = Math.max(CREEP_M / metresPerUnit, padRadius);
  if (over > creep) {
    return {
      share: 1,
      reason: 'Above the level of the bath: no coating is marked, and contact and wire stay out of the acid.',
    };
  }
  if (over > -creep) {
    return { share: 0, reason: 'At the level of the bath, where acid creeps up: take a place clear of it.' };
  }
  const from = add(place.at, scale(place.normal, 1e-3 * padRadius));
  let open = 0;
  let seen = 0;
  for (const direction of SKY) {
    const facing = dot(direction, place.normal);
    if (facing <= 0.05) continue;
    open += facing;
    if (!castRay(cast(surface), from, direction, 0)) seen += facing;
  }
  const hidden = open > 0 ? 1 - seen / open : 0;
  if (hidden > 0.7) return { share: hidden, reason: 'Out of sight: the part hides it nearly all around.' };
  if (hidden > 0.3) return { share: hidden, reason: 'Partly out of sight, in a recess or corner.' };
  return { share: hidden, reason: 'Open to view: the mark will show unless that side is turned away.' };
}
