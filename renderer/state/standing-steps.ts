import type { Part } from '../../core/job/job.ts';
import type { RepairStep } from '../../core/mesh/apply-repairs.ts';
import type { PartMesh } from './app-state.ts';

/**
 * What the accepted repairs did, as far as it is known: those of the part's mesh up to the first that is not in the
 * part's list any more at its place. The ones after it start from another mesh and are still being done.
 */
export function standingSteps(
  part: Part,
  { made, repairs }: Pick<PartMesh, 'made' | 'repairs'>,
): RepairStep[] {
  if (made.source !== part.source && made.source.kind === 'shape') return [];
  const wanted = part.surface.repairs;
  const before = made.surface.repairs;
  let stand = 0;
  while (stand < repairs.length && wanted[stand] !== undefined && wanted[stand] === before[stand]) stand += 1;
  return repairs.slice(0, stand);
}
