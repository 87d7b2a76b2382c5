import type { MixChoice } from './job-bath.ts';
import type { Finish, PartStrips } from './job-finish.ts';
import type { PartFit } from './job-fits.ts';
import { partById } from './edit-job.ts';
import type { Job, Part } from './job.ts';

/** Changes to what is wet in a job: bath mixing, fits, preparation, dye, seal. Like edit-job.ts, none changes its argument. */

export function changeMix(job: Job, change: Partial<MixChoice>): Job {
  return { ...job, bath: { ...job.bath, mix: { ...job.bath.mix, ...change } } };
}

export function changeFinish(job: Job, change: Partial<Finish>): Job {
  return { ...job, finish: { ...job.finish, ...change } };
}

/** Changes one part of the finish, such as its dye, and leaves the rest of it. */
export function changeFinishSection<K extends 'etch' | 'dye' | 'seal' | 'strip'>(
  job: Job,
  section: K,
  change: Partial<Finish[K]>,
): Job {
  return changeFinish(job, { [section]: { ...job.finish[section], ...change } } as Partial<Finish>);
}

function withPart(job: Job, partId: string, change: (part: Part) => Part): Job {
  partById(job, partId);
  return { ...job, parts: job.parts.map((part) => (part.id === partId ? change(part) : part)) };
}

export function setAlloy(job: Job, partId: string, alloy: string | null): Job {
  return withPart(job, partId, (part) => ({ ...part, alloy }));
}

export function setFiller(job: Job, partId: string, filler: string | null): Job {
  return withPart(job, partId, (part) => ({ ...part, filler }));
}

/** Changes what is said of a part’s strips. */
export function changeStrips(job: Job, partId: string, change: Partial<PartStrips>): Job {
  return withPart(job, partId, (part) => ({ ...part, strips: { ...part.strips, ...change } }));
}

/** Adds a fit, or replaces the one with its id. */
export function putFit(job: Job, partId: string, fit: PartFit): Job {
  return withPart(job, partId, (part) => ({
    ...part,
    fits: part.fits.some(({ id }) => id === fit.id)
      ? part.fits.map((other) => (other.id === fit.id ? fit : other))
      : [...part.fits, fit],
  }));
}

export function removeFit(job: Job, partId: string, fitId: string): Job {
  return withPart(job, partId, (part) => ({ ...part, fits: part.fits.filter(({ id }) => id !== fitId) }));
}
