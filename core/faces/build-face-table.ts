import { classifyFace } from './classify-face.ts';
import type { FaceSample } from './face-sample.ts';
import { faceBorders } from './face-borders.ts';
import { FACE_KINDS, type FaceTable } from './face-table.ts';
import { gatherFragments } from './gather-fragments.ts';
import { splitFaces } from './split-faces.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/** Triangles of a large face that are looked at to recognise its kind, evenly spread over the face. */
const SAMPLE_LIMIT = 200;

/** Splits the surface at `splitAngleRad` and describes every face. Same mesh and angle, same table. */
export function buildFaceTable(graph: SurfaceGraph, splitAngleRad: number): FaceTable {
  const { root, apart } = splitFaces(graph, splitAngleRad);
  const total = root.length;
  let count = 0;
  for (let t = 0; t < total; t++) if (root[t] === t) count++;
  const faceOfTriangle = new Uint32Array(total);
  // Roots are lowest members, so a face's row is known before any other of its triangles comes.
  for (let t = 0, row = 0; t < total; t++)
    faceOfTriangle[t] = root[t] === t ? row++ : faceOfTriangle[root[t]];
  return gatherFragments(graph, describeFaces(graph, faceOfTriangle, count, apart), apart);
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
  const { triangleAreas } = graph;
  const firstTriangle = new Uint32Array(count);
  const triangleCount = new Uint32Array(count);
  const area = new Float64Array(count);
  // A face's triangles mostly come in runs.
  for (let t = 0; t < faceOfTriangle.length;) {
    const face = faceOfTriangle[t];
    const first = t;
    let sum = area[face];
    for (; t < faceOfTriangle.length && faceOfTriangle[t] === face; t++) sum += triangleAreas[t];
    area[face] = sum;
    if (triangleCount[face] === 0) firstTriangle[face] = first;
    triangleCount[face] += t - first;
  }

  const kind = new Uint8Array(count);
  const size = new Float64Array(count);
  const inward = new Uint8Array(count);
  const axis = new Float64Array(3 * count);
  const point = new Float64Array(3 * count);
  const samples = sampledTriangles(faceOfTriangle, triangleCount);
  // One set of arrays for the samples of all faces.
  const room = {
    corners: new Float64Array(9 * SAMPLE_LIMIT),
    normals: new Float64Array(3 * SAMPLE_LIMIT),
    areas: new Float64Array(SAMPLE_LIMIT),
  };
  for (let face = 0; face < count; face++) {
    const own = samples.of.subarray(samples.start[face], samples.end[face]);
    const { sample, centre, scale } = takeSample(graph, own, room);
    const shape = classifyFace(sample);
    kind[face] = FACE_KINDS.indexOf(shape.kind);
    size[face] = shape.kind === 'cone' ? shape.size : shape.size * scale;
    inward[face] = shape.inward ? 1 : 0;
    for (let k = 0; k < 3; k++) {
      axis[3 * face + k] = shape.axis[k];
      point[3 * face + k] = centre[k] + shape.point[k] * scale;
    }
  }
  return {
    count,
    faceOfTriangle,
    firstTriangle,
    triangleCount,
    area,
    kind,
    size,
    inward,
    axis,
    point,
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
    for (; t < faceOfTriangle.length && faceOfTriangle[t] === face; t++) {
      if (toWait-- === 0) of[end[face]++] = t;
      if (--left === 0) {
        const stretch = end[face] - start[face] + 1;
        left = stride[face];
        toWait = Math.floor(((stretch * 0.6180339887) % 1) * stride[face]);
      }
    }
    wait[face] = toWait;
    rest[face] = left;
  }
  return { of, start, end };
}

/**
 * @param of triangles, at most SAMPLE_LIMIT
 * @param room the sample's arrays lie in it: they hold until the next is taken
 */
function takeSample(
  graph: SurfaceGraph,
  of: Uint32Array,
  room: Pick<FaceSample, 'corners' | 'normals' | 'areas'>,
): { readonly sample: FaceSample; readonly centre: readonly number[]; readonly scale: number } {
  const { vertices, triangles } = graph.indexed;
  const count = of.length;
  const corners = room.corners.subarray(0, 9 * count);
  const normals = room.normals.subarray(0, 3 * count);
  const areas = room.areas.subarray(0, count);
  let [lowX, lowY, lowZ] = [Infinity, Infinity, Infinity];
  let [highX, highY, highZ] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0, to = 0; i < count; i++) {
    const t = of[i];
    areas[i] = graph.triangleAreas[t];
    normals[3 * i] = graph.normals[3 * t];
    normals[3 * i + 1] = graph.normals[3 * t + 1];
    normals[3 * i + 2] = graph.normals[3 * t + 2];
    for (let h = 3 * t; h < 3 * t + 3; h++, to += 3) {
      const from = 3 * triangles[h];
      const x = vertices[from];
      const y = vertices[from + 1];
      const z = vertices[from + 2];
      corners[to] = x;
      corners[to + 1] = y;
      corners[to + 2] = z;
      if (x < lowX) lowX = x;
      if (y < lowY) lowY = y;
      if (z < lowZ) lowZ = z;
      if (x > highX) highX = x;
      if (y > highY) highY = y;
      if (z > highZ) highZ = z;
    }
  }
  const centre = [(lowX + highX) / 2, (lowY + highY) / 2, (lowZ + highZ) / 2];
  const scale = Math.hypot(highX - lowX, highY - lowY, highZ - lowZ) || 1;
  for (let i = 0; i < corners.length; i += 3) {
    corners[i] = (corners[i] - centre[0]) / scale;
    corners[i + 1] = (corners[i + 1] - centre[1]) / scale;
    corners[i + 2] = (corners[i + 2] - centre[2]) / scale;
  }
  for (let i = 0; i < count; i++) areas[i] /= scale * scale;
  return { sample: { count, corners, normals, areas, noise: graph.noise / scale }, centre, scale };
}
