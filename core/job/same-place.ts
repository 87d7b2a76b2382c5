import { metresPerUnit } from '../mesh/part-extents.ts';
import type { Contact, Part } from './job.ts';

type Pin = Pick<Contact, 'at' | 'patchDiameterM'>;

/** Whether two pins of a part sit on one spot: each one's middle lies under the other's patch. */
export function samePlace({ unit }: Pick<Part, 'unit'>, one: Pin, other: Pin): boolean {
  const [x, y, z] = one.at.map((value, axis) => value - other.at[axis]!) as [number, number, number];
  const apartM = metresPerUnit(unit) * Math.hypot(x, y, z);
  return apartM <= Math.min(one.patchDiameterM, other.patchDiameterM) / 2;
}
