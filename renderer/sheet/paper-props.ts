import type { RunPlan } from '../../core/electrical/plan-run.ts';
import type { FaceTable } from '../../core/faces/face-table.ts';
import type { PartHangingPlan } from '../../core/job/hanging-plan.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import type { Job } from '../../core/job/job.ts';
import type { PartMeasure } from '../../core/job/measure-part.ts';
import type { TankView } from '../../core/job/tank-messages.ts';
import type { WetPlan } from '../../core/job/wet-messages.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';

export interface PaperSheetProps {
  readonly job: Job;
  readonly plan: RunPlan;
  readonly measures: Readonly<Record<string, PartMeasure>>;
  /** Per part id. */
  readonly faces: Readonly<Record<string, FaceTable>>;
  /** Where each part's pins clamp, in words: per part id, by contact id. */
  readonly pinPlaces: Readonly<Record<string, ReadonlyMap<string, string>>>;
  readonly messages: readonly JobMessage[];
  readonly wet: WetPlan;
  readonly system: UnitSystem;
  /** PNG data URL per part id. */
  readonly pictures: Readonly<Record<string, string>>;
  readonly date: string;
  /** How each part hangs, per part id. */
  readonly hanging: Readonly<Record<string, PartHangingPlan>>;
  readonly tank: TankView;
  /** One line a part whose thickness was worked out, see core/job/field-sheet-line.ts. */
  readonly thickness: readonly string[];
}
