import { membersOf } from '../mesh/members-of.ts';
import { faceBorders } from './face-borders.ts';
import { faceNeighbours } from './face-neighbours.ts';
import { FACE_KINDS, type FaceTable } from './face-table.ts';
import { areNeedles, longestSide2 } from './needles.ts';
import { recogniseInto } from './recognise-face.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import { cornersOf, knownSurfaceOf, middleOf, type Known } from './surfaces/known-surface-of.ts';
import { lookedAt } from './surfaces/looked-at.ts';
import { sampleRoom } from './take-sample.ts';

const PLANE = FACE_KINDS.indexOf('plane');
const FREE = FACE_KINDS.indexOf('free');
/** A face of fewer triangles shows no surface that others might be fragments of. */
const LEAST_TRIANGLES = 6;
/** Faces beside a face that are scraps: needles in it may have kept it from being recognised where there are so many. */
const LEAST_SCRAPS = 3;
const SCRAP_TRIANGLES = 12;
const SCRAP_SHARE = 0.02;
const SAMPLE_LIMIT = 200;
/** A fragment's corners may be off the surface by this share of the depth of its facets: the fit goes by the face beside alone. */
const NEAR_SHARE = 0.1;
/**
 * Middles of a fragment's triangles may lie so much deeper under the surface than those of the face it belongs to: a flat milled on a shaft has its
 * corners on it, too. One that is curved itself may be drawn twice as coarsely.
 */
const DEEPER = 1.3;
const DEEPER_CURVED = 4.5;
/** A fragment's area seen along the surface's normal, as a share of its own: an end of a cylinder shows none. */
const LEAST_FACING = 0.1;

/**
 * Puts the fragments of a cylinder, cone, sphere or torus together. Where a hole goes through a wall, meshers draw needles along its rim, whose
 * corners lie on the surface while they themselves lean any way they like: they are split off as faces of their own, and cut the wall in pieces. What
 * is beside a face and has all its corners on the face's surface, its middle as near to it and its front the same way, is a part of it.
 *
 * @param apart half-edges that may lie on a border, see describeFaces
 * @returns the table itself where there are none
 */
export function gatherFragments(graph: SurfaceGraph, faces: FaceTable, apart: Int32Array): FaceTable {
  const { count, kind, area, triangleCount } = faces;
  const candidates: number[] = [];
  for (let f = 0; f < count; f++) {
    if (kind[f] !== PLANE && triangleCount[f] >= LEAST_TRIANGLES) candidates.push(f);
  }
  if (candidates.length === 0 || candidates.length === count) return faces;
  const looked = lookedAt(
    faces,
    candidates.sort((a, b) => area[b] - area[a]),
  );
  if (looked.length === 0) return faces;
  const beside = faceNeighbours(faces);
  const trianglesOf = membersOf(faces.faceOfTriangle, count);
  const into = Int32Array.from({ length: count }, (_, f) => f);
  const taken = new Uint8Array(count);
  let gathered = 0;
  let own = faces;
  for (const f of looked) {
    if (taken[f] !== 0) continue;
    let known = knownSurfaceOf(graph, own, f, trianglesOf[f]);
    if (!known && scrapsBeside(faces, beside.get(f) ?? [], f) >= LEAST_SCRAPS) {
      const other = withoutNeedles(graph, own, f, trianglesOf[f]);
      known = other && knownSurfaceOf(graph, other, f, trianglesOf[f]);
      if (other && known) own = other;
    }
    if (!known) continue;
    const inward = own.inward[f] !== 0;
    const waiting = [f];
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      for (const other of beside.get(at) ?? []) {
        if (other === f || taken[other] !== 0 || area[other] > area[f]) continue;
        const deeper = kind[other] === PLANE ? DEEPER : DEEPER_CURVED;
        if (!isFragment(graph, known, inward, trianglesOf[other], deeper)) continue;
        taken[other] = 1;
        into[other] = f;
        gathered++;
        waiting.push(other);
      }
    }
  }
  return gathered === 0 ? own : joined(graph, own, into, apart);
}

/** How many faces beside one are scraps of few triangles. */
function scrapsBeside({ area, triangleCount }: FaceTable, beside: readonly number[], f: number): number {
  return beside.filter((g) => triangleCount[g] <= SCRAP_TRIANGLES && area[g] < SCRAP_SHARE * area[f]).length;
}

/** The table with a face recognised by those of its triangles that are no needles; undefined where it is free then, too. */
function withoutNeedles(
  graph: SurfaceGraph,
  faces: FaceTable,
  f: number,
  triangles: Uint32Array,
): FaceTable | undefined {
  const sound = triangles.filter((t) => !areNeedles(graph.triangleAreas[t], longestSide2(graph, t)));
  if (sound.length < LEAST_TRIANGLES) return undefined;
  const stride = Math.ceil(sound.length / SAMPLE_LIMIT);
  const some = sound.filter((_, i) => i % stride === 0);
  const found = {
    ...faces,
    kind: faces.kind.slice(),
    size: faces.size.slice(),
    inward: faces.inward.slice(),
    axis: faces.axis.slice(),
    point: faces.point.slice(),
  };
  recogniseInto(found, f, graph, some, sampleRoom(some.length));
  return found.kind[f] === PLANE || found.kind[f] === FREE ? undefined : found;
}

function isFragment(
  graph: SurfaceGraph,
  { surface, off, depth }: Known,
  inward: boolean,
  triangles: Uint32Array,
  deeper: number,
): boolean {
  const near = Math.max(2 * off, 4 * graph.noise, NEAR_SHARE * depth);
  const normal = new Float64Array(3);
  let [facing, total] = [0, 0];
  for (const t of triangles) {
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      if (!(Math.abs(surface.off(cornersOf(graph, h)[0])) < near)) return false;
    }
    const middle = middleOf(graph, t);
    if (!(Math.abs(surface.off(middle)) < deeper * depth + near)) return false;
    surface.normalInto(normal, middle);
    const cosine =
      normal[0] * graph.normals[3 * t] +
      normal[1] * graph.normals[3 * t + 1] +
      normal[2] * graph.normals[3 * t + 2];
    facing += (inward ? -cosine : cosine) * graph.triangleAreas[t];
    total += graph.triangleAreas[t];
  }
  return facing > LEAST_FACING * total;
}

/** @param into per row that of the face it belongs to */
function joined(graph: SurfaceGraph, faces: FaceTable, into: Int32Array, apart: Int32Array): FaceTable {
  const { count } = faces;
  const firstTriangle = faces.firstTriangle.slice();
  const triangleCount = faces.triangleCount.slice();
  const area = faces.area.slice();
  for (let f = 0; f < count; f++) {
    const to = into[f];
    if (to === f) continue;
    firstTriangle[to] = Math.min(firstTriangle[to], faces.firstTriangle[f]);
    triangleCount[to] += faces.triangleCount[f];
    area[to] += faces.area[f];
  }
  // Rows again in order of their lowest triangle.
  const rows: number[] = [];
  for (let f = 0; f < count; f++) if (into[f] === f) rows.push(f);
  rows.sort((a, b) => firstTriangle[a] - firstTriangle[b]);
  const rowOf = new Uint32Array(count);
  rows.forEach((f, row) => (rowOf[f] = row));
  const faceOfTriangle = faces.faceOfTriangle.map((f) => rowOf[into[f]]);
  const by3 = (values: Float64Array): Float64Array =>
    Float64Array.from(rows.flatMap((f) => [...values.subarray(3 * f, 3 * f + 3)]));
  return {
    count: rows.length,
    faceOfTriangle,
    firstTriangle: Uint32Array.from(rows, (f) => firstTriangle[f]),
    triangleCount: Uint32Array.from(rows, (f) => triangleCount[f]),
    area: Float64Array.from(rows, (f) => area[f]),
    kind: Uint8Array.from(rows, (f) => faces.kind[f]),
    size: Float64Array.from(rows, (f) => faces.size[f]),
    inward: Uint8Array.from(rows, (f) => faces.inward[f]),
    axis: by3(faces.axis),
    point: by3(faces.point),
    borders: faceBorders(graph, apart, faceOfTriangle, rows.length),
  };
}
