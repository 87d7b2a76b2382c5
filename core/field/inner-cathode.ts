import { add, dot, scale, type Vec3 } from '../racking/vec3.ts';
import { rotate, type Pose } from '../racking/pose.ts';
import type { PlacedBore } from './bore-places.ts';
import type { InnerCathode } from './field-scene.ts';

/** Of the hole's width: leaves room for liquid and gas all round. */
const DIAMETER_SHARE = 0.25;
const OUT_M = 0.02;
/** From the floor of a blind hole, in radii. */
const OFF_FLOOR = 1;

/** A rod along the axis of a hole of the mapped part: through it, or into it down to a radius above the floor. */
export function innerCathodeIn(bore: PlacedBore, metresPerUnit: number, pose: Pose): InnerCathode {
  const place = (p: Vec3): Vec3 => add(rotate(pose.rotation, scale(p, metresPerUnit)), pose.offsetM);
  const along = rotate(pose.rotation, bore.inward);
  const mouth = place(bore.mouth);
  const lengthM = bore.length * metresPerUnit;
  if (!(dot(along, along) > 0.99)) throw new RangeError('innerCathodeIn: inward is not a unit vector');
  const inM = bore.through ? lengthM + OUT_M : Math.max(0.1 * lengthM, lengthM - OFF_FLOOR * bore.radiusM);
  return {
    fromM: add(mouth, scale(along, -OUT_M)),
    toM: add(mouth, scale(along, inM)),
    diameterM: 2 * bore.radiusM * DIAMETER_SHARE,
  };
}
