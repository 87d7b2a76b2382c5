import { dotAt, unit, type Vec3 } from '../fit-vectors.ts';
import { edgeTurns } from '../edge-turns.ts';
import { FACE_KINDS, type FaceKind, type FaceTable } from '../face-table.ts';
import { CREASE_RAD } from '../flat-facets.ts';
import { FLAT_RAD, type SurfaceGraph } from '../surface-graph.ts';
import { PLACE, type KnownSurface } from './known-surface.ts';
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

/** What was asked, and what came of it. */
interface Asked {
  readonly kind: FaceKind;
  readonly centre: Float64Array;
  readonly axis: Float64Array;
  readonly triangles: ArrayLike<number>;
  readonly known: Known | undefined;
}

/** Per first triangle what was asked last. Faces are gathered, then claimed from, then measured: most are the same each time. */
const askedOf = new WeakMap<SurfaceGraph, Map<number, Asked>>();

/**
 * The surface of which a face is drawn, or undefined where it is a plane or free, or where its corners are off it: cut into facets by another
 * body, or rounded. Worked out once for the same face of a graph, and kept as long as that.
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
  const centre = faces.point.slice(3 * row, 3 * row + 3);
  const axis = faces.axis.slice(3 * row, 3 * row + 3);
  const asked = askedOf.get(graph) ?? new Map<number, Asked>();
  askedOf.set(graph, asked);
  const last = asked.get(triangles[0]);
  const isSame =
    last?.kind === kind &&
    areSame(last.centre, centre) &&
    areSame(last.axis, axis) &&
    areSame(last.triangles, triangles);
  if (isSame) return last.known;
  const known = workedOut(graph, kind, centre, axis, triangles);
  asked.set(triangles[0], { kind, centre, axis, triangles, known });
  return known;
}

function areSame(one: ArrayLike<number>, two: ArrayLike<number>): boolean {
  if (one.length !== two.length) return false;
  for (let i = 0; i < one.length; i++) if (one[i] !== two[i]) return false;
  return true;
}

function workedOut(
  graph: SurfaceGraph,
  kind: FaceKind,
  firstCentre: Float64Array<ArrayBuffer>,
  firstAxis: Float64Array<ArrayBuffer>,
  triangles: ArrayLike<number>,
): Known | undefined {
  const { corners, places } = cornersOfFace(graph, triangles);
  const facing = facingOf(graph, triangles);
  let [centre, axis] = [firstCentre, firstAxis];
  let surface = measuredSurface(kind, centre, axis, corners, facing);
  const isRuled = kind === 'cylinder' || kind === 'cone';
  let found: Known | undefined;
  let before = Infinity;
  for (let steps = 0; surface && steps < MOST_STEPS; steps++) {
    const pierced = isPierced(axis, corners);
    const looks = looksOf(graph, surface, triangles, corners, places, pierced, isRuled);
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
  corners: Float64Array,
  places: Uint32Array,
  pierced: boolean,
  isRuled: boolean,
): { readonly depth: number; readonly isFlatted: boolean } | undefined {
  const turns = edgeTurns(graph);
  const besideInPlane = (t: number): number =>
    [3 * t, 3 * t + 1, 3 * t + 2].filter((h) => Math.abs(turns[h]) < FLAT_RAD).length;
  let [depth, widest, total, sides] = [0, 0, 0, 0];
  const spans = new Float64Array(triangles.length);
  const where = new Float64Array(PLACE * (corners.length / 3));
  for (let i = 0; i < corners.length / 3; i++) surface.placeInto(where, PLACE * i, pointOf(corners, 3 * i));
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

function isPierced(axis: ArrayLike<number>, corners: Float64Array): boolean {
  const heights = new Float64Array(corners.length / 3);
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < heights.length; i++) {
    heights[i] = dotAt(corners, 3 * i, axis);
    low = Math.min(low, heights[i]);
    high = Math.max(high, heights[i]);
  }
  return levelsOf(heights, HEIGHT_SHARE * (high - low), MANY_HEIGHTS) === MANY_HEIGHTS;
}

export function middleInto(out: Float64Array, { indexed }: Pick<SurfaceGraph, 'indexed'>, t: number): void {
  const { vertices, triangles } = indexed;
  const a = 3 * triangles[3 * t];
  const b = 3 * triangles[3 * t + 1];
  const c = 3 * triangles[3 * t + 2];
  for (let k = 0; k < 3; k++) out[k] = vertices[a + k] / 3 + vertices[b + k] / 3 + vertices[c + k] / 3;
}

/** The point at hand: a new one each time would take longer than what is asked of it. */
const POINT = new Float64Array(3);

/** Copies the point that begins at `from`. */
function pointOf(corners: Float64Array, from: number): Float64Array {
  POINT[0] = corners[from];
  POINT[1] = corners[from + 1];
  POINT[2] = corners[from + 2];
  return POINT;
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

/** The face's corners, once each, in order of first use; and three for each of its triangles: the places of its corners among them. */
function cornersOfFace(
  { indexed }: SurfaceGraph,
  triangles: ArrayLike<number>,
): { readonly corners: Float64Array; readonly places: Uint32Array } {
  const { vertices, triangles: corners } = indexed;
  const placeOf = new Map<number, number>();
  const places = new Uint32Array(3 * triangles.length);
  for (let i = 0; i < triangles.length; i++) {
    for (let k = 0; k < 3; k++) {
      const v = corners[3 * triangles[i] + k];
      let place = placeOf.get(v);
      if (place === undefined) placeOf.set(v, (place = placeOf.size));
      places[3 * i + k] = place;
    }
  }
  const points = new Float64Array(3 * placeOf.size);
  let at = 0;
  for (const v of placeOf.keys()) for (let k = 0; k < 3; k++) points[at++] = vertices[3 * v + k];
  return { corners: points, places };
}

function worstOff(surface: KnownSurface, corners: Float64Array): number {
  let off = 0;
  for (let i = 0; i < corners.length; i += 3) off = Math.max(off, Math.abs(surface.off(pointOf(corners, i))));
  return off;
}

/** The corner in which a half-edge starts. */
export function cornerInto(
  out: Float64Array,
  { indexed }: Pick<SurfaceGraph, 'indexed'>,
  h: number,
): Float64Array {
  const { vertices, triangles } = indexed;
  const from = 3 * triangles[h];
  out[0] = vertices[from];
  out[1] = vertices[from + 1];
  out[2] = vertices[from + 2];
  return out;
}
