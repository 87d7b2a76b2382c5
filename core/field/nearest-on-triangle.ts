/**
 * The point of a triangle (9 numbers from `first`) nearest to `at`: by the region of the plane its foot falls in, corner, side or
 * inside (Ericson, Real-Time Collision Detection, 2005, section 5.1.5).
 */
export function nearestOnTriangle(
  triangles: Float64Array,
  first: number,
  at: readonly number[],
): [number, number, number] {
  const [ax, ay, az] = [triangles[first], triangles[first + 1], triangles[first + 2]];
  const [ux, uy, uz] = [triangles[first + 3] - ax, triangles[first + 4] - ay, triangles[first + 5] - az];
  const [vx, vy, vz] = [triangles[first + 6] - ax, triangles[first + 7] - ay, triangles[first + 8] - az];
  const [px, py, pz] = [at[0] - ax, at[1] - ay, at[2] - az];
  const put = (s: number, t: number): [number, number, number] => [
    ax + s * ux + t * vx,
    ay + s * uy + t * vy,
    az + s * uz + t * vz,
  ];
  const d1 = ux * px + uy * py + uz * pz;
  const d2 = vx * px + vy * py + vz * pz;
  if (d1 <= 0 && d2 <= 0) return put(0, 0);
  const uu = ux * ux + uy * uy + uz * uz;
  const vv = vx * vx + vy * vy + vz * vz;
  const uv = ux * vx + uy * vy + uz * vz;
  const d3 = d1 - uu;
  const d4 = d2 - uv;
  if (d3 >= 0 && d4 <= d3) return put(1, 0);
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return put(d1 / (d1 - d3), 0);
  const d5 = d1 - uv;
  const d6 = d2 - vv;
  if (d6 >= 0 && d5 <= d6) return put(0, 1);
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return put(0, d2 / (d2 - d6));
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    const t = (d4 - d3) / (d4 - d3 + (d5 - d6));
    return put(1 - t, t);
  }
  const sum = va + vb + vc;
  return put(vb / sum, vc / sum);
}
