import { FACE_KINDS, type FaceTable } from './face-table.ts';
import { dot } from './fit-vectors.ts';
import { recogniseInto } from './recognise-face.ts';
import { faceShapes, type FaceShapes } from './face-shapes.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import { cornersOfFace } from './surfaces/corner-points.ts';
import { facingOn, TWICE_AS_COARSE } from './surfaces/facing-on.ts';
import { guessRing } from './surfaces/guess-ring.ts';
import { guessRounds } from './surfaces/guess-round.ts';
import type { SurfaceRow } from './surfaces/known-surface.ts';
import { knownSurfaceOf, LEAST_TRIANGLES, type Known } from './surfaces/known-surface-of.ts';
import { heightsOf } from './surfaces/surface-looks.ts';
import { SAMPLE_LIMIT, sampleRoom, someOf } from './take-sample.ts';

const FREE = FACE_KINDS.indexOf('free');
/** Shares of a face's area, largest triangles first, that are tried: what leads into another wall is small. */
const SHARES = [0.95, 0.8, 0.6, 0.45, 0.3];
/** Of the face so much must lie on what is found: a plate's face that needles join to its rounded rim and the walls below is of many. */
const LEAST_SHARE = 0.3;
/** See isNoZone. */
const LEAST_HEIGHTS = 3;
const ROUND = [FACE_KINDS.indexOf('sphere'), FACE_KINDS.indexOf('torus')];
/** A ball or ring so many times as large as the face is a cone, with noise. */
const FAR = 10;
/** Corners of a plane may be off it by so many steps of the coordinates. */
const NOISE_STEPS = 8;

/** Sizes that are within this share are one. */
const ALIKE = 0.02;

/** What a good part of a face is drawn of. */
export interface PartlyKnown {
  readonly shape: FaceShapes;
  /** Undefined of a plane. */
  readonly known: Known | undefined;
  /** That lie on it and hang together. */
  readonly triangles: readonly number[];
}

/**
 * @param about axes of faces beside it
 * @returns undefined where its largest triangles show no surface either, or too little of it lies on that
 */
export function recognisedInPart(
  graph: SurfaceGraph,
  faces: FaceTable,
  f: number,
  triangles: Uint32Array,
  about: readonly SurfaceRow[],
): PartlyKnown | undefined {
  const areaOf = (t: number): number => graph.triangleAreas[t];
  const bySize = triangles.slice().sort((t, u) => areaOf(u) - areaOf(t));
  const extent = Math.sqrt(faces.area[f]);
  const isRound = ROUND.includes(faces.kind[f]) && faces.size[f] < FAR * extent;
  const inFace =
    (isOn: (t: number) => boolean) =>
    (t: number): boolean =>
      faces.faceOfTriangle[t] === f && isOn(t);
  const isEnough = (on: readonly number[]): boolean =>
    on.reduce((sum, t) => sum + areaOf(t), 0) > LEAST_SHARE * faces.area[f];
  for (const share of SHARES) {
    let [count, area] = [0, 0];
    while (area < share * faces.area[f]) area += areaOf(bySize[count++]);
    if (count < LEAST_TRIANGLES) return undefined;
    const large = bySize.subarray(0, count);
    const some = someOf(large, SAMPLE_LIMIT);
    const recognised = faceShapes(1);
    recogniseInto(recognised, 0, graph, some, sampleRoom(some.length));
    if (FACE_KINDS[recognised.kind[0]] === 'plane') {
      if (isRound) return undefined;
      const on = joinedTo(graph, bySize[0], inFace(inPlane(graph, recognised)));
      if (isEnough(on)) return { shape: recognised, known: undefined, triangles: on };
      continue;
    }
    const rings = about.flatMap((axis) => guessRing(graph, some, axis) ?? []);
    const first = isAlike(recognised, faces, f) ? [] : [recognised];
    for (const shape of [...first, ...guessRounds(graph, some), ...rings]) {
      const known = knownSurfaceOf(graph, shape, 0, large);
      if (!known || !isNoZone(graph, shape, known, large, isRound)) continue;
      const inward = shape.inward[0] !== 0;
      const isOn = (t: number): boolean => facingOn(graph, known, inward, t, TWICE_AS_COARSE) !== undefined;
      const on = joinedTo(graph, bySize[0], inFace(isOn));
      if (!isEnough(on)) continue;
      placeInto(shape, known.surface.asRow());
      // What it is was known; its corners are off it because it was cut by facets.
      if (isAlike(shape, faces, f)) return undefined;
      return { shape, known, triangles: on };
    }
  }
  return undefined;
}

/**
 * Two rings of corners lie on a cone whatever they are drawn of, a zone of a ball or a dome; those of a wall that another cuts lie at more heights. What was
 * recognised as a ball or ring whole is that.
 */
function isNoZone(
  graph: SurfaceGraph,
  shape: FaceShapes,
  { surface }: Known,
  triangles: Uint32Array,
  isRound: boolean,
): boolean {
  const kind = FACE_KINDS[shape.kind[0]];
  if (kind !== 'cylinder' && kind !== 'cone') return true;
  return (
    !isRound &&
    heightsOf(surface.asRow().axis, cornersOfFace(graph, triangles).corners, LEAST_HEIGHTS) === LEAST_HEIGHTS
  );
}

function placeInto(shape: FaceShapes, { size, axis, point }: SurfaceRow): void {
  shape.size[0] = size;
  shape.axis.set(axis);
  shape.point.set(point);
}

function isAlike(shape: FaceShapes, faces: FaceShapes, f: number): boolean {
  const [one, two] = [shape.size[0], faces.size[f]];
  return shape.kind[0] === faces.kind[f] && shape.kind[0] !== FREE && Math.abs(one - two) < ALIKE * two;
}

function inPlane({ indexed, noise }: SurfaceGraph, { axis, point }: FaceShapes): (t: number) => boolean {
  const { vertices, triangles } = indexed;
  const height = dot(point, axis);
  return (t) => {
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const at = 3 * triangles[h];
      if (!(Math.abs(dot(vertices.subarray(at, at + 3), axis) - height) < NOISE_STEPS * noise)) return false;
    }
    return true;
  };
}

/** A triangle and all that hang together with it, as far as they are wanted. */
function joinedTo({ twin }: SurfaceGraph, first: number, isWanted: (t: number) => boolean): number[] {
  const found = [first];
  const seen = new Set(found);
  // Grows while it is gone through.
  for (const t of found) {
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      if (twin[h] < 0) continue;
      const u = (twin[h] / 3) | 0;
      if (seen.has(u) || !isWanted(u)) continue;
      seen.add(u);
      found.push(u);
    }
  }
  return found;
}
