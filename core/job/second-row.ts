import type { PlanItem } from '../electrical/plan-items.ts';
import type { HangingSize } from '../racking/hanging-size.ts';
import { workBars } from '../racking/part-swing.ts';
import type { BusBar, Tank } from '../racking/tank.ts';
import type { Result } from '../result.ts';
import { hungSwing, planTank, type PackingJob, type TankPlan } from './tank-plan.ts';

/** A second row of parts beside each row, hung from a bar of its own. */
export interface HelpfulRows {
  /** How many loads it would be. */
  readonly loads: number;
  /** From one of both bars to the other, m. */
  readonly apartM: number;
  /** The tank's bars with each work bar twice. */
  readonly bars: readonly BusBar[];
}

/**
 * Whether the job hangs in fewer loads with every work bar twice, side by side, as far apart as its parts need it: wires
 * hang straight down, so a second row wants a second bar (or rods across). null where it saves nothing, where it is not
 * needed and where bars cross.
 */
export function twoRowsThatHelp(
  job: PackingJob,
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
  now: Result<TankPlan>,
): HelpfulRows | null {
  if (!now.ok || now.value.loads.length <= now.value.hanging.fewestHoweverHung) return null;
  const { tank, rules } = job.tank;
  const bars = workBars(tank);
  if (new Set(bars.map(({ along }) => along)).size !== 1) return null;
  const hung = job.parts.filter(({ quantity }) => quantity > 0);
  const widest = Math.max(...hung.map(({ id }) => sizes[id]?.acrossM ?? 0));
  const swing = Math.max(
    ...hung.map((part) => hungSwing(job, part, sizes[part.id] ?? { heightM: 0 }).acrossM),
  );
  // The room across each is the same to both sides of its bar, and ends half a gap before the other's.
  const apartM = Math.ceil(1e3 * (widest + Math.max(rules.partToPartM, 2 * swing))) / 1e3;
  const doubled: Tank = {
    ...tank,
    bars: tank.bars.flatMap((bar) =>
      bar.role === 'work'
        ? [-1, 1].map((side) => ({
            ...bar,
            id: side < 0 ? bar.id : secondId(bar.id, tank.bars),
            acrossM: bar.acrossM + (side * apartM) / 2,
          }))
        : [bar],
    ),
  };
  const made = planTank({ ...job, tank: { ...job.tank, tank: doubled } }, plan, sizes);
  if (!made.ok || made.value.loads.length >= now.value.loads.length) return null;
  return { loads: made.value.loads.length, apartM, bars: doubled.bars };
}

function secondId(id: string, bars: readonly BusBar[]): string {
  let next = `${id}-second`;
  while (bars.some((bar) => bar.id === next)) next = `${next}-2`;
  return next;
}
