import { partById } from './edit-job.ts';
import type { FieldChoice } from './job-field.ts';
import type { Job } from './job.ts';

/** Changes to what is asked of the thickness. Like edit-job.ts, none changes its argument. */

export function changeField(job: Job, change: Partial<FieldChoice>): Job {
  return { ...job, field: { ...job.field, ...change } };
}

/** @param runs triangles of the part's file as flat pairs, see faces/triangle-runs.ts; empty for everything coated */
export function setLeastFaces(job: Job, partId: string, runs: readonly number[]): Job {
  partById(job, partId);
  return {
    ...job,
    parts: job.parts.map((part) => (part.id === partId ? { ...part, leastFaces: [...runs] } : part)),
  };
}
