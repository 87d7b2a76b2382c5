import { metresPerUnit } from '../mesh/part-extents.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { hangingSize, type HangingSize } from '../racking/hanging-size.ts';
import { rotate } from '../racking/pose.ts';
import { scale } from '../racking/vec3.ts';
import type { ContactHanger } from './job-hanging.ts';
import type { Contact, Job, Part } from './job.ts';
import { hangingRotation, hangingTopM, inTank } from './tank-plan.ts';

/** What of one wire is above the liquid and in it, straight up from the contact to the bar. */
export type WireLengths = Pick<ContactHanger, 'dryLengthM' | 'wetLengthM'>;

/**
 * A part with its wires as long as the tank makes them: from the highest work bar straight down to the contact, where
 * its copies hang (the deepest of them), else where the plan hangs it. As typed without a tank or a bar, without a size,
 * and where the user wants the typed lengths. A wire that is bent past the upright is longer by its `hookLengthM`.
 * @param size as it hangs, see hangingSize; undefined where there is no model
 */
export function hungPart(job: Job, part: Part, size: HangingSize | undefined): Part {
  if (!inTank(job) || !size || part.contacts.every(({ hanger }) => hanger.lengthsFrom === 'typed'))
    return part;
  const { tank } = job.tank;
  const bars = tank.bars.filter(({ role }) => role === 'work').map(({ heightM }) => heightM);
  if (bars.length === 0) return part;
  const barM = Math.max(...bars);
  const copies = job.placements.filter(({ partId }) => partId === part.id);
  const offsetM = hangingTopM(job.tank) - (size.middleM[2] + size.heightM / 2);
  const poses =
    copies.length > 0
      ? copies.map(({ pose }) => ({ rotation: pose.rotation, upM: pose.offsetM[2] }))
      : [{ rotation: hangingRotation(part.attitude), upM: offsetM }];
  const lengthsAt = ({ at }: Contact): WireLengths => {
    const point = scale(at, metresPerUnit(part.unit));
    const heightM = Math.min(...poses.map(({ rotation, upM }) => rotate(rotation, point)[2] + upM));
    return {
      dryLengthM: Math.max(0, barM - Math.max(tank.levelM, heightM)),
      wetLengthM: Math.max(0, tank.levelM - heightM),
    };
  };
  return {
    ...part,
    contacts: part.contacts.map((contact) =>
      contact.hanger.lengthsFrom === 'typed'
        ? contact
        : { ...contact, hanger: { ...contact.hanger, ...lengthsAt(contact) } },
    ),
  };
}

/** Box of a part as it hangs, at rest. */
export function sizeAsHung(
  { unit, attitude }: Pick<Part, 'unit' | 'attitude'>,
  { graph }: Pick<PartGeometry, 'graph'>,
): HangingSize {
  return hangingSize(graph.indexed.vertices, metresPerUnit(unit), hangingRotation(attitude), 0);
}

/** Boxes of a job's parts as they hang, at rest, by part id; parts without a model have none. */
export function sizesAsHung(
  parts: readonly Pick<Part, 'id' | 'unit' | 'attitude'>[],
  geometryOf: (partId: string) => PartGeometry | undefined,
): Record<string, HangingSize> {
  const sizes: Record<string, HangingSize> = {};
  for (const part of parts) {
    const geometry = geometryOf(part.id);
    if (geometry && geometry.triangleCount > 0) sizes[part.id] = sizeAsHung(part, geometry);
  }
  return sizes;
}

/** All parts of a job so, by their models. */
export function hungParts(
  job: Job,
  geometryOf: (partId: string) => PartGeometry | undefined,
): readonly Part[] {
  if (!inTank(job)) return job.parts;
  const sizes = sizesAsHung(
    job.parts.filter(({ contacts }) => contacts.length > 0),
    geometryOf,
  );
  return job.parts.map((part) => hungPart(job, part, sizes[part.id]));
}
