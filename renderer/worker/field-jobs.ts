import type { FieldScene } from '../../core/field/field-scene.ts';
import type { SceneField, ScenePreview } from '../../core/field/solve-scene.ts';

/** How far a solution is; beside the usual progress of a job. */
export interface FieldStep {
  readonly grid: 'coarse' | 'fine';
  readonly stage: 'cutting' | 'solving';
  readonly cells: number;
  readonly bytes: number;
  /** Imbalance over the current; 1 while cutting. */
  readonly relativeResidual: number;
  readonly iterations: number;
  /** Once, with the first step of the fine grid. */
  readonly preview?: ScenePreview;
}

/** Jobs on the current distribution, in a worker of their own: stopping one ends the worker and frees its memory. */
export interface FieldJobs {
  readonly solveField: {
    readonly input: { readonly name: string; readonly scene: FieldScene };
    readonly output: SceneField;
  };
}
