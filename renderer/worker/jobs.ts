import type { FaceEdges } from '../../core/faces/face-edges.ts';
import type { FaceTable } from '../../core/faces/face-table.ts';
import type { FileContent } from '../../core/bridge/bridge.ts';
import type { Shape } from '../../core/job/job-shape.ts';
import type { PartSurface } from '../../core/job/job-surface.ts';
import type { MeshWishes, PreparedPart, SourceSurface } from '../../core/job/prepare-part.ts';
import type { ChangedTriangles } from '../../core/mesh/changed-triangles.ts';
import type { Finding, PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { ModelFormat, ModelNote } from '../../core/model-files/loaded-model.ts';
import type { ModelUnit } from '../../core/job/job.ts';
import type { Result } from '../../core/result.ts';
import type { FieldJobs, FieldStep } from './field-jobs.ts';
import type { HangingJobs } from './hanging-jobs.ts';

/**
 * The tree over a part's triangles that answers what lies under the pointer, as three-mesh-bvh serialises it. It
 * refers to the positions it was built from and is useless with others.
 */
export interface SerializedPickIndex {
  readonly roots: ArrayBuffer[];
  /** Triangle numbers in the order of the tree; the part's own order stays as it is. */
  readonly indirectBuffer: Uint32Array | Uint16Array;
  readonly index: null;
  readonly version: number;
}

/** One measured part. */
export interface MadePart extends PreparedPart {
  readonly edges: FaceEdges;
  /** What it was made from, where repairs or fusing made another mesh of it; null: the geometry's own triangles. */
  readonly source: SourceSurface | null;
}

/** One read and measured model. */
export interface ReadPart extends MadePart {
  /** The file as it was, for the job's container. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly format: ModelFormat;
  /** The unit as the file gives it; a hint from its comments only, unless `unitIsDeclared`. */
  readonly declaredUnit: ModelUnit | null;
  /** The format itself states the unit: nothing to confirm. */
  readonly unitIsDeclared: boolean;
  readonly notes: readonly ModelNote[];
}

/**
 * What the worker can be asked to do: the protocol. Outputs are transferred. The worker keeps nothing between jobs
 * but what hanging-jobs.ts names; inputs that the page goes on using are copied to it (36 bytes a triangle for the
 * pick index, about 50 for a new
 * split).
 */
export interface Jobs extends HangingJobs, FieldJobs {
  readonly readModel: {
    readonly input: {
      readonly name: string;
      readonly content: FileContent;
      readonly splitAngleRad: number;
      /** What the user said about its surface before; nothing for a file that is new. */
      readonly surface?: MeshWishes['surface'];
    };
    readonly output: ReadPart;
  };
  /** A known part again, repaired or fused otherwise. */
  readonly prepare: {
    readonly input: { readonly name: string; readonly source: SourceSurface; readonly wishes: MeshWishes };
    readonly output: MadePart;
  };
  /** As `prepare`, to be looked at only; `shown` are the positions of the mesh it is compared with. */
  readonly tryRepair: {
    readonly input: {
      readonly name: string;
      readonly source: SourceSurface;
      readonly wishes: MeshWishes;
      readonly shown: Float32Array;
    };
    readonly output: { readonly made: MadePart; readonly changed: ChangedTriangles };
  };
  readonly drawShape: {
    readonly input: { readonly name: string; readonly shape: Shape; readonly wishes: MeshWishes };
    readonly output: MadePart;
  };
  readonly findCrossings: {
    readonly input: { readonly name: string; readonly geometry: PartGeometry };
    readonly output: Finding | null;
  };
  readonly buildPickIndex: {
    readonly input: { readonly name: string; readonly positions: Float32Array };
    readonly output: SerializedPickIndex;
  };
  /** New faces of a known part at another split angle, or with another answer about its round faces. */
  readonly resplit: {
    readonly input: {
      readonly name: string;
      readonly geometry: PartGeometry;
      readonly splitAngleRad: number;
      readonly facetAnswers: PartSurface['facetAnswers'];
    };
    readonly output: {
      readonly faces: FaceTable;
      readonly facets: PartGeometry['facets'];
      readonly edges: FaceEdges;
    };
  };
}

export type JobName = keyof Jobs;
export type JobInput<N extends JobName> = Jobs[N]['input'];
export type JobOutput<N extends JobName> = Jobs[N]['output'];

export interface JobProgress {
  /** Plain words for what goes on: "reading", "joining corners". */
  readonly phase: string;
  /** Of the whole job, 0 to 1; null where it can't be known. */
  readonly fraction: number | null;
  /** While the file is read. */
  readonly bytesRead?: number;
  readonly bytesTotal?: number;
  /** Of a current distribution. */
  readonly field?: FieldStep;
}

export type ReportProgress = (progress: JobProgress) => void;

/** One function a job. `input.name` is the file's name, for the message when it fails. */
export type JobRunners = {
  readonly [N in JobName]: (input: JobInput<N>, report: ReportProgress) => Promise<Result<JobOutput<N>>>;
};

/**
 * Jobs of one lane share a worker and wait for each other. Loading has its own, so that stopping a load, which ends
 * the worker, never touches work on parts already open; so has the search over attitudes. What hanging and tank keep
 * lives in the worker of their lane.
 */
export const LANE_OF_JOB = {
  readModel: 'loading',
  buildPickIndex: 'analysis',
  resplit: 'analysis',
  prepare: 'analysis',
  tryRepair: 'analysis',
  drawShape: 'analysis',
  findCrossings: 'analysis',
  prepareHanging: 'hanging',
  findTraps: 'hanging',
  adviseContacts: 'hanging',
  judgePins: 'hanging',
  dropHanging: 'hanging',
  searchAttitudes: 'searching',
  packTank: 'packing',
  helpPacking: 'packing',
  keepBody: 'tank',
  dropBody: 'tank',
  checkTank: 'tank',
  solveField: 'field',
} as const satisfies Record<JobName, string>;
export type Lane = (typeof LANE_OF_JOB)[JobName];

export interface JobRequest {
  readonly id: number;
  readonly job: JobName;
  readonly input: JobInput<JobName>;
}

export type JobReply =
  | { readonly id: number; readonly kind: 'progress'; readonly progress: JobProgress }
  | { readonly id: number; readonly kind: 'done'; readonly result: Result<unknown> };
