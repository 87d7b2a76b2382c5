import type { PlanItem } from '../electrical/plan-items.ts';
import type { HangingSize } from '../racking/hanging-size.ts';
import type { Result } from '../result.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { planTank, type PackingJob, type TankPlan } from './tank-plan.ts';

/** A smaller distance to the cathode with which everything hangs. */
export interface HelpfulCloser {
  readonly toM: number;
  /** How many loads it would be. */
  readonly loads: number;
}

/** Nearer than this nothing is offered: the sides at the sheet coat far thicker, and a swing shorts. Common practice. */
const NEAREST_M = 0.05;
const STEP_M: Readonly<Record<UnitSystem, number>> = { metric: 0.005, us: 0.25 * 0.0254 };

/**
 * The largest distance to the cathode, in steps a tape shows, that lets all parts hang where the one that is kept now
 * does not. Offered and not done. null where they hang, or where the cathode is not what stands in the way.
 */
export function closerThatFits(
  job: PackingJob,
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
  now: Result<TankPlan>,
  system: UnitSystem,
): HelpfulCloser | null {
  if (now.ok || now.error.code !== 'no-room') return null;
  const { rules } = job.tank;
  const stepM = STEP_M[system];
  const loadsAt = (steps: number): number | null => {
    const closer = { ...rules, partToCathodeM: steps * stepM };
    const made = planTank({ ...job, tank: { ...job.tank, rules: closer } }, plan, sizes, system);
    return made.ok ? made.value.loads.length : null;
  };
  let fits = Math.ceil(NEAREST_M / stepM - 1e-9);
  let tooMuch = Math.ceil(rules.partToCathodeM / stepM - 1e-9);
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
