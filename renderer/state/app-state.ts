import type { SaveTarget } from '../../core/bridge/bridge.ts';
import type { History } from '../../core/job/history.ts';
import type { Job, Part } from '../../core/job/job.ts';
import type { FuseReport, SourceSurface } from '../../core/job/prepare-part.ts';
import type { RepairStep } from '../../core/mesh/apply-repairs.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { Failure } from '../../core/result.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import type { FaceEdges } from '../../core/faces/face-edges.ts';
import type { SerializedPickIndex } from '../worker/jobs.ts';
import type { LeaveQuestion } from './leave-job.ts';
import type { RepairTrial } from './repair-trial.ts';

export const STAGES = [
  'part',
  'faces',
  'hanging',
  'tank',
  'current',
  'thickness',
  'bath',
  'fits',
  'finish',
  'sheet',
  'run',
  'logbook',
] as const;
export type StageId = (typeof STAGES)[number];

export type ThemeChoice = 'system' | 'light' | 'dark';

/** What the worker has made of one part's file. Never saved: it can always be worked out again. */
export interface PartMesh {
  readonly geometry: PartGeometry;
  /** The part of the job this was made for; lags behind the job while a newer one is under way. */
  readonly made: Part;
  /** What the file or recipe gave, where repairs or fusing made another mesh of it. */
  readonly source: SourceSurface | null;
  /** What each accepted repair did. */
  readonly repairs: readonly RepairStep[];
  readonly fuse: FuseReport | null;
  /** Why the bodies are not fused although the user asked for it. */
  readonly fuseFailure: Failure | null;
  /** Absent until the index for clicking has been built. */
  readonly pickIndex: SerializedPickIndex | null;
  /** Lines between faces; absent until they are made. */
  readonly edges: FaceEdges | null;
}

/** A file on its way in. It is not part of the job before it has been read whole. */
export interface Loading {
  readonly id: string;
  readonly fileName: string;
  readonly phase: string;
  /** 0 to 1, or null where it can't be known. */
  readonly fraction: number | null;
  readonly cancel: () => void;
}

export interface Notice {
  readonly id: string;
  readonly level: 'note' | 'check' | 'stop';
  readonly failure: Failure;
  /** It speaks of a file of the open job and goes with that job. */
  readonly ofJob: boolean;
}

export interface AppState {
  readonly history: History<Job>;
  /** The document as it stands in the file; the job is unsaved while the present one is another. */
  readonly savedDocument: Job;
  readonly target: SaveTarget | null;
  /** Container entry to the model file's own bytes. Bytes of removed parts stay, so that undo can bring them back. */
  readonly models: ReadonlyMap<string, Uint8Array>;
  readonly meshes: Readonly<Record<string, PartMesh>>;
  readonly loadings: readonly Loading[];
  readonly notices: readonly Notice[];
  readonly leaveQuestion: LeaveQuestion | null;
  /** A repair looked at before it is accepted. */
  readonly repairTrial: RepairTrial | null;
  readonly stage: StageId;
  readonly activePartId: string | null;
  /** Rows of the active part's face table. */
  readonly selectedFaces: ReadonlySet<number>;
  readonly hoveredFace: number | null;
  readonly selectedPinId: string | null;
  /** The next click on the part sets a pin. */
  readonly placingPin: boolean;
  readonly unitSystem: UnitSystem;
  readonly theme: ThemeChoice;
  readonly hintsSeen: boolean;
  /** Topics of the stages that the user opened or closed, by stage and title. */
  readonly openSections: Readonly<Record<string, boolean>>;
  /** Which load of the plan the next run takes, from 0, and those that this window has run. */
  readonly nextLoad: number;
  readonly loadsRun: readonly number[];
  /** The logbook's open page; null for its list alone. */
  readonly openRunId: string | null;
  /** At the finish stage the part shows the dye's colour. */
  readonly dyeOnPart: boolean;
}
