import { changedTriangles } from '../../core/mesh/changed-triangles.ts';
import { success } from '../../core/result.ts';
import type { JobRunners } from './jobs.ts';
import { makePart } from './make-part.ts';

/** What a repair or fusing would make of the part, and which triangles that concerns. */
export const runTryRepair: JobRunners['tryRepair'] = async ({ source, wishes, shown }, report) => {
  const made = await makePart(source, wishes, report);
  if (!made.ok) return made;
  report({ phase: 'comparing', fraction: null });
  return success({ made: made.value, changed: changedTriangles(shown, made.value.geometry.positions) });
};
