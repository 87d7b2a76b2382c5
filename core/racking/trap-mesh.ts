import type { IndexedMesh } from '../mesh/mesh.ts';
import { failure, success, type Result } from '../result.ts';
import { buildTriangleBvh, type TriangleBvh } from './triangle-bvh.ts';

/**
 * A closed mesh made ready for looking at many attitudes: everything that does not depend on which way is up.
 * Lengths in model units.
 */
export interface TrapMesh {
  /** Three a vertex, float64, counted from `origin` so that a part far from its file's zero loses no digits. */
  readonly vertices: Float64Array;
  readonly origin: readonly [number, number, number];
  readonly triangles: Uint32Array;
  readonly vertexCount: number;
  readonly triangleCount: number;
  /** Neighbours of vertex v: `neighbours[neighbourStart[v] … neighbourStart[v + 1])`. */
  readonly neighbourStart: Uint32Array;
  readonly neighbours: Uint32Array;
  /** Per vertex: outward normal weighted by the corner angles, not of length 1. */
  readonly vertexNormals: Float64Array;
  readonly bvh: TriangleBvh;
  /** Diagonal of the box around the part. */
  readonly size: number;
  /** Depths below this are rounding of the file's single-precision coordinates, not pockets. */
  readonly leastDepth: number;
  readonly area: number;
  readonly volume: number;
}

/**
 * Single precision keeps seven digits of a coordinate, so a turned flat face wavers by some units of the last one: a
 * few of its own size, or, for a part far from its file's zero, of that distance.
 */
const LEAST_DEPTH_PER_SIZE = 1e-6;
const LEAST_DEPTH_PER_DISTANCE = 4 * 2 ** -23;

/**
 * Failures: `open-mesh` (an edge has no partner that runs the other way, so inside and outside are not told apart),
 * `inside-out` (the enclosed volume is negative or zero), `no-triangles`.
 */
export function prepareTrapMesh(mesh: IndexedMesh): Result<TrapMesh> {
  const vertexCount = mesh.vertices.length / 3;
  const triangleCount = mesh.triangles.length / 3;
  if (!Number.isInteger(vertexCount) || !Number.isInteger(triangleCount)) {
    throw new RangeError(
      `prepareTrapMesh: ${mesh.vertices.length} coordinates and ${mesh.triangles.length} corners, not multiples of three`,
    );
  }
  if (triangleCount === 0) return failure('no-triangles', 'The part has no surface.', 'Open a model file.');
  const { triangles } = mesh;
  const { origin, size, farthest } = boxOf(mesh.vertices);
  const vertices = new Float64Array(mesh.vertices.length);
  for (let i = 0; i < vertices.length; i++) vertices[i] = mesh.vertices[i]! - origin[i % 3]!;
  const { start, neighbours, openEdges } = neighbourLists(triangles, vertexCount);
  if (openEdges > 0) {
    return failure(
      'open-mesh',
      `The surface has ${openEdges} open edges, so it is not known which side is metal and nothing can be said about trapped gas or liquid.`,
      'Close the surface in the modelling program, or repair it here, and look again.',
    );
  }
  const { vertexNormals, area, volume } = normalsAndVolume(vertices, triangles);
  if (!(volume > 0)) {
    return failure(
      'inside-out',
      'The surface encloses no metal: its triangles face inwards.',
      'Turn the surface the right way round and look again.',
    );
  }
  return success({
    vertices,
    origin,
    triangles,
    vertexCount,
    triangleCount,
    neighbourStart: start,
    neighbours,
    vertexNormals,
    bvh: buildTriangleBvh(vertices, triangles),
    size,
    leastDepth: Math.max(LEAST_DEPTH_PER_SIZE * size, LEAST_DEPTH_PER_DISTANCE * farthest),
    area,
    volume,
  });
}

function boxOf(vertices: Float32Array): {
  origin: [number, number, number];
  size: number;
  /** Largest coordinate. */
  farthest: number;
} {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < vertices.length; i++) {
    const k = i % 3;
    const x = vertices[i]!;
    if (x < min[k]!) min[k] = x;
    if (x > max[k]!) max[k] = x;
  }
  const wide = [0, 1, 2].map((k) => max[k]! - min[k]!);
  return {
    origin: [0, 1, 2].map((k) => (min[k]! + max[k]!) / 2) as [number, number, number],
    size: Math.hypot(wide[0]!, wide[1]!, wide[2]!),
    farthest: Math.max(...min.map(Math.abs), ...max.map(Math.abs)),
  };
}

/** Every edge of a closed mesh is run along once each way, so the ends of a vertex's outgoing edges are its neighbours. */
function neighbourLists(
  triangles: Uint32Array,
  vertexCount: number,
): { start: Uint32Array; neighbours: Uint32Array; openEdges: number } {
  const lists = (from: number, to: number): { start: Uint32Array; ends: Uint32Array } => {
    const start = new Uint32Array(vertexCount + 1);
    for (let i = 0; i < triangles.length; i += 3) {
      for (let k = 0; k < 3; k++) {
        const tail = triangles[i + ((k + from) % 3)]! + 1;
        start[tail] = start[tail]! + 1;
      }
    }
    for (let v = 0; v < vertexCount; v++) start[v + 1] = start[v + 1]! + start[v]!;
    const fill = start.slice(0, vertexCount);
    const ends = new Uint32Array(triangles.length);
    for (let i = 0; i < triangles.length; i += 3) {
      for (let k = 0; k < 3; k++) {
        const tail = triangles[i + ((k + from) % 3)]!;
        const place = fill[tail]!;
        ends[place] = triangles[i + ((k + to) % 3)]!;
        fill[tail] = place + 1;
      }
    }
    return { start, ends };
  };
  const out = lists(0, 1);
  const back = lists(1, 0);
  const balance = new Int32Array(vertexCount);
  let openEdges = 0;
  for (let v = 0; v < vertexCount; v++) {
    for (let i = out.start[v]!; i < out.start[v + 1]!; i++) balance[out.ends[i]!]! += 1;
    for (let i = back.start[v]!; i < back.start[v + 1]!; i++) balance[back.ends[i]!]! -= 1;
    for (const list of [out, back]) {
      for (let i = list.start[v]!; i < list.start[v + 1]!; i++) {
        const w = list.ends[i]!;
        if (w > v) openEdges += Math.abs(balance[w]!);
        balance[w] = 0;
      }
    }
  }
  return { start: out.start, neighbours: out.ends, openEdges };
}

function normalsAndVolume(
  vertices: Float64Array,
  triangles: Uint32Array,
): { vertexNormals: Float64Array; area: number; volume: number } {
  const vertexNormals = new Float64Array(vertices.length);
  let area = 0;
  let volume = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = 3 * triangles[i]!;
    const b = 3 * triangles[i + 1]!;
    const c = 3 * triangles[i + 2]!;
    const [ux, uy, uz] = [
      vertices[b]! - vertices[a]!,
      vertices[b + 1]! - vertices[a + 1]!,
      vertices[b + 2]! - vertices[a + 2]!,
    ];
    const [vx, vy, vz] = [
      vertices[c]! - vertices[a]!,
      vertices[c + 1]! - vertices[a + 1]!,
      vertices[c + 2]! - vertices[a + 2]!,
    ];
    const [wx, wy, wz] = [vx - ux, vy - uy, vz - uz];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(twice > 0)) continue;
    area += twice / 2;
    volume += (vertices[a]! * nx + vertices[a + 1]! * ny + vertices[a + 2]! * nz) / 6;
    const angleA = Math.atan2(twice, ux * vx + uy * vy + uz * vz);
    const angleB = Math.atan2(twice, -(ux * wx + uy * wy + uz * wz));
    const angleC = Math.PI - angleA - angleB;
    const put = (at: number, weight: number): void => {
      vertexNormals[at]! += nx * weight;
      vertexNormals[at + 1]! += ny * weight;
      vertexNormals[at + 2]! += nz * weight;
    };
    put(a, angleA / twice);
    put(b, angleB / twice);
    put(c, angleC / twice);
  }
  return { vertexNormals, area, volume };
}
