import type { TriangleBvh } from './triangle-bvh.ts';
import type { Vec3 } from './vec3.ts';

export interface RayHit {
  readonly distance: number;
  readonly triangle: number;
}

/**
 * First triangle that a ray meets from either side, further than `least` and nearer than `most` (Möller & Trumbore,
 * Journal of Graphics Tools 2 (1997) 21). For judging places, not for telling inside from outside: a ray that runs
 * along an edge may slip through.
 */
export function castRay(
  surface: {
    readonly vertices: ArrayLike<number>;
    readonly triangles: Uint32Array;
    readonly bvh: TriangleBvh;
  },
  origin: Vec3,
  direction: Vec3,
  least: number,
  most = Infinity,
): RayHit | undefined {
  const { vertices, triangles, bvh } = surface;
  const [ox, oy, oz] = origin;
  const [dx, dy, dz] = direction;
  const ix = 1 / dx;
  const iy = 1 / dy;
  const iz = 1 / dz;
  let best = most;
  let triangle = -1;
  const entry = (node: number): number => {
    const b = 6 * node;
    const x0 = (bvh.bounds[b] - ox) * ix;
    const x1 = (bvh.bounds[b + 3] - ox) * ix;
    const y0 = (bvh.bounds[b + 1] - oy) * iy;
    const y1 = (bvh.bounds[b + 4] - oy) * iy;
    const z0 = (bvh.bounds[b + 2] - oz) * iz;
    const z1 = (bvh.bounds[b + 5] - oz) * iz;
    let near = least;
    let far = best;
    // A comparison with NaN (the ray lies in a box's side) is false and keeps the bound.
    const shrink = (p: number, q: number): void => {
      const low = p < q ? p : q;
      const high = p < q ? q : p;
      if (low > near) near = low;
      if (high < far) far = high;
    };
    shrink(x0, x1);
    shrink(y0, y1);
    shrink(z0, z1);
    return near <= far ? near : Infinity;
  };
  const stack = [0];
  while (stack.length > 0) {
    const node = stack.pop()!;
    if (entry(node) === Infinity) continue;
    const count = bvh.count[node];
    if (count === 0) {
      const left = node + 1;
      const right = bvh.link[node];
      if (entry(left) <= entry(right)) stack.push(right, left);
      else stack.push(left, right);
      continue;
    }
    for (let i = bvh.link[node]; i < bvh.link[node] + count; i++) {
      const t = bvh.order[i];
      const a = 3 * triangles[3 * t];
      const b = 3 * triangles[3 * t + 1];
      const c = 3 * triangles[3 * t + 2];
      const ux = vertices[b] - vertices[a];
      const uy = vertices[b + 1] - vertices[a + 1];
      const uz = vertices[b + 2] - vertices[a + 2];
      const vx = vertices[c] - vertices[a];
      const vy = vertices[c + 1] - vertices[a + 1];
      const vz = vertices[c + 2] - vertices[a + 2];
      const px = dy * vz - dz * vy;
      const py = dz * vx - dx * vz;
      const pz = dx * vy - dy * vx;
      const det = ux * px + uy * py + uz * pz;
      if (det === 0) continue;
      const sx = ox - vertices[a];
      const sy = oy - vertices[a + 1];
      const sz = oz - vertices[a + 2];
      const u = (sx * px + sy * py + sz * pz) / det;
      if (!(u >= 0 && u <= 1)) continue;
      const qx = sy * uz - sz * uy;
      const qy = sz * ux - sx * uz;
      const qz = sx * uy - sy * ux;
      const v = (dx * qx + dy * qy + dz * qz) / det;
      if (!(v >= 0 && u + v <= 1)) continue;
      const distance = (vx * qx + vy * qy + vz * qz) / det;
      if (distance > least && distance < best) {
        best = distance;
        triangle = t;
      }
    }
  }
  return triangle < 0 ? undefined : { distance: best, triangle };
}
