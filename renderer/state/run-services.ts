import { plannedCurrentA } from '../../core/run/planned-current.ts';
import type { Job, Part } from '../../core/job/job.ts';
import type { BathHeat } from '../../core/bath/plan-bath-heat.ts';
import { jobSteps, runSteps } from '../../core/job/job-steps.ts';
import type { PartHangingPlan } from '../../core/job/hanging-plan.ts';
import { loadTroubleFacts } from '../../core/job/load-trouble-facts.ts';
import { loadPlan } from '../../core/job/load-plan.ts';
import type { RunPlan } from '../../core/electrical/plan-run.ts';
import { fileOf } from '../../core/job/part-source.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import type { Practise } from '../../core/shop/run-record.ts';
import type { SupplyRecord } from '../../core/shop/supply-record.ts';
import type { Logbook } from './logbook.ts';
import type { NewRun, RunRecorder } from './run-view.ts';
import type { RunStore } from './run-store.ts';
import type { ShopDatabase } from './shop-database.ts';
import type { Shelf } from './shop-shelf.ts';
import type { Sounds } from './sounds.ts';
import type { TypedText } from './typed-text.ts';
import type { SupplyDesk } from './supply-desk.ts';

/** Everything of the run and its book. */
export interface RunServices {
  readonly recorder: RunRecorder;
  readonly store: RunStore;
  readonly desk: SupplyDesk;
  readonly supplies: Shelf<SupplyRecord>;
  readonly sounds: Sounds;
  readonly typedText: TypedText;
  readonly logbook: Logbook;
  readonly database: ShopDatabase;
  readonly newId: () => string;
}

/** What a run is made from. */
export interface PlannedJob {
  readonly job: Job;
  /** Its parts as they hang (core/job/hung-wires.ts). */
  readonly hung: readonly Part[];
  readonly plan: RunPlan;
  readonly models: ReadonlyMap<string, Uint8Array>;
  /** null where it is not worked out. */
  readonly heat: BathHeat | null;
  /** How each part hangs; those not worked out are absent. */
  readonly hanging: Readonly<Record<string, PartHangingPlan | undefined>>;
  readonly system: UnitSystem;
}

/** One load of the planned job as a run about to begin. */
export function newRunOf(
  { job, hung, plan, models, heat, hanging, system }: PlannedJob,
  choice: {
    readonly load: number;
    readonly mode: 'current' | 'voltage';
    readonly practise: Practise | null;
    readonly supplyId: string | null;
  },
): NewRun {
  const { load, mode, practise, supplyId } = choice;
  const planned = { ...loadPlan(job, plan, load), mode };
  const ofLoads = plan.loads.length > 1 ? `, load ${load + 1} of ${plan.loads.length}` : '';
  const entries = job.parts.flatMap((part) => fileOf(part)?.entry ?? []);
  return {
    name: `${job.name}${ofLoads}${practise ? ' (practise)' : ''}`,
    plan: planned,
    steps: runSteps(
      job,
      jobSteps(
        { ...job, parts: [...hung] },
        {
          rampS: planned.rampS,
          holdS: planned.holdS,
          currentA: plannedCurrentA(planned),
          forAllLoads: false,
        },
        heat,
        system,
      ),
    ),
    job,
    models: new Map([...models].filter(([entry]) => entries.includes(entry))),
    practise,
    supplyId,
    jobFacts: loadTroubleFacts(job, plan, heat, load, hanging),
  };
}
