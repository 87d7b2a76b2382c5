import type { FaceTable } from './face-table.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/** Lowest triangle, number of triangles and area of every face. A face's triangles mostly come in runs. */
export function measureFaces(
  { triangleAreas }: Pick<SurfaceGraph, 'triangleAreas'>,
  faceOfTriangle: Uint32Array,
  count: number,
): Pick<FaceTable, 'firstTriangle' | 'triangleCount' | 'area'> {
  const firstTriangle = new Uint32Array(count);
  const triangleCount = new Uint32Array(count);
  const area = new Float64Array(count);
  for (let t = 0; t < faceOfTriangle.length;) {
    const face = faceOfTriangle[t];
    const first = t;
    let sum = area[face];
    for (; t < faceOfTriangle.length && faceOfTriangle[t] === face; t++) sum += triangleAreas[t];
    area[face] = sum;
    if (triangleCount[face] === 0) firstTriangle[face] = first;
    triangleCount[face] += t - first;
  }
  return { firstTriangle, triangleCount, area };
}
