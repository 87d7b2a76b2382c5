import type { PlanItem } from '../electrical/plan-run.ts';
import type { HangingSize } from '../racking/hanging-size.ts';
import type { Result } from '../result.ts';
import { setAttitude } from './edit-hanging.ts';
import type { JobTank } from './job-tank.ts';
import type { Job } from './job.ts';
import { planTank, type TankPlan } from './tank-plan.ts';

/** A quarter turn about the upright that would help. */
export interface HelpfulTurn {
  readonly partIds: readonly string[];
  /** How many loads it would be. */
  readonly loads: number;
}

/** The box of a part after a quarter turn about the upright. */
const quartered = (size: HangingSize): HangingSize => ({
  ...size,
  alongM: size.acrossM,
  acrossM: size.alongM,
});

/**
 * Whether the job hangs in fewer loads, or at all, with some of its parts turned by 90° about the upright. It is offered
 * and not done: which side faces the sheets is the user's to say. Looked at are two ways: turn all that are then shorter
 * along the bar, or all that are then narrower across it; null where neither helps.
 */
export function turnThatHelps(
  job: Job & { readonly tank: JobTank },
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
  now: Result<TankPlan>,
): HelpfulTurn | null {
  if (now.ok ? now.value.loads.length <= now.value.hanging.fewestHoweverHung : now.error.code !== 'no-room') {
    return null;
  }
  const hung = job.parts.filter(({ id, quantity }) => quantity > 0 && sizes[id]);
  const shorter = hung.filter(({ id }) => sizes[id]!.acrossM < sizes[id]!.alongM * (1 - 1e-9));
  const narrower = hung.filter(({ id }) => sizes[id]!.alongM < sizes[id]!.acrossM * (1 - 1e-9));
  let best: HelpfulTurn | null = null;
  for (const turned of [shorter, narrower]) {
    if (turned.length === 0) continue;
    const partIds = turned.map(({ id }) => id);
    const changed = Object.fromEntries(
      Object.entries(sizes).map(([id, size]) => [id, partIds.includes(id) ? quartered(size) : size]),
    );
    const made = planTank(job, plan, changed);
    if (!made.ok) continue;
    const loads = made.value.loads.length;
    if (loads < (best?.loads ?? (now.ok ? now.value.loads.length : Infinity))) best = { partIds, loads };
  }
  return best;
}

/** Turns these parts by 90° about the upright. */
export function turnParts(job: Job, partIds: readonly string[]): Job {
  return partIds.reduce((next, partId) => {
    const { attitude } = next.parts.find(({ id }) => id === partId)!;
    const turnRad = attitude.turnRad + Math.PI / 2;
    return setAttitude(next, partId, {
      ...attitude,
      turnRad: turnRad > Math.PI + 1e-9 ? turnRad - 2 * Math.PI : turnRad,
    });
  }, job);
}
