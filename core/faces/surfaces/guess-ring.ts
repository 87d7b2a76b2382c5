import { faceShapes, type FaceShapes } from '../face-shapes.ts';
import { FACE_KINDS } from '../face-table.ts';
import { dot } from '../fit-vectors.ts';
import { leastSquares } from '../least-squares.ts';
import type { SurfaceGraph } from '../surface-graph.ts';
import type { SurfaceRow } from './known-surface.ts';
import { cornerInto, middleInto } from './corner-points.ts';

/**
 * The torus about an axis known of a face beside, of which some triangles may be drawn: in a plane through the axis their corners lie on a circle. Whether
 * they do is for others to say.
 *
 * @returns one row, without a size; undefined where the corners lie on no circle
 */
export function guessRing(
  graph: SurfaceGraph,
  triangles: ArrayLike<number>,
  { axis, point }: Pick<SurfaceRow, 'axis' | 'point'>,
): FaceShapes | undefined {
  const p = new Float64Array(3);
  const placed = (): { readonly arm: number[]; readonly along: number; readonly across: number } => {
    const arm = [p[0] - point[0], p[1] - point[1], p[2] - point[2]];
    const along = dot(arm, axis);
    return { arm, along, across: Math.sqrt(Math.max(0, dot(arm, arm) - along * along)) };
  };
  // (r − a)² + (z − b)² = c², of which r² + z² is a sum with three unknowns.
  const [ring, height] = leastSquares(3, (add) => {
    for (let i = 0; i < triangles.length; i++) {
      for (let h = 3 * triangles[i]; h < 3 * triangles[i] + 3; h++) {
        cornerInto(p, graph, h);
        const { along, across } = placed();
        add([2 * across, 2 * along, 1], across * across + along * along);
      }
    }
  });
  if (!(ring > 0)) return undefined;
  let outward = 0;
  for (let i = 0; i < triangles.length; i++) {
    const t = triangles[i];
    middleInto(p, graph, t);
    const { arm, along, across } = placed();
    if (!(across > 0)) continue;
    for (let k = 0; k < 3; k++) {
      const away = ((across - ring) * (arm[k] - along * axis[k])) / across + (along - height) * axis[k];
      outward += graph.triangleAreas[t] * graph.normals[3 * t + k] * away;
    }
  }
  const shape = faceShapes(1);
  shape.kind[0] = FACE_KINDS.indexOf('torus');
  shape.inward[0] = outward < 0 ? 1 : 0;
  shape.axis.set(axis);
  for (let k = 0; k < 3; k++) shape.point[k] = point[k] + height * axis[k];
  return shape;
}
