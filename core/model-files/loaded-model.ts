import type { ModelUnit } from '../job/job.ts';
import type { Body } from '../mesh/mesh.ts';

export type ModelFormat = 'stl-binary' | 'stl-ascii' | 'obj';

/** Something the file did that did not stop it from being read, but that its owner should know. */
export interface ModelNote {
  readonly code: string;
  readonly level: 'note' | 'check';
  readonly message: string;
  readonly remedy: string;
}

/** A model as read, lengths in the file's own unit, whatever that is. */
export interface LoadedModel {
  readonly format: ModelFormat;
  /** 9 floats a triangle, corners counter-clockwise seen from outside where the file is sound. */
  readonly positions: Float32Array<ArrayBuffer>;
  /** At least one; together they cover every triangle, in order. */
  readonly bodies: readonly Body[];
  /** A unit written into the file's comments. A hint only: neither format has a place for one. */
  readonly declaredUnit?: ModelUnit;
  readonly notes: readonly ModelNote[];
}

/** Above this the planner's arrays no longer fit in memory everywhere. */
export const MAX_TRIANGLES = 5_000_000;
