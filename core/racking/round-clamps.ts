import { boreReach } from '../faces/bore-ends.ts';
import { cornerOf, normalOf, type ClampKind, type ClampPlace, type Surface } from './clamp-places.ts';
import type { RoundPlace } from './round-places.ts';
import { add, anyPerpendicular, dot, scale, subtract, unit, type Vec3 } from './vec3.ts';

/** Bolts, plugs and expanding wire; wider bores take a sprung brace. */
const WIDEST_PLUG_M = 0.025;
const WIDEST_BORE_M = 0.08;
const WIDEST_BOSS_M = 0.03;
/** Round places longer than this and than so many diameters are held at their ends: no bolt goes through, no clamp's arm reaches in. */
export const LONG_M = 0.1;
export const LONG_DIAMETERS = 8;
/** Held there so many diameters from the end. */
const IN_FROM_END = 1.5;
const HOLE_KINDS = { through: 'through hole', blind: 'blind hole', unknown: 'hole' } as const;

/** Holes, bores and bosses that a hanger can hold by, at the side that carries when hung `up`; long ones at either end. */
export function roundClampPlaces(
  surface: Surface,
  places: readonly RoundPlace[],
  vents: ReadonlySet<RoundPlace>,
  up: Vec3,
  centre: Vec3,
  metresPerUnit: number,
): ClampPlace[] {
  const found: ClampPlace[] = [];
  for (const place of places) {
    const diameterM = 2 * place.radius * metresPerUnit;
    if (diameterM > (place.inward ? WIDEST_BORE_M : WIDEST_BOSS_M)) continue;
    const reach = place.ends && boreReach(place.ends);
    if (reach === 'shut') continue;
    const kind: ClampKind = !place.inward ? 'boss' : diameterM > WIDEST_PLUG_M ? 'bore' : HOLE_KINDS[reach!];
    const sideways = subtract(up, scale(place.axis, dot(up, place.axis)));
    const out = subtract(place.middle, centre);
    const away = subtract(out, scale(place.axis, dot(out, place.axis)));
    // A bore hangs on its upper wall; a boss is clasped, so its upper side serves as well. In an upright bore no wall is
    // upper: the one away from the centre of gravity, so that bores on two sides of it hold the part level between them.
    const carry =
      Math.hypot(...sideways) > 0.1
        ? unit(sideways)
        : Math.hypot(...away) > 0.01 * place.radius
          ? unit(away)
          : anyPerpendicular(place.axis);
    // The open end that is higher, so that a hook comes down to it.
    const ways = ([-1, 1] as const)
      .filter((_, i) => place.ends?.[i] !== 'closed')
      .sort((a, b) => dot(place.axis, up) * (b - a));
    const isLong = place.depth * metresPerUnit > LONG_M && place.depth > LONG_DIAMETERS * 2 * place.radius;
    for (const way of isLong ? ways : [ways[0] ?? 1]) {
      const along = isLong ? way * (place.depth / 2 - IN_FROM_END * 2 * place.radius) : 0;
      const wanted = add(add(place.middle, scale(place.axis, along)), scale(carry, place.radius));
      const spot = nearestOnFaces(surface, place.rows, wanted);
      if (!spot) continue;
      const beyond = place.inward ? place.depth / 2 + 0.5 * place.radius : 0;
      found.push({
        kind,
        ...spot,
        entry: place.inward
          ? add(place.middle, scale(place.axis, way * beyond))
          : add(spot.at, scale(spot.normal, 0.5 * place.radius)),
        // A bolt's flank or a wire's turns touch about a quarter of the wall; at an end, of so much of it.
        area: (isLong ? 2 * Math.PI * place.radius * 2 * IN_FROM_END * 2 * place.radius : place.area) / 4,
        span: 2 * place.radius,
        skewRad: 0,
        length: place.depth,
        isVent: vents.has(place),
      });
    }
  }
  return found;
}

/** The point of some faces that is nearest to `wanted`, by closest point on their triangles. */
function nearestOnFaces(
  surface: Surface,
  rows: readonly number[],
  wanted: Vec3,
): { at: Vec3; triangle: number; normal: Vec3 } | undefined {
  let best = Infinity;
  let at: Vec3 = wanted;
  let triangle = -1;
  for (const row of rows) {
    for (let i = surface.faceStart[row]; i < surface.faceStart[row + 1]; i++) {
      const t = surface.faceTriangles[i];
      const point = closestOnTriangle(surface, t, wanted);
      const d = subtract(point, wanted);
      const squared = dot(d, d);
      if (squared < best) {
        best = squared;
        at = point;
        triangle = t;
      }
    }
  }
  return triangle < 0 ? undefined : { at, triangle, normal: normalOf(surface.geometry, triangle) };
}

/** Ericson, Real-Time Collision Detection, 2005, 5.1.5. */
function closestOnTriangle(surface: Surface, triangle: number, p: Vec3): Vec3 {
  const a = cornerOf(surface, triangle, 0);
  const b = cornerOf(surface, triangle, 1);
  const c = cornerOf(surface, triangle, 2);
  const ab = subtract(b, a);
  const ac = subtract(c, a);
  const ap = subtract(p, a);
  const d1 = dot(ab, ap);
  const d2 = dot(ac, ap);
  if (d1 <= 0 && d2 <= 0) return a;
  const bp = subtract(p, b);
  const d3 = dot(ab, bp);
  const d4 = dot(ac, bp);
  if (d3 >= 0 && d4 <= d3) return b;
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return add(a, scale(ab, d1 / (d1 - d3)));
  const cp = subtract(p, c);
  const d5 = dot(ab, cp);
  const d6 = dot(ac, cp);
  if (d6 >= 0 && d5 <= d6) return c;
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return add(a, scale(ac, d2 / (d2 - d6)));
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    return add(b, scale(subtract(c, b), (d4 - d3) / (d4 - d3 + (d5 - d6))));
  }
  const sum = va + vb + vc;
  return add(add(a, scale(ab, vb / sum)), scale(ac, vc / sum));
}
