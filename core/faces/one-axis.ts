import { dot, type Vec3 } from './fit-vectors.ts';

/** Square of the cosine between two axes that are one, and how far off the one a point of the other may be, as a share of a radius. */
const ONE_DIRECTION = 0.9998;
const OFF_AXIS = 0.01;

/** An axis: a direction of unit length, and a point on it. */
interface Axis {
  readonly axis: Vec3;
  readonly point: Vec3;
}

/** Whether two axes are one, for rings of such a radius about them. */
export function isOneAxis(one: Axis, two: Axis, radius: number): boolean {
  const cosine = dot(one.axis, two.axis);
  if (cosine * cosine < ONE_DIRECTION) return false;
  const arm = two.point.map((value, k) => value - one.point[k]);
  const along = dot(arm, one.axis);
  const off = Math.hypot(...arm.map((value, k) => value - along * one.axis[k]));
  return off < OFF_AXIS * radius;
}
