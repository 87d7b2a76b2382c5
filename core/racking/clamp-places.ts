import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { castRay } from './ray-cast.ts';
import type { TriangleBvh } from './triangle-bvh.ts';
import type { Vec3 } from './vec3.ts';

/** `hole`: whether it goes through is not known, since the mesh has a gap there. */
export type ClampKind =
  'through hole' | 'blind hole' | 'hole' | 'bore' | 'boss' | 'opposed flats' | 'one side only';

/** A spot a hanger could hold, with what holds it there. Model units. */
export interface ClampPlace {
  readonly kind: ClampKind;
  readonly at: Vec3;
  readonly triangle: number;
  /** Outward, at `at`. */
  readonly normal: Vec3;
  /** Where the hanger comes from: the open end of a hole, a little off a face. */
  readonly entry: Vec3;
  /** Area that the clamp could press on. */
  readonly area: number;
  /** Between the jaws, or the diameter of the hole or boss. */
  readonly span: number;
  /** How far the two pressed faces are from parallel, rad; 0 for round places. */
  readonly skewRad: number;
  /** Of a hole or boss: how long it is. */
  readonly length?: number;
  /** It is the only way into a hollow. */
  readonly isVent?: boolean;
  /** How far in from the edge of the metal a clamp's jaws reach, where they come from there. */
  readonly inFromEdge?: number;
}

export interface Surface {
  readonly geometry: PartGeometry;
  /** Float64, model units. */
  readonly vertices: Float64Array;
  readonly bvh: TriangleBvh;
  /** Per face row: its triangles, `triangles[start[row] … start[row + 1])`. */
  readonly faceStart: Uint32Array;
  readonly faceTriangles: Uint32Array;
}

export function normalOf(geometry: PartGeometry, triangle: number): Vec3 {
  const { normals } = geometry.graph;
  return [normals[3 * triangle], normals[3 * triangle + 1], normals[3 * triangle + 2]];
}

export function cornerOf({ vertices, geometry }: Surface, triangle: number, k: number): Vec3 {
  const v = 3 * geometry.graph.indexed.triangles[3 * triangle + k];
  return [vertices[v], vertices[v + 1], vertices[v + 2]];
}

/** Triangles of every face, face after face. */
export function listFaceTriangles(geometry: PartGeometry): {
  faceStart: Uint32Array;
  faceTriangles: Uint32Array;
} {
  const { faces } = geometry;
  const faceStart = new Uint32Array(faces.count + 1);
  for (let row = 0; row < faces.count; row++) faceStart[row + 1] = faceStart[row] + faces.triangleCount[row];
  const fill = faceStart.slice(0, faces.count);
  const faceTriangles = new Uint32Array(geometry.triangleCount);
  for (let t = 0; t < geometry.triangleCount; t++) faceTriangles[fill[faces.faceOfTriangle[t]]++] = t;
  return { faceStart, faceTriangles };
}

export function cast(surface: Surface): Parameters<typeof castRay>[0] {
  return {
    vertices: surface.vertices,
    triangles: surface.geometry.graph.indexed.triangles,
    bvh: surface.bvh,
  };
}
