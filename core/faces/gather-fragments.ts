import { membersOf } from '../mesh/members-of.ts';
import { claimTriangles } from './claim-triangles.ts';
import { faceNeighbours } from './face-neighbours.ts';
import { FACE_KINDS, type FaceTable } from './face-table.ts';
import { copyShapeInto, faceShapes, withOwnShapes, type FaceShapes } from './face-shapes.ts';
import { areNeedles, longestSide2 } from './needles.ts';
import { recogniseInto } from './recognise-face.ts';
import { regrouped } from './regroup-faces.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import { knownSurfaceOf, LEAST_TRIANGLES, type Known } from './surfaces/known-surface-of.ts';
import { facingOn, LEAST_FACING, TWICE_AS_COARSE } from './surfaces/facing-on.ts';
import { lookedAt } from './surfaces/looked-at.ts';
import { SAMPLE_LIMIT, sampleRoom, someOf } from './take-sample.ts';

const PLANE = FACE_KINDS.indexOf('plane');
const FREE = FACE_KINDS.indexOf('free');
/** Faces beside a face that are scraps: needles in it may have kept it from being recognised where there are so many. */
const LEAST_SCRAPS = 3;
const SCRAP_TRIANGLES = 12;
const SCRAP_SHARE = 0.02;
/**
 * Middles of a fragment's triangles may lie so much deeper under the surface than those of the face it belongs to: a flat milled on a shaft has its
 * corners on it, too. One that is curved itself may be drawn twice as
 * coarsely, see facing-on.ts.
 */
const DEEPER = 1.3;
/** What is left of a face may show a surface of its own, which takes more. */
const MOST_ROUNDS = 3;

/**
 * Puts the fragments of a cylinder, cone, sphere or torus together. Where a hole goes through a wall, meshers draw needles along its rim, whose
 * corners lie on the surface while they themselves lean any way they like: they are split off as faces of their own, and cut the wall in pieces. What
 * is beside a face and has all its corners on the face's surface, its middle as near to it and its front the same way, is a part of it; of a free face, the triangles of which that is true.
 *
 * @returns the table itself where there are none
 */
export function gatherFragments(graph: SurfaceGraph, faces: FaceTable): FaceTable {
  let table = wholeFragments(graph, faces);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const claimed = claimTriangles(graph, table);
    if (claimed === table) break;
    table = wholeFragments(graph, claimed);
  }
  return table;
}

function wholeFragments(graph: SurfaceGraph, faces: FaceTable): FaceTable {
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
      const shape = withoutNeedles(graph, trianglesOf[f]);
      known = shape && knownSurfaceOf(graph, shape, 0, trianglesOf[f]);
      if (shape && known) {
        if (own === faces) own = withOwnShapes(faces);
        copyShapeInto(own, f, shape, 0);
      }
    }
    if (!known) continue;
    const inward = own.inward[f] !== 0;
    const waiting = [f];
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      for (const other of beside.get(at) ?? []) {
        if (other === f || taken[other] !== 0 || area[other] > area[f]) continue;
        const deeper = kind[other] === PLANE ? DEEPER : TWICE_AS_COARSE;
        if (!isFragment(graph, known, inward, trianglesOf[other], deeper)) continue;
        taken[other] = 1;
        into[other] = f;
        gathered++;
        waiting.push(other);
      }
    }
  }
  return gathered === 0
    ? own
    : regrouped(
        graph,
        own,
        own.faceOfTriangle.map((f) => into[f]),
      );
}

/** How many faces beside one are scraps of few triangles. */
function scrapsBeside({ area, triangleCount }: FaceTable, beside: readonly number[], f: number): number {
  return beside.filter((g) => triangleCount[g] <= SCRAP_TRIANGLES && area[g] < SCRAP_SHARE * area[f]).length;
}

/** What a face is by those of its triangles that are no needles, one row; undefined where it is free then, too. */
function withoutNeedles(graph: SurfaceGraph, triangles: Uint32Array): FaceShapes | undefined {
  const sound = triangles.filter((t) => !areNeedles(graph.triangleAreas[t], longestSide2(graph, t)));
  if (sound.length < LEAST_TRIANGLES) return undefined;
  const some = someOf(sound, SAMPLE_LIMIT);
  const shape = faceShapes(1);
  recogniseInto(shape, 0, graph, some, sampleRoom(some.length));
  return shape.kind[0] === PLANE || shape.kind[0] === FREE ? undefined : shape;
}

function isFragment(
  graph: SurfaceGraph,
  known: Known,
  inward: boolean,
  triangles: Uint32Array,
  deeper: number,
): boolean {
  let [facing, total] = [0, 0];
  for (const t of triangles) {
    const cosine = facingOn(graph, known, inward, t, deeper);
    if (cosine === undefined) return false;
    facing += cosine * graph.triangleAreas[t];
    total += graph.triangleAreas[t];
  }
  return facing > LEAST_FACING * total;
}
