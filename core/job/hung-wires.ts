import { metresPerUnit } from '../mesh/part-extents.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { hangingSize, lowestOf, type HangingSize } from '../racking/hanging-size.ts';
import { rotate } from '../racking/pose.ts';
import type { Placement } from '../racking/tank.ts';
import { scale } from '../racking/vec3.ts';
import { withDepth } from './hung-depth.ts';
import type { ContactHanger } from './job-hanging.ts';
import type { Contact, Job, Part } from './job.ts';
import { hangingRotation, inTank, lowestHungM } from './tank-plan.ts';

/** What of one wire is above the liquid and in it, straight up from the contact to the bar. */
export type WireLengths = Pick<ContactHanger, 'dryLengthM' | 'wetLengthM'>;

/**
 * A part as it hangs. Its wires are as long as the tank makes them: from the highest work bar straight down to the contact,
 * where its copies hang (the deepest of them), else where the plan hangs it. As typed without a tank or a bar, without a
 * size, and where the user wants the typed lengths. A wire that is bent past the upright is longer by its `hookLengthM`.
 * A contact above the level of a part that hangs only partly in the bath has no wire in the bath, whatever is typed.
 * A depth that the part does not stand out of is left out.
 * @param size as it hangs, see hangingSize; undefined where there is no model
 */
export function hungPart(job: Job, part: Part, size: HangingSize | undefined): Part {
  if (!size) return part;
  const rotation = hangingRotation(part.attitude);
  /** Of a contact above the lowest point. */
  const overLowestM = ({ at }: Contact): number =>
    rotate(rotation, scale(at, metresPerUnit(part.unit)))[2] - lowestOf(size);
  const lengthsAt = wiresInTank(job, part, size, overLowestM);
  const { depthM } = size;
  const contacts = part.contacts.map((contact): Contact => {
    const { hanger } = contact;
    const byTank = hanger.lengthsFrom === 'typed' ? undefined : lengthsAt?.(contact);
    const made = byTank ? { ...hanger, ...byTank } : hanger;
    if (depthM !== undefined && overLowestM(contact) > depthM) {
      return { ...contact, hanger: { ...made, wetLengthM: 0, hookLengthM: 0 } };
    }
    return made === hanger ? contact : { ...contact, hanger: made };
  });
  const isDeeper = part.surface.immersedDepth !== null && depthM === undefined;
  if (!isDeeper && contacts.every((contact, i) => contact === part.contacts[i])) return part;
  return {
    ...part,
    contacts,
    ...(isDeeper ? { surface: { ...part.surface, immersedDepth: null } } : {}),
  };
}

/** Lengths by the tank; undefined without one or without a bar. */
function wiresInTank(
  job: Job,
  part: Part,
  size: HangingSize,
  overLowestM: (contact: Contact) => number,
): ((contact: Contact) => WireLengths) | undefined {
  if (!inTank(job)) return undefined;
  const { tank } = job.tank;
  const bars = tank.bars.filter(({ role }) => role === 'work').map(({ heightM }) => heightM);
  if (bars.length === 0) return undefined;
  const barM = Math.max(...bars);
  const copies = copiesAtLevel(job, { [part.id]: size }).filter(({ partId }) => partId === part.id);
  const planned = lowestHungM(job.tank, size);
  const heightOf = (contact: Contact): number => {
    if (copies.length === 0) return planned + overLowestM(contact);
    const point = scale(contact.at, metresPerUnit(part.unit));
    return Math.min(...copies.map(({ pose }) => rotate(pose.rotation, point)[2] + pose.offsetM[2]));
  };
  return (contact) => {
    const heightM = heightOf(contact);
    return {
      dryLengthM: Math.max(0, barM - Math.max(tank.levelM, heightM)),
      wetLengthM: Math.max(0, tank.levelM - heightM),
    };
  };
}

/**
 * A job's copies as they hang: those of a part that stands out of the liquid at the height at which the level comes where the
 * user said, however they were left; the others where they were put. The same array where none does.
 * @param sizes per part id
 */
export function copiesAtLevel(job: Job, sizes: Readonly<Record<string, HangingSize>>): readonly Placement[] {
  const { tank, placements } = job;
  if (!tank || placements.every(({ partId }) => sizes[partId]?.depthM === undefined)) return placements;
  return placements.map((placement): Placement => {
    const size = sizes[placement.partId];
    if (size?.depthM === undefined) return placement;
    // Copies are turned about the upright alone, so the lowest point is the same.
    const { rotation, offsetM } = placement.pose;
    const z = lowestHungM(tank, size) - lowestOf(size);
    return { ...placement, pose: { rotation, offsetM: [offsetM[0], offsetM[1], z] } };
  });
}

/** Box of a part as it hangs, at rest, and how deep. */
export function sizeAsHung(
  part: Pick<Part, 'unit' | 'attitude' | 'surface'>,
  { graph }: Pick<PartGeometry, 'graph'>,
): HangingSize {
  const rotation = hangingRotation(part.attitude);
  return withDepth(hangingSize(graph.indexed.vertices, metresPerUnit(part.unit), rotation, 0), part);
}

/** Boxes of a job's parts as they hang, at rest, by part id; parts without a model have none. */
export function sizesAsHung(
  parts: readonly Pick<Part, 'id' | 'unit' | 'attitude' | 'surface'>[],
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
  const sizes = sizesAsHung(
    job.parts.filter(
      ({ contacts, surface }) => (inTank(job) && contacts.length > 0) || surface.immersedDepth !== null,
    ),
    geometryOf,
  );
  return job.parts.map((part) => hungPart(job, part, sizes[part.id]));
}
