import type { IndexedMesh } from '../mesh/mesh.ts';

/** Turn below which two triangles are one plane: 1e-3 rad moves 0.1 mm over 100 mm, less than a bend one could see. */
export const FLAT_RAD = 1e-3;

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
 * Nothing, for an object of a class that works on a graph to begin with. Each such class keeps one, `KEPT`, that nobody asks: V8
 * drops what it has compiled for a class with the last object of it, and a third of the next analysis would go into compiling it
 * again. Fields that come to hold fractions begin as NaN: begun as 0 they would change the shape of all objects made later, and the one that is
 * kept would keep nothing.
 */
export const NO_GRAPH: SurfaceGraph = {
  indexed: { vertices: new Float32Array(), triangles: new Uint32Array() },
  twin: new Int32Array(),
  normals: new Float32Array(),
  triangleAreas: new Float64Array(),
  noise: Number.EPSILON,
};

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
