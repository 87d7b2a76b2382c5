import type { LoadPlan } from '../shop/run-record.ts';
import { removePart, setQuantity } from './edit-job.ts';
import type { Job } from './job.ts';
import { placesOf } from './load-hanging.ts';

/**
 * The job with the pieces of one load and no others, hung in the tank as that load hangs or last hung; where it never did, nothing
 * hangs. The same job where that is all it has; null where the run does not say which pieces it had, or names parts that the job
 * has not.
 */
export function loadAlone(job: Job, counts: LoadPlan['counts']): Job | null {
  const countOf = new Map(counts.map(({ partId, count }) => [partId, count]));
  if (countOf.size === 0 || counts.some(({ partId }) => job.parts.every(({ id }) => id !== partId)))
    return null;
  if (job.parts.every(({ id, quantity }) => countOf.get(id) === quantity)) return job;
  const places = placesOf(
    job,
    job.parts.map(({ id }) => countOf.get(id) ?? 0),
  );
  const alone = job.parts.reduce((now, { id }) => {
    const count = countOf.get(id);
    return count === undefined ? removePart(now, id) : setQuantity(now, id, count);
  }, job);
  return { ...alone, placements: places ?? [], otherLoads: [] };
}
