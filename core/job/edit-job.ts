import type { Bath } from './job-bath.ts';
import type { Contact, Job, ModelUnit, Part, Process } from './job.ts';

/** Changes to a job: each takes a job and gives a new one, leaving the old as it was. Unknown ids are a caller's bug. */

export function partById(job: Job, partId: string): Part {
  const part = job.parts.find((candidate) => candidate.id === partId);
  if (!part) throw new RangeError(`partById: no part "${partId}"`);
  return part;
}

export function changePart(job: Job, partId: string, change: (part: Part) => Part): Job {
  partById(job, partId);
  return { ...job, parts: job.parts.map((part) => (part.id === partId ? change(part) : part)) };
}

export function addPart(job: Job, part: Part): Job {
  return { ...job, parts: [...job.parts, part] };
}

export function removePart(job: Job, partId: string): Job {
  partById(job, partId);
  return {
    ...job,
    parts: job.parts.filter((part) => part.id !== partId),
    ...placesWithout(job, partId),
  };
}

/** What hangs without this part's copies; a load that is kept with one of them is a load no more. */
export function placesWithout(
  { placements, otherLoads }: Pick<Job, 'placements' | 'otherLoads'>,
  partId: string,
): Pick<Job, 'placements' | 'otherLoads'> {
  return {
    placements: placements.filter((placement) => placement.partId !== partId),
    otherLoads: otherLoads.filter((load) => load.every((placement) => placement.partId !== partId)),
  };
}

export function renameJob(job: Job, name: string): Job {
  return { ...job, name };
}

export function noteOnJob(job: Job, note: string): Job {
  return { ...job, note };
}

export function renamePart(job: Job, partId: string, name: string): Job {
  return changePart(job, partId, (part) => ({ ...part, name }));
}

export function setQuantity(job: Job, partId: string, quantity: number): Job {
  return changePart(job, partId, (part) => ({ ...part, quantity }));
}

export function confirmUnit(job: Job, partId: string, unit: ModelUnit): Job {
  return changePart(job, partId, (part) => ({ ...part, unit, unitConfirmed: true }));
}

export function setSplitAngle(job: Job, partId: string, splitAngleRad: number): Job {
  return changePart(job, partId, (part) => ({ ...part, splitAngleRad }));
}

export function setCoverage(job: Job, partId: string, coverage: Part['coverage']): Job {
  return changePart(job, partId, (part) => ({ ...part, coverage }));
}

export function putContact(job: Job, partId: string, contact: Contact): Job {
  return changePart(job, partId, (part) => ({
    ...part,
    contacts: part.contacts.some((pin) => pin.id === contact.id)
      ? part.contacts.map((pin) => (pin.id === contact.id ? contact : pin))
      : [...part.contacts, contact],
  }));
}

export function removeContact(job: Job, partId: string, contactId: string): Job {
  return changePart(job, partId, (part) => ({
    ...part,
    contacts: part.contacts.filter((pin) => pin.id !== contactId),
  }));
}

export function changeProcess(job: Job, change: Partial<Process>): Job {
  return { ...job, process: { ...job.process, ...change } };
}

export function changeBath(job: Job, change: Partial<Bath>): Job {
  return { ...job, bath: { ...job.bath, ...change } };
}
