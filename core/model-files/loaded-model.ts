import type { ModelUnit } from '../job/job.ts';
import type { CadFaces } from '../faces/cad-faces.ts';
import type { Body } from '../mesh/mesh.ts';

export type ModelFormat = 'stl-binary' | 'stl-ascii' | 'obj' | 'ply-ascii' | 'ply-binary' | '3mf' | 'step';

/** Share of the loading done, 0 to 1, and a word for what goes on where the format has phases of its own. */
export type ReportLoading = (fraction: number, phase?: string) => void;

/** Something the file did that did not stop it from being read, but that its owner should know. */
export interface ModelNote {
  readonly code: string;
  readonly level: 'note' | 'check';
  readonly message: string;
  readonly remedy: string;
}

/** A model as read, lengths in the file's own unit, whatever that is (STEP and 3MF: in `declaredUnit`). */
export interface LoadedModel {
  readonly format: ModelFormat;
  /** 9 floats a triangle, corners counter-clockwise seen from outside where the file is sound. */
  readonly positions: Float32Array<ArrayBuffer>;
  /** At least one; together they cover every triangle, in order. */
  readonly bodies: readonly Body[];
  /** The unit of `positions` as the file gives it: stated by its format, or a hint from its comments. */
  readonly declaredUnit?: ModelUnit;
  /** The format itself states the unit (STEP, 3MF): there is nothing to guess and nothing to confirm. */
  readonly unitIsDeclared?: true;
  /** STEP: the unit that the file states; its lengths were converted from it to `declaredUnit`. Absent where it mixes units. */
  readonly drawnIn?: ModelUnit;
  /** STEP: the faces as they were drawn, with exact areas. For analysePart's option of the same name. */
  readonly cad?: CadFaces;
  readonly notes: readonly ModelNote[];
}

/** Above this the planner's arrays no longer fit in memory everywhere. */
export const MAX_TRIANGLES = 5_000_000;
