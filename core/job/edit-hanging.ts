import type { Placement } from '../racking/tank.ts';
import { partById, placesWithout, putContact } from './edit-job.ts';
import type { Attitude, ContactHanger, HangingRules } from './job-hanging.ts';
import type { JobTank } from './job-tank.ts';
import type { Job } from './job.ts';

/** Changes to how parts hang, and in what. Like edit-job.ts, none changes its argument. */

export function setAttitude(job: Job, partId: string, attitude: Attitude): Job {
  partById(job, partId);
  return {
    ...job,
    parts: job.parts.map((part) => (part.id === partId ? { ...part, attitude } : part)),
    // Copies that hang the old way round would lie about clearances.
    ...placesWithout(job, partId),
  };
}

export function setHanger(job: Job, partId: string, contactId: string, hanger: ContactHanger): Job {
  const contact = partById(job, partId).contacts.find(({ id }) => id === contactId);
  if (!contact) throw new RangeError(`setHanger: no contact "${contactId}" on part "${partId}"`);
  return putContact(job, partId, { ...contact, hanger });
}

/** The same hanger at every contact of a part. */
export function setHangers(job: Job, partId: string, change: Partial<ContactHanger>): Job {
  return partById(job, partId).contacts.reduce(
    (next, contact) => setHanger(next, partId, contact.id, { ...contact.hanger, ...change }),
    job,
  );
}

export function changeHangingRules(job: Job, change: Partial<HangingRules>): Job {
  return { ...job, hanging: { ...job.hanging, ...change } };
}

/** Another tank: what hung in the one before is taken out. */
export function chooseTank(job: Job, tank: JobTank | null): Job {
  return { ...job, tank, placements: [], otherLoads: [] };
}

/** The same tank, changed; what hangs in it stays. */
export function changeTank(job: Job, tank: JobTank): Job {
  return { ...job, tank };
}

export function setPlacements(job: Job, placements: readonly Placement[]): Job {
  return { ...job, placements: placements.map(plain) };
}

/** Replaces the placement of the same id. */
export function putPlacement(job: Job, placement: Placement): Job {
  if (!job.placements.some(({ id }) => id === placement.id)) {
    throw new RangeError(`putPlacement: no placement "${placement.id}"`);
  }
  return {
    ...job,
    placements: job.placements.map((other) => (other.id === placement.id ? plain(placement) : other)),
  };
}

export function removePlacement(job: Job, placementId: string): Job {
  return { ...job, placements: job.placements.filter(({ id }) => id !== placementId) };
}

const plain = ({ id, partId, pose }: Placement): Job['placements'][number] => ({
  id,
  partId,
  pose: { rotation: [...pose.rotation], offsetM: [...pose.offsetM] },
});
