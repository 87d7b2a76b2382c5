/**
 * True unless a plane keeps the two triangles more than `slack` apart: separating axes along both normals, all
 * products of two sides, and each side turned in its own plane, which decides where the triangles are coplanar
 * (Ericson, Real-Time Collision Detection, 5.2.10).
 *
 * @param positions 9 floats a triangle
 */
export function trianglesTouch(positions: Float32Array, a: number, b: number, slack: number): boolean {
  const p = corners(positions, a);
  const q = corners(positions, b);
  const sidesP = sides(p);
  const sidesQ = sides(q);
  const normalP = cross(sidesP[0], sidesP[1]);
  const normalQ = cross(sidesQ[0], sidesQ[1]);
  const apart = (axis: Vec3): boolean => {
    const length = Math.hypot(axis[0], axis[1], axis[2]);
    if (length === 0) return false;
    const [lowP, highP] = shadow(p, axis);
    const [lowQ, highQ] = shadow(q, axis);
    return Math.max(lowP - highQ, lowQ - highP) > slack * length;
  };
  if (apart(normalP) || apart(normalQ)) return false;
  for (const s of sidesP) if (apart(cross(normalP, s))) return false;
  for (const s of sidesQ) if (apart(cross(normalQ, s))) return false;
  for (const s of sidesP) {
    for (const r of sidesQ) if (apart(cross(s, r))) return false;
  }
  return true;
}

type Vec3 = readonly [number, number, number];

function corners(positions: Float32Array, t: number): readonly Vec3[] {
  return [0, 3, 6].map((k) => {
    const i = 9 * t + k;
    return [positions[i], positions[i + 1], positions[i + 2]] as const;
  });
}

function sides(p: readonly Vec3[]): readonly Vec3[] {
  return [0, 1, 2].map((k) => {
    const [from, to] = [p[k], p[(k + 1) % 3]];
    return [to[0] - from[0], to[1] - from[1], to[2] - from[2]] as const;
  });
}

function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function shadow(p: readonly Vec3[], axis: Vec3): readonly [number, number] {
  const d = p.map((v) => v[0] * axis[0] + v[1] * axis[1] + v[2] * axis[2]);
  return [Math.min(...d), Math.max(...d)];
}
