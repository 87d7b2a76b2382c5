import { edgeTurns } from '../edge-turns.ts';
import { dotAt } from '../fit-vectors.ts';
import { CREASE_RAD } from '../flat-facets.ts';
import { FLAT_RAD, type SurfaceGraph } from '../surface-graph.ts';
import { middleInto, pointInto } from './corner-points.ts';
import { PLACE, type KnownSurface } from './known-surface.ts';
import { levelsOf } from './levels-of.ts';

/** Of a face's area this share must lie in triangles that span more than so much of what the widest does: else the widest is a flat on a round. */
const WIDE = 0.6;
const WIDE_SHARE = 0.25;

/** … or a wall with a hole through, whose rim has corners at many heights. Those of a flat lie at a few. */
const MANY_HEIGHTS = 8;
const HEIGHT_SHARE = 5e-3;
/** Triangles beside a hole span more than those of a wall that is whole. */
const WIDEST_RAD = 1.2;

/** The point at hand: a new one each time would take longer than what is asked of it. */
const POINT = new Float64Array(3);

/** How a face looks if it is drawn of a surface. */
interface Looks {
  /** How deep the middles of its triangles lie under it at most, model units. */
  readonly depth: number;
  /** Some of them are flats on a round. */
  readonly isFlatted: boolean;
}

/** How deep the middles of triangles lie under it, and whether some are flats on a round; undefined where they span too much to be drawn of it. */
export function looksOf(
  graph: SurfaceGraph,
  surface: KnownSurface,
  triangles: ArrayLike<number>,
  corners: Float64Array,
  places: Uint32Array,
  pierced: boolean,
  isRuled: boolean,
): Looks | undefined {
  const turns = edgeTurns(graph);
  const besideInPlane = (t: number): number =>
    [3 * t, 3 * t + 1, 3 * t + 2].filter((h) => Math.abs(turns[h]) < FLAT_RAD).length;
  let [depth, widest, total, sides] = [0, 0, 0, 0];
  const spans = new Float64Array(triangles.length);
  const where = new Float64Array(PLACE * (corners.length / 3));
  for (let i = 0; i < corners.length / 3; i++)
    surface.placeInto(where, PLACE * i, pointInto(POINT, corners, 3 * i));
  for (let i = 0; i < triangles.length; i++) {
    const a = PLACE * places[3 * i];
    const b = PLACE * places[3 * i + 1];
    const c = PLACE * places[3 * i + 2];
    const span = Math.max(surface.span(where, a, b), surface.span(where, b, c), surface.span(where, c, a));
    if (!(span < WIDEST_RAD)) return undefined;
    if (!(span < CREASE_RAD)) {
      if (!pierced && besideInPlane(triangles[i]) > 0) return undefined;
      sides += graph.triangleAreas[triangles[i]];
    }
    spans[i] = span;
    widest = Math.max(widest, span);
    middleInto(POINT, graph, triangles[i]);
    depth = Math.max(depth, Math.abs(surface.off(POINT)));
    total += graph.triangleAreas[triangles[i]];
  }
  // Where most span so much, sides are meant as they are.
  if (sides > WIDE_SHARE * total) return undefined;
  // A flat on a wall is two triangles at least, one on a ball or a ring has more than four corners.
  const leastBeside = isRuled ? 1 : 2;
  const wide = Array.from(triangles).filter((_, i) => spans[i] > WIDE * widest);
  const wideArea = wide.reduce((sum, t) => sum + graph.triangleAreas[t], 0);
  return {
    depth,
    isFlatted: !(wideArea > WIDE_SHARE * total) && wide.some((t) => besideInPlane(t) >= leastBeside),
  };
}

/** Whether corners lie at many heights: a hole goes through the wall. */
export function isPierced(axis: ArrayLike<number>, corners: Float64Array): boolean {
  return heightsOf(axis, corners, MANY_HEIGHTS) === MANY_HEIGHTS;
}

/** At how many heights corners lie, counted up to `most`. */
export function heightsOf(axis: ArrayLike<number>, corners: Float64Array, most: number): number {
  const heights = new Float64Array(corners.length / 3);
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < heights.length; i++) {
    heights[i] = dotAt(corners, 3 * i, axis);
    low = Math.min(low, heights[i]);
    high = Math.max(high, heights[i]);
  }
  return levelsOf(heights, HEIGHT_SHARE * (high - low), most);
}
