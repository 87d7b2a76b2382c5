import { dot, frame } from '../fit-vectors.ts';
import { FACE_KINDS } from '../face-table.ts';
import { faceShapes, type FaceShapes } from '../face-shapes.ts';
import { leastSquares } from '../least-squares.ts';
import type { SurfaceGraph } from '../surface-graph.ts';
import { symmetricEigen } from '../symmetric-eigen.ts';
import { cornerInto, middleInto } from './corner-points.ts';

const KINDS = ['cylinder', 'cone'] as const;
/** Fronts lean alike along the axis: their spread along it is below this share of that across it. */
const LEAN_ALIKE = 0.3;

/**
 * About where the axis of a cone or cylinder lies of which some triangles are drawn, whichever way they were cut: their fronts all lean alike
 * along it, and their corners lie on circles about it. Whether they do is for others to say.
 *
 * @returns a cylinder and a cone, one row each and without a size; none where the fronts lean every way
 */
export function guessRounds(graph: SurfaceGraph, triangles: ArrayLike<number>): readonly FaceShapes[] {
  const { normals, triangleAreas } = graph;
  const mean = [0, 0, 0];
  let area = 0;
  for (let i = 0; i < triangles.length; i++) {
    const t = triangles[i];
    area += triangleAreas[t];
    for (let k = 0; k < 3; k++) mean[k] += triangleAreas[t] * normals[3 * t + k];
  }
  for (let k = 0; k < 3; k++) mean[k] /= area;
  const spread = new Float64Array(9);
  for (let i = 0; i < triangles.length; i++) {
    const t = triangles[i];
    for (let j = 0; j < 9; j++) {
      const [p, q] = [(j / 3) | 0, j % 3];
      const lean = (normals[3 * t + p] - mean[p]) * (normals[3 * t + q] - mean[q]);
      spread[j] += (triangleAreas[t] * lean) / area;
    }
  }
  const { values, vectors } = symmetricEigen(spread, 3);
  if (!(values[0] < LEAN_ALIKE * values[1])) return [];
  const [u, v, axis] = frame(vectors[0]);
  const origin = cornerInto(new Float64Array(3), graph, 3 * triangles[0]);
  const p = new Float64Array(3);
  // (x − a)² + (y − b)² = (c + d z)², of which x² + y² is a sum with five unknowns.
  const fit = leastSquares(5, (add) => {
    for (let i = 0; i < triangles.length; i++) {
      for (let h = 3 * triangles[i]; h < 3 * triangles[i] + 3; h++) {
        cornerInto(p, graph, h);
        const arm = [p[0] - origin[0], p[1] - origin[1], p[2] - origin[2]];
        const [x, y, z] = [dot(arm, u), dot(arm, v), dot(arm, axis)];
        add([2 * x, 2 * y, 1, z, z * z], x * x + y * y);
      }
    }
  });
  const centre = [0, 1, 2].map((k) => origin[k] + fit[0] * u[k] + fit[1] * v[k]);
  let outward = 0;
  for (let i = 0; i < triangles.length; i++) {
    const t = triangles[i];
    middleInto(p, graph, t);
    const arm = [0, 1, 2].map((k) => p[k] - centre[k]);
    const along = dot(arm, axis);
    for (let k = 0; k < 3; k++) outward += triangleAreas[t] * normals[3 * t + k] * (arm[k] - along * axis[k]);
  }
  return KINDS.map((kind) => {
    const shape = faceShapes(1);
    shape.kind[0] = FACE_KINDS.indexOf(kind);
    shape.inward[0] = outward < 0 ? 1 : 0;
    shape.axis.set(axis);
    shape.point.set(centre);
    return shape;
  });
}
