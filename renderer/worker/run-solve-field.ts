import { solveScene } from '../../core/field/solve-scene.ts';
import type { JobRunners } from './jobs.ts';

/** A current distribution; the coarse map goes out once, with the first step of the fine grid. */
export const runSolveField: JobRunners['solveField'] = async ({ scene }, report) => {
  let shown = false;
  return solveScene(scene, ({ preview, share, grid, stage, ...rest }) => {
    const show = preview !== undefined && !shown;
    if (show) shown = true;
    report({
      phase: `${grid} grid, ${stage === 'cutting' ? 'fitting it to the part' : 'solving'}`,
      fraction: share,
      field: { grid, stage, ...rest, ...(show ? { preview } : {}) },
    });
  });
};
