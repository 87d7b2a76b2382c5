import type { Point3 } from './viewport-props.ts';

/** Unit normal of one triangle of loose triangles (9 floats each); [0, 0, 0] where it has no area. */
export function triangleNormal(positions: Float32Array, triangle: number): Point3 {
  if (!(triangle >= 0 && triangle * 9 + 9 <= positions.length)) {
    throw new RangeError(`triangle: ${triangle} of ${positions.length / 9}`);
  }
  const p = positions.subarray(triangle * 9, triangle * 9 + 9);
  const ux = p[3]! - p[0]!;
  const uy = p[4]! - p[1]!;
  const uz = p[5]! - p[2]!;
  const vx = p[6]! - p[0]!;
  const vy = p[7]! - p[1]!;
  const vz = p[8]! - p[2]!;
  const x = uy * vz - uz * vy;
  const y = uz * vx - ux * vz;
  const z = ux * vy - uy * vx;
  const length = Math.hypot(x, y, z);
  return length > 0 ? [x / length, y / length, z / length] : [0, 0, 0];
}
