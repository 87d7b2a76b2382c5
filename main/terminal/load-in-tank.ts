import { hungParts, sizesAsHung } from '../../core/job/hung-wires.ts';
import type { Job } from '../../core/job/job.ts';
import { hangInstead, holds, placesOf } from '../../core/job/load-hanging.ts';
import { loadItems } from '../../core/job/load-items.ts';
import { hangPieces, inTank, planTank } from '../../core/job/tank-plan.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { isMeshed, type AnyPart } from './gather-parts.ts';

/** A job with one of its loads in the tank. */
export interface LoadInTank {
  readonly job: Job;
  /** Pieces of each load by part, in the job's order. */
  readonly loads: readonly { readonly pieces: readonly number[] }[];
  /** How it came to hang so. */
  readonly how: string;
}

/**
 * The job with a load in its tank: as it hangs, or last hung, else as the plan hangs it. Failures: those of planTank,
 * `option-invalid` for a load that there is not.
 * @param load from 1; undefined leaves what hangs as it is
 */
export function loadInTank(
  saved: Job,
  parts: readonly AnyPart[],
  load: number | undefined,
): Result<LoadInTank> {
  const job = { ...saved, parts: parts.map(({ part }) => part) };
  if (!inTank(job)) throw new RangeError('loadInTank: the job has no tank');
  const geometryOf = (id: string) => parts.filter(isMeshed).find(({ part }) => part.id === id)?.geometry;
  const measures = Object.fromEntries(parts.map(({ part, measure }) => [part.id, measure]));
  const sizes = sizesAsHung(job.parts, geometryOf);
  const plan = planTank(job, loadItems(hungParts(job, geometryOf), measures), sizes);
  if (!plan.ok) return load === undefined ? success({ job: saved, loads: [], how: '' }) : plan;
  const { loads, rooms, hanging } = plan.value;
  if (load === undefined) return success({ job: saved, loads, how: '' });
  const wanted = loads[load - 1];
  if (!wanted) {
    return failure(
      'option-invalid',
      `--load: the job has ${loads.length} ${loads.length === 1 ? 'load' : 'loads'}, and ${load} is none of them.`,
      'Count its loads from 1, as plan lists them.',
    );
  }
  const places = placesOf(job, wanted.pieces);
  const how = !places
    ? 'hung as the plan hangs it, evenly spaced'
    : holds(job, job.placements, wanted.pieces)
      ? 'as it hangs in the job'
      : 'as it last hung in the job';
  const placements = places ?? hangPieces(job, rooms, sizes, hanging.loads[load - 1]!.pieces);
  return success({ job: hangInstead(saved, placements, loads), loads, how: `load ${load}, ${how}` });
}
