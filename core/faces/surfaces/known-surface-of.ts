import { unit, type Vec3 } from '../fit-vectors.ts';
import { FACE_KINDS, type FaceKind, type FaceTable } from '../face-table.ts';
import type { SurfaceGraph } from '../surface-graph.ts';
import { cornersOfFace, pointInto } from './corner-points.ts';
import type { KnownSurface } from './known-surface.ts';
import { measuredSurface } from './measured-surface.ts';
import { settled } from './settle-surface.ts';
import { isPierced, looksOf } from './surface-looks.ts';

/** A face of fewer triangles shows no surface that others might be of. */
export const LEAST_TRIANGLES = 6;
/** Corners may be off the surface by this share of the depth of its facets, or by so many steps of the coordinates. */
const OFF_SHARE = 0.03;
const NOISE_STEPS = 4;
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

/** Mean direction of triangles; any at all of a closed surface. */
function facingOf({ normals, triangleAreas }: SurfaceGraph, triangles: ArrayLike<number>): Vec3 {
  const sum = [0, 0, 0];
  for (let i = 0; i < triangles.length; i++) {
    const t = triangles[i];
    for (let k = 0; k < 3; k++) sum[k] += triangleAreas[t] * normals[3 * t + k];
  }
  return unit(sum);
}

/** The point at hand. */
const POINT = new Float64Array(3);

function worstOff(surface: KnownSurface, corners: Float64Array): number {
  let off = 0;
  for (let i = 0; i < corners.length; i += 3)
    off = Math.max(off, Math.abs(surface.off(pointInto(POINT, corners, i))));
  return off;
}
