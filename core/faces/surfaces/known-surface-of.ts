import { nextSide } from '../../mesh/half-edges.ts';
import { dot, unit, type Vec3 } from '../fit-vectors.ts';
import { edgeTurns } from '../edge-turns.ts';
import { FACE_KINDS, type FaceTable } from '../face-table.ts';
import { CREASE_RAD } from '../flat-facets.ts';
import { FLAT_RAD, type SurfaceGraph } from '../surface-graph.ts';
import type { KnownSurface, Point } from './known-surface.ts';
import { levelsOf } from './levels-of.ts';
import { measuredSurface } from './measured-surface.ts';
import { settled } from './settle-surface.ts';

/** Corners may be off the surface by this share of the depth of its facets, or by so many steps of the coordinates. */
const OFF_SHARE = 0.03;
const NOISE_STEPS = 4;
/** Of a face's area this share must lie in triangles that span more than so much of what the widest does: else the widest is a flat on a round. */
const WIDE = 0.6;
const WIDE_SHARE = 0.25;

/** … or a wall with a hole through, whose rim has corners at many heights. Those of a flat lie at a few. */
const MANY_HEIGHTS = 8;
const HEIGHT_SHARE = 5e-3;
/** Triangles beside a hole span more than those of a wall that is whole. */
const WIDEST_RAD = 1.2;

/** Fits that are tried at most, as long as each comes nearer by this share, from the first on no farther off than so many times the facets are deep. */
const MOST_STEPS = 8;
const NEARER = 0.8;
const LOOSE = 4;

/** A surface that a face's corners lie on, and by how much they and its triangles' middles are off it at most, model units. */
export interface Known {
  readonly surface: KnownSurface;
  readonly off: number;
  readonly depth: number;
}

/**
 * The surface of which a face is drawn, or undefined where it is a plane or free, or where its corners are off it: cut into facets by another
 * body, or rounded.
 *
 * @param triangles all of the face
 */
export function knownSurfaceOf(
  graph: SurfaceGraph,
  faces: Pick<FaceTable, 'kind' | 'axis' | 'point'>,
  row: number,
  triangles: ArrayLike<number>,
): Known | undefined {
  const kind = FACE_KINDS[faces.kind[row]];
  if (kind === 'plane' || kind === 'free') return undefined;
  const corners = cornersOfFace(graph, triangles);
  const facing = facingOf(graph, triangles);
  let centre = faces.point.slice(3 * row, 3 * row + 3);
  let axis = faces.axis.slice(3 * row, 3 * row + 3);
  let surface = measuredSurface(kind, centre, axis, corners, facing);
  const isRuled = kind === 'cylinder' || kind === 'cone';
  let found: Known | undefined;
  let before = Infinity;
  for (let steps = 0; surface && steps < MOST_STEPS; steps++) {
    const pierced = isPierced(axis, corners);
    const looks = looksOf(graph, surface, triangles, pierced, isRuled);
    if (!looks) return found;
    const { depth, isFlatted } = looks;
    const off = worstOff(surface, corners);
    // Still as near as before: it is cut by facets, or as near as the coordinates allow.
    if (!(off < NEARER * before && off < LOOSE * depth)) break;
    if (off < Math.max(OFF_SHARE * depth, NOISE_STEPS * graph.noise)) {
      if (isFlatted && !pierced) return undefined;
      found = { surface, off, depth };
    }
    before = off;
    ({ centre, axis } = settled(surface, centre, axis, corners));
    surface = measuredSurface(kind, centre, axis, corners, facing);
  }
  return found;
}

/** How deep the middles of triangles lie under it, and whether some are flats on a round; undefined where they span too much to be drawn of it. */
function looksOf(
  graph: SurfaceGraph,
  surface: KnownSurface,
  triangles: ArrayLike<number>,
  pierced: boolean,
  isRuled: boolean,
): { readonly depth: number; readonly isFlatted: boolean } | undefined {
  const turns = edgeTurns(graph);
  const besideInPlane = (t: number): number =>
    [3 * t, 3 * t + 1, 3 * t + 2].filter((h) => Math.abs(turns[h]) < FLAT_RAD).length;
  let [depth, widest, total, sides] = [0, 0, 0, 0];
  const spans = new Float64Array(triangles.length);
  for (let i = 0; i < triangles.length; i++) {
    const h = 3 * triangles[i];
    const [[a, b], [, c]] = [cornersOf(graph, h), cornersOf(graph, h + 1)];
    spans[i] = Math.max(surface.span(a, b), surface.span(b, c), surface.span(c, a));
    if (!(spans[i] < WIDEST_RAD)) return undefined;
    if (!(spans[i] < CREASE_RAD)) {
      if (!pierced && besideInPlane(triangles[i]) > 0) return undefined;
      sides += graph.triangleAreas[triangles[i]];
    }
    widest = Math.max(widest, spans[i]);
    depth = Math.max(depth, Math.abs(surface.off(middleOf(graph, triangles[i]))));
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

function isPierced(axis: ArrayLike<number>, corners: Float64Array): boolean {
  const heights = Float64Array.from({ length: corners.length / 3 }, (_, i) =>
    dot(corners.subarray(3 * i, 3 * i + 3), axis),
  );
  const [low, high] = heights.reduce(
    ([least, most], z) => [Math.min(least, z), Math.max(most, z)],
    [Infinity, -Infinity],
  );
  return levelsOf(heights, HEIGHT_SHARE * (high - low), MANY_HEIGHTS) === MANY_HEIGHTS;
}

export function middleOf({ indexed }: Pick<SurfaceGraph, 'indexed'>, t: number): Float64Array {
  const { vertices, triangles } = indexed;
  const middle = new Float64Array(3);
  for (let h = 3 * t; h < 3 * t + 3; h++) {
    for (let k = 0; k < 3; k++) middle[k] += vertices[3 * triangles[h] + k] / 3;
  }
  return middle;
}

/** Mean direction of triangles; any at all of a closed surface. */
function facingOf({ normals, triangleAreas }: SurfaceGraph, triangles: ArrayLike<number>): Vec3 {
  const sum = [0, 0, 0];
  for (let i = 0; i < triangles.length; i++) {
    const t = triangles[i];
    for (let k = 0; k < 3; k++) sum[k] += triangleAreas[t] * normals[3 * t + k];
  }
  return unit(sum);
}

/** The face's corners, once each. */
function cornersOfFace({ indexed }: SurfaceGraph, triangles: ArrayLike<number>): Float64Array {
  const { vertices, triangles: corners } = indexed;
  const seen = new Set<number>();
  for (let i = 0; i < triangles.length; i++)
    for (let h = 3 * triangles[i]; h < 3 * triangles[i] + 3; h++) seen.add(corners[h]);
  const points = new Float64Array(3 * seen.size);
  let at = 0;
  for (const v of seen) for (let k = 0; k < 3; k++) points[at++] = vertices[3 * v + k];
  return points;
}

function worstOff(surface: KnownSurface, corners: Float64Array): number {
  let off = 0;
  for (let i = 0; i < corners.length; i += 3)
    off = Math.max(off, Math.abs(surface.off(corners.subarray(i, i + 3))));
  return off;
}

/** Half-edges of a triangle, from corner to corner. */
export function cornersOf({ indexed }: Pick<SurfaceGraph, 'indexed'>, h: number): readonly [Point, Point] {
  const { vertices, triangles } = indexed;
  const [a, b] = [3 * triangles[h], 3 * triangles[nextSide(h)]];
  return [vertices.subarray(a, a + 3), vertices.subarray(b, b + 3)];
}
