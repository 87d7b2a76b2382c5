import { planRun } from '../electrical/plan-run.ts';
import type { PlanItem } from '../electrical/plan-items.ts';
import { wettedBusEnds } from '../racking/bus-ends.ts';
import type { HangingSize } from '../racking/hanging-size.ts';
import type { Result } from '../result.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { closerThatFits, type HelpfulCloser } from './closer-cathode.ts';
import { twoRowsThatHelp, type HelpfulRows } from './second-row.ts';
import { loadsWithin, planTank, type PackingJob, type TankPlan } from './tank-plan.ts';
import { turnThatHelps, type HelpfulTurn } from './turn-in-tank.ts';

/** All that the loads of a job in its tank rest on, and no more. */
export interface PackRequest {
  /** The same while all of it is the same. */
  readonly key: string;
  readonly job: PackingJob;
  /** What takes current, one entry a part, hangers included. */
  readonly items: readonly PlanItem[];
  /** Per part id, at rest. */
  readonly sizes: Readonly<Record<string, HangingSize>>;
  readonly system: UnitSystem;
}

export function packRequest(
  { tank, hanging, process, parts }: PackingJob,
  items: readonly PlanItem[],
  sizes: PackRequest['sizes'],
  system: UnitSystem,
): PackRequest {
  const job: PackingJob = {
    tank,
    hanging,
    process,
    parts: parts.map(({ id, name, quantity, attitude, contacts, unit }) => ({
      id,
      name,
      quantity,
      attitude,
      contacts,
      unit,
    })),
  };
  return { key: JSON.stringify([job, items, sizes, system]), job, items, sizes, system };
}

/** The loads, and how many it would be at each of the lower densities that the plan offers. */
export interface PackedLoads {
  readonly plan: Result<TankPlan>;
  /** Pairs: most area of pieces in a load, m², and how many loads it then is; undefined where they can't be hung so. */
  readonly within: readonly (readonly [areaM2: number, loads: number | undefined])[];
}

export function packLoadsOf({ job, items, sizes, system }: PackRequest): PackedLoads {
  const plan = planTank(job, items, sizes, system);
  const within = new Map<number, number | undefined>();
  // The plan is what asks, and asks the same of these pairs later.
  planRun(items, job.process, {
    ...(plan.ok ? { loads: plan.value.loads } : {}),
    busEnds: wettedBusEnds(job.hanging.busEnds),
    loadsWithin: (areaM2) => {
      if (!within.has(areaM2)) within.set(areaM2, loadsWithin(job, items, sizes, areaM2));
      return within.get(areaM2);
    },
  });
  return { plan, within: [...within] };
}

/** What would save loads, or make the parts fit; offered, not done. */
export interface PackingHelp {
  readonly turn: HelpfulTurn | null;
  readonly rows: HelpfulRows | null;
  readonly closer: HelpfulCloser | null;
}

export const NO_PACKING_HELP: PackingHelp = { turn: null, rows: null, closer: null };

export function packingHelpOf(
  { job, items, sizes, system }: PackRequest,
  plan: Result<TankPlan>,
): PackingHelp {
  const turn = turnThatHelps(job, items, sizes, plan);
  return {
    turn,
    rows: twoRowsThatHelp(job, items, sizes, plan),
    closer: closerThatFits(job, items, sizes, plan, turn, system),
  };
}
