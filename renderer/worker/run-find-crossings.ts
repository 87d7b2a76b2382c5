import { crossingFinding } from '../../core/mesh/offer-repairs.ts';
import { success } from '../../core/result.ts';
import type { JobRunners } from './jobs.ts';

/** Where the surface runs through itself; for meshes too large to be looked through without being asked. */
export const runFindCrossings: JobRunners['findCrossings'] = async ({ geometry }, report) => {
  report({ phase: 'looking for crossings', fraction: null });
  return success(crossingFinding(geometry) ?? null);
};
