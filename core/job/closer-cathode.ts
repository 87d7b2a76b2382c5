import type { PlanItem } from '../electrical/plan-items.ts';
import type { HangingSize } from '../racking/hanging-size.ts';
import type { Result } from '../result.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { planTank, type PackingJob, type TankPlan } from './tank-plan.ts';
import { turnedBy90, turnThatHelps, type HelpfulTurn } from './turn-in-tank.ts';

/** A smaller distance to the cathode with which everything hangs. */
export interface HelpfulCloser {
  readonly toM: number;
  /** How many loads it would be. */
  readonly loads: number;
  /** Parts that have to be turned by 90° about the upright as well; empty where the distance alone will do. */
  readonly turned: readonly string[];
}

/** Nearer than this nothing is offered: the sides at the sheet coat far thicker, and a swing shorts. Common practice. */
const NEAREST_M = 0.05;
const STEP_M: Readonly<Record<UnitSystem, number>> = { metric: 0.005, us: 0.25 * 0.0254 };

/**
 * The largest distance to the cathode, in steps a tape shows, that lets all parts hang where the one that is kept now
 * does not; where no distance alone does, with parts turned as well. Offered and not done. null where they hang, where a
 * turn alone helps (`turn`), or where nothing of this does.
 */
export function closerThatFits(
  job: PackingJob,
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
  now: Result<TankPlan>,
  turn: HelpfulTurn | null,
  system: UnitSystem,
): HelpfulCloser | null {
  if (now.ok || now.error.code !== 'no-room') return null;
  const alone = largestCloser(job, plan, sizes, system);
  if (alone || turn) return alone && { ...alone, turned: [] };
  const nearest = keeping(job, leastSteps(system) * STEP_M[system]);
  const then = turnThatHelps(nearest, plan, sizes, now);
  if (!then) return null;
  const turned = turnedBy90(job, sizes, then.partIds);
  const both = largestCloser(turned.job, plan, turned.sizes, system);
  return both && { ...both, turned: then.partIds };
}

const leastSteps = (system: UnitSystem): number => Math.ceil(NEAREST_M / STEP_M[system] - 1e-9);

const keeping = (job: PackingJob, partToCathodeM: number): PackingJob => ({
  ...job,
  tank: { ...job.tank, rules: { ...job.tank.rules, partToCathodeM } },
});

/** Halves the steps between the nearest that is offered and the distance kept. */
function largestCloser(
  job: PackingJob,
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
  system: UnitSystem,
): Pick<HelpfulCloser, 'toM' | 'loads'> | null {
  const stepM = STEP_M[system];
  const loadsAt = (steps: number): number | null => {
    const made = planTank(keeping(job, steps * stepM), plan, sizes, system);
    return made.ok ? made.value.loads.length : null;
  };
  let fits = leastSteps(system);
  let tooMuch = Math.ceil(job.tank.rules.partToCathodeM / stepM - 1e-9);
  if (fits >= tooMuch) return null;
  let loads = loadsAt(fits);
  if (loads === null) return null;
  while (tooMuch - fits > 1) {
    const middle = (fits + tooMuch) >> 1;
    const then = loadsAt(middle);
    if (then === null) tooMuch = middle;
    else [fits, loads] = [middle, then];
  }
  return { toM: fits * stepM, loads };
}
