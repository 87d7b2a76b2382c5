import { faceBorders } from './face-borders.ts';
import { edgesBetween, faceRows } from './face-rows.ts';
import { faceShapes } from './face-shapes.ts';
import type { FaceTable } from './face-table.ts';
import { gatherFragments } from './gather-fragments.ts';
import { measureFaces } from './measure-faces.ts';
import { recogniseInto } from './recognise-face.ts';
import { splitFaces } from './split-faces.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import { SAMPLE_LIMIT, sampleRoom } from './take-sample.ts';

/**
 * Splits the surface at `splitAngleRad` and describes every face. Same mesh and angle, same table.
 * @param given per triangle the face that it is known to belong to, −1 where the split is to tell
 */
export function buildFaceTable(graph: SurfaceGraph, splitAngleRad: number, given?: Int32Array): FaceTable {
  const { root, apart } = splitFaces(graph, splitAngleRad);
  if (given) return describeGiven(graph, root, given);
  const total = root.length;
  let count = 0;
  const faceOfTriangle = new Uint32Array(total);
  // Roots are lowest members, so a face's row is known before any other of its triangles comes.
  for (let t = 0; t < total; t++) faceOfTriangle[t] = root[t] === t ? count++ : faceOfTriangle[root[t]];
  return gatherFragments(graph, describeFaces(graph, faceOfTriangle, count, apart));
}

/** Faces that are known, and of the other triangles those of the split. */
function describeGiven(graph: SurfaceGraph, root: Int32Array, given: Int32Array): FaceTable {
  const { faceOfTriangle, rowOf } = faceRows(given.map((face, t) => (face >= 0 ? face : -1 - root[t])));
  return describeFaces(graph, faceOfTriangle, rowOf.size, edgesBetween(graph, faceOfTriangle));
}

/**
 * Measures and recognises the faces of a split that is already made.
 *
 * @param faceOfTriangle per triangle its row, 0 to `count` - 1, rows in order of their lowest triangle
 * @param apart half-edges that may lie on a border, one of each pair, ascending
 */
export function describeFaces(
  graph: SurfaceGraph,
  faceOfTriangle: Uint32Array,
  count: number,
  apart: Int32Array,
): FaceTable {
  const measured = measureFaces(graph, faceOfTriangle, count);
  const table = faceShapes(count);
  const samples = sampledTriangles(faceOfTriangle, measured.triangleCount);
  // One set of arrays for the samples of all faces.
  const room = sampleRoom(SAMPLE_LIMIT);
  for (let face = 0; face < count; face++) {
    const own = samples.of.subarray(samples.start[face], samples.end[face]);
    recogniseInto(table, face, graph, own, room);
  }
  return {
    count,
    faceOfTriangle,
    ...measured,
    ...table,
    borders: faceBorders(graph, apart, faceOfTriangle, count),
  };
}

/**
 * At most SAMPLE_LIMIT triangles of every face, face after face: one of every `stride`, at a place in its stretch that
 * moves by the golden section, so that it never falls in step with the rows of a regular mesh.
 */
function sampledTriangles(
  faceOfTriangle: Uint32Array,
  triangleCount: Uint32Array,
): { readonly of: Uint32Array; readonly start: Uint32Array; readonly end: Uint32Array } {
  const count = triangleCount.length;
  const start = new Uint32Array(count + 1);
  const stride = new Uint32Array(count);
  for (let face = 0; face < count; face++) {
    stride[face] = Math.ceil(triangleCount[face] / SAMPLE_LIMIT);
    start[face + 1] = start[face] + Math.ceil(triangleCount[face] / stride[face]);
  }
  const of = new Uint32Array(start[count]);
  const end = start.slice(0, count);
  // Triangles of the face still to pass before the next one wanted, and before the stretch ends.
  const wait = new Uint32Array(count);
  const rest = stride.slice();
  for (let t = 0; t < faceOfTriangle.length;) {
    const face = faceOfTriangle[t];
    let toWait = wait[face];
    let left = rest[face];
    let first = t;
    while (t < faceOfTriangle.length && faceOfTriangle[t] === face) t++;
    // Stretch by stretch, as far as each lies in the run.
    while (first < t) {
      const step = Math.min(left, t - first);
      if (toWait >= 0 && toWait < step) of[end[face]++] = first + toWait;
      first += step;
      toWait -= step;
      left -= step;
      if (left > 0) continue;
      const stretch = end[face] - start[face] + 1;
      left = stride[face];
      toWait = Math.floor(((stretch * 0.6180339887) % 1) * stride[face]);
    }
    wait[face] = toWait;
    rest[face] = left;
  }
  return { of, start, end };
}
