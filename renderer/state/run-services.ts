import type { Job } from '../../core/job/job.ts';
import { jobSteps } from '../../core/job/job-steps.ts';
import { loadPlan } from '../../core/job/load-plan.ts';
import type { RunPlan } from '../../core/electrical/plan-run.ts';
import { fileOf } from '../../core/job/part-source.ts';
import type { Practise } from '../../core/shop/run-record.ts';
import type { SupplyRecord } from '../../core/shop/supply-record.ts';
import type { Logbook } from './logbook.ts';
import type { NewRun, RunRecorder } from './run-recorder.ts';
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

/** One load of the planned job as a run about to begin. */
export function newRunOf(
  job: Job,
  plan: RunPlan,
  models: ReadonlyMap<string, Uint8Array>,
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
    steps: jobSteps(job, planned.rampS, planned.holdS),
    job,
    models: new Map([...models].filter(([entry]) => entries.includes(entry))),
    practise,
    supplyId,
  };
}
