import type { IndexedMesh } from '../mesh/mesh.ts';

/** A mesh with all that splitting it into faces needs, worked out once and used for every split angle. */
export interface SurfaceGraph {
  readonly indexed: IndexedMesh;
  /** Per half-edge, see mesh/edge-adjacency.ts. */
  readonly twin: Int32Array;
  /** 3 floats a triangle, unit length; needles carry a neighbour's. */
  readonly normals: Float32Array;
  /** Per triangle, model units squared. */
  readonly triangleAreas: Float64Array;
  /** One step of the coordinates, model units: see coordinateNoise. */
  readonly noise: number;
}

/**
 * Turn of the surface across a half-edge from triangle `t` to `u`: rad, 0 flat, positive convex, negative concave.
 * Where `u` is turned over against `t`, its normal counts reversed.
 */
export function turnAcross(graph: SurfaceGraph, halfEdge: number): number {
  const { normals, twin } = graph;
  const { vertices, triangles } = graph.indexed;
  const other = twin[halfEdge];
  const t = Math.floor(halfEdge / 3);
  const sign = triangles[halfEdge] === triangles[other] ? -1 : 1;
  const i = t * 3;
  const j = Math.floor(other / 3) * 3;
  const ax = normals[i];
  const ay = normals[i + 1];
  const az = normals[i + 2];
  const bx = sign * normals[j];
  const by = sign * normals[j + 1];
  const bz = sign * normals[j + 2];
  const from = triangles[halfEdge] * 3;
  const to = triangles[halfEdge - i + 1 < 3 ? halfEdge + 1 : i] * 3;
  const ex = vertices[to] - vertices[from];
  const ey = vertices[to + 1] - vertices[from + 1];
  const ez = vertices[to + 2] - vertices[from + 2];
  const cosine = ax * bx + ay * by + az * bz;
  // How far the other normal leans outward over the edge; all of the turn where both stand square to it.
  const lean = bx * (ey * az - ez * ay) + by * (ez * ax - ex * az) + bz * (ex * ay - ey * ax);
  const sine = lean / Math.sqrt(ex * ex + ey * ey + ez * ez);
  const off = 1 - cosine * cosine - sine * sine;
  if (cosine > 0.95 && off < SQUARE && off > -SQUARE) return arcsine(sine);
  const cx = ay * bz - az * by;
  const cy = az * bx - ax * bz;
  const cz = ax * by - ay * bx;
  const angle = Math.atan2(Math.sqrt(cx * cx + cy * cy + cz * cz), cosine);
  return cx * ex + cy * ey + cz * ez < 0 ? -angle : angle;
}

/**
 * Squared distance between the tips of two triangles' unit normals: 2 − 2 cos of the turn, exact for small turns too.
 *
 * @param turnedOver the two run along their edge the same way, so one of them counts reversed
 */
export function squaredChord(normals: Float32Array, t: number, u: number, turnedOver: boolean): number {
  const i = 3 * t;
  const j = 3 * u;
  const sign = turnedOver ? -1 : 1;
  const dx = normals[i] - sign * normals[j];
  const dy = normals[i + 1] - sign * normals[j + 1];
  const dz = normals[i + 2] - sign * normals[j + 2];
  return dx * dx + dy * dy + dz * dz;
}

/** Normals of unit length in 32 bits, square to the edge, leave no more than this. */
const SQUARE = 1e-6;

/** To 1e-7 for |x| < 0.32. */
export function arcsine(x: number): number {
  const y = x * x;
  return x * (1 + y * (1 / 6 + y * (3 / 40 + y * (15 / 336 + y * (105 / 3456)))));
}
