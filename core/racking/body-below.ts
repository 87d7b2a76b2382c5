import { distanceBody, type DistanceBody } from './body-distance.ts';
import { dot, unit, type Vec3 } from './vec3.ts';

/**
 * What of a body hangs below the level, for its distances in the liquid. Triangles that the level crosses are cut there; the
 * lid that would close it is left out, as no surface is there.
 * @param up out of the bath, in the body's own frame; any length
 * @param depthM from its lowest point up to the level
 */
export function bodyBelow({ vertices: v, triangles }: DistanceBody, up: Vec3, depthM: number): DistanceBody {
  if (!(depthM > 0 && depthM < Infinity)) throw new RangeError(`bodyBelow: depthM is ${depthM}`);
  const way = unit(up);
  const heights = new Float64Array(v.length / 3);
  let lowest = Infinity;
  for (let i = 0; i < heights.length; i++) {
    heights[i] = dot(way, [v[3 * i], v[3 * i + 1], v[3 * i + 2]]);
    lowest = Math.min(lowest, heights[i]);
  }
  const level = lowest + depthM;
  const kept: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const outline: number[][] = [];
    corners.forEach((a, k) => {
      const b = corners[(k + 1) % 3];
      const [over, next] = [heights[a] - level, heights[b] - level];
      const at = (vertex: number, n: number): number => v[3 * vertex + n];
      if (over <= 0) outline.push([at(a, 0), at(a, 1), at(a, 2)]);
      if (over < 0 !== next < 0 && over !== 0 && next !== 0) {
        const share = over / (over - next);
        outline.push([0, 1, 2].map((n) => at(a, n) + share * (at(b, n) - at(a, n))));
      }
    });
    for (let k = 1; k + 1 < outline.length; k++) kept.push(...outline[0], ...outline[k], ...outline[k + 1]);
  }
  return distanceBody(
    kept,
    Uint32Array.from({ length: kept.length / 3 }, (_, i) => i),
    1,
  );
}
