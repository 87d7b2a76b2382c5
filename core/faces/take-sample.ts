import type { FaceSample } from './face-sample.ts';
import type { SurfaceGraph } from './surface-graph.ts';

export type SampleRoom = Pick<FaceSample, 'corners' | 'normals' | 'areas'>;

/** Triangles of a large face that are looked at to recognise its kind, evenly spread over the face. */
export const SAMPLE_LIMIT = 200;

/** One of every few triangles, so that there are at most so many. */
export function someOf(triangles: Uint32Array, limit: number): Uint32Array {
  const stride = Math.ceil(triangles.length / limit);
  return stride <= 1 ? triangles : triangles.filter((_, i) => i % stride === 0);
}

/** Arrays for samples of so many triangles. */
export function sampleRoom(limit: number): SampleRoom {
  return {
    corners: new Float64Array(9 * limit),
    normals: new Float64Array(3 * limit),
    areas: new Float64Array(limit),
  };
}

/**
 * Some triangles of a face, moved to their middle and scaled to size 1.
 *
 * @param of triangles, as many as there is room for
 * @param room the sample's arrays lie in it: they hold until the next is taken
 */
export function takeSample(
  graph: SurfaceGraph,
  of: Uint32Array,
  room: SampleRoom,
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
