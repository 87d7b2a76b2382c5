/**
 * Smallest distance between two triangles, exact to rounding: they cross when an edge of one pierces the other, and
 * else the distance is taken between two edges or between a corner and a face (Ericson, Real-Time Collision
 * Detection, 2005, 5.1.5, 5.1.9 and 5.1.10; Larsen, Gottschalk, Lin, Manocha 1999 for the case list).
 * @param p nine coordinates each
 * @param nearest receives six numbers: the point on `p`, the point on `q`
 * @returns the square of the distance, 0 when they touch or cross
 */
export function triangleDistanceSquaredInto(
  p: ArrayLike<number>,
  q: ArrayLike<number>,
  nearest: Float64Array,
): number {
  let best = Infinity;
  const point = new Float64Array(6);
  const keep = (squared: number, turned: boolean): void => {
    if (squared >= best) return;
    best = squared;
    for (let k = 0; k < 3; k++) {
      nearest[k] = point[turned ? k + 3 : k];
      nearest[k + 3] = point[turned ? k : k + 3];
    }
  };
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++)
      keep(edgeToEdge(p, 3 * i, 3 * ((i + 1) % 3), q, 3 * j, 3 * ((j + 1) % 3), point), false);
  }
  for (let i = 0; i < 3; i++) keep(cornerToFace(p, 3 * i, q, point), false);
  for (let i = 0; i < 3; i++) keep(cornerToFace(q, 3 * i, p, point), true);
  if (best === 0) return 0;
  for (let i = 0; i < 3; i++) {
    if (pierces(p, 3 * i, 3 * ((i + 1) % 3), q, point) || pierces(q, 3 * i, 3 * ((i + 1) % 3), p, point)) {
      nearest.set(point);
      return 0;
    }
  }
  return best;
}

function edgeToEdge(
  p: ArrayLike<number>,
  p0: number,
  p1: number,
  q: ArrayLike<number>,
  q0: number,
  q1: number,
  point: Float64Array,
): number {
  const ux = p[p1] - p[p0];
  const uy = p[p1 + 1] - p[p0 + 1];
  const uz = p[p1 + 2] - p[p0 + 2];
  const vx = q[q1] - q[q0];
  const vy = q[q1 + 1] - q[q0 + 1];
  const vz = q[q1 + 2] - q[q0 + 2];
  const wx = p[p0] - q[q0];
  const wy = p[p0 + 1] - q[q0 + 1];
  const wz = p[p0 + 2] - q[q0 + 2];
  const uu = ux * ux + uy * uy + uz * uz;
  const vv = vx * vx + vy * vy + vz * vz;
  const uv = ux * vx + uy * vy + uz * vz;
  const uw = ux * wx + uy * wy + uz * wz;
  const vw = vx * wx + vy * wy + vz * wz;
  const clamp = (x: number): number => Math.min(1, Math.max(0, x));
  let s = 0;
  let t = 0;
  if (uu === 0 && vv === 0) s = 0;
  else if (uu === 0) t = clamp(vw / vv);
  else if (vv === 0) s = clamp(-uw / uu);
  else {
    const spread = uu * vv - uv * uv;
    s = spread > 1e-14 * uu * vv ? clamp((uv * vw - uw * vv) / spread) : 0;
    t = (uv * s + vw) / vv;
    if (t < 0) {
      t = 0;
      s = clamp(-uw / uu);
    } else if (t > 1) {
      t = 1;
      s = clamp((uv - uw) / uu);
    }
  }
  point[0] = p[p0] + s * ux;
  point[1] = p[p0 + 1] + s * uy;
  point[2] = p[p0 + 2] + s * uz;
  point[3] = q[q0] + t * vx;
  point[4] = q[q0 + 1] + t * vy;
  point[5] = q[q0 + 2] + t * vz;
  return (point[0] - point[3]) ** 2 + (point[1] - point[4]) ** 2 + (point[2] - point[5]) ** 2;
}

/** Only where the corner's foot is inside the face; else an edge is nearer and edgeToEdge has it. */
function cornerToFace(
  p: ArrayLike<number>,
  corner: number,
  q: ArrayLike<number>,
  point: Float64Array,
): number {
  const ux = q[3] - q[0];
  const uy = q[4] - q[1];
  const uz = q[5] - q[2];
  const vx = q[6] - q[0];
  const vy = q[7] - q[1];
  const vz = q[8] - q[2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const nn = nx * nx + ny * ny + nz * nz;
  if (nn === 0) return Infinity;
  const wx = p[corner] - q[0];
  const wy = p[corner + 1] - q[1];
  const wz = p[corner + 2] - q[2];
  // Barycentric: (u × w)·n for the third corner, (w × v)·n for the second.
  const third = (uy * wz - uz * wy) * nx + (uz * wx - ux * wz) * ny + (ux * wy - uy * wx) * nz;
  const second = (wy * vz - wz * vy) * nx + (wz * vx - wx * vz) * ny + (wx * vy - wy * vx) * nz;
  if (third < 0 || second < 0 || third + second > nn) return Infinity;
  const height = (wx * nx + wy * ny + wz * nz) / nn;
  point[0] = p[corner];
  point[1] = p[corner + 1];
  point[2] = p[corner + 2];
  point[3] = p[corner] - height * nx;
  point[4] = p[corner + 1] - height * ny;
  point[5] = p[corner + 2] - height * nz;
  return height * height * nn;
}

function pierces(
  p: ArrayLike<number>,
  p0: number,
  p1: number,
  q: ArrayLike<number>,
  point: Float64Array,
): boolean {
  const ux = q[3] - q[0];
  const uy = q[4] - q[1];
  const uz = q[5] - q[2];
  const vx = q[6] - q[0];
  const vy = q[7] - q[1];
  const vz = q[8] - q[2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const from = (p[p0] - q[0]) * nx + (p[p0 + 1] - q[1]) * ny + (p[p0 + 2] - q[2]) * nz;
  const to = (p[p1] - q[0]) * nx + (p[p1 + 1] - q[1]) * ny + (p[p1 + 2] - q[2]) * nz;
  if (from * to > 0 || from === to) return false;
  const s = from / (from - to);
  const mx = p[p0] + s * (p[p1] - p[p0]);
  const my = p[p0 + 1] + s * (p[p1 + 1] - p[p0 + 1]);
  const mz = p[p0 + 2] + s * (p[p1 + 2] - p[p0 + 2]);
  const wx = mx - q[0];
  const wy = my - q[1];
  const wz = mz - q[2];
  const nn = nx * nx + ny * ny + nz * nz;
  const third = (uy * wz - uz * wy) * nx + (uz * wx - ux * wz) * ny + (ux * wy - uy * wx) * nz;
  const second = (wy * vz - wz * vy) * nx + (wz * vx - wx * vz) * ny + (wx * vy - wy * vx) * nz;
  if (third < 0 || second < 0 || third + second > nn) return false;
  point.set([mx, my, mz, mx, my, mz]);
  return true;
}
