import type { HangingSize } from '../racking/hanging-size.ts';
import type { TankCheck } from '../racking/tank-clearance.ts';
import type { Result } from '../result.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { JobMessage } from './job-messages.ts';
import { inTank, swingReachM, type TankPlan } from './tank-plan.ts';
import type { Job } from './job.ts';

/** What is known of a job's tank; absent pieces are still being worked out. */
export interface TankView {
  readonly plan: Result<TankPlan> | null;
  readonly check: TankCheck | null;
  readonly sizes: Readonly<Record<string, HangingSize>>;
}

/** What the tank has to say before the power goes on: loads that cannot be, clearances, swing. Alike ones once. */
export function tankMessages(job: Job, view: TankView, system: UnitSystem): JobMessage[] {
  if (!inTank(job)) return [];
  const stage = 'tank' as const;
  const messages: JobMessage[] = [];
  if (view.plan && !view.plan.ok) messages.push({ level: 'stop', stage, ...view.plan.error });
  const seen = new Set<string>();
  for (const { code, level, message, remedy } of [
    ...(view.check?.findings ?? []),
    ...swingFindings(job, view, system),
  ]) {
    if (seen.has(message)) continue;
    seen.add(message);
    messages.push({ level, code, stage, message, remedy });
  }
  return messages;
}

/** Copies that hang clear and still reach their neighbour or a sheet when they swing. */
export function swingFindings(
  job: Job,
  { check, sizes }: Pick<TankView, 'check' | 'sizes'>,
  system: UnitSystem,
): Pick<JobMessage, 'code' | 'level' | 'message' | 'remedy'>[] {
  const tank = job.tank?.tank;
  if (!check || !tank) return [];
  return check.clearances.flatMap(({ placementId, to, distanceM }) => {
    if (to !== 'cathode' && to !== 'part') return [];
    const placement = job.placements.find(({ id }) => id === placementId);
    const part = job.parts.find(({ id }) => id === placement?.partId);
    const size = part && sizes[part.id];
    if (!placement || !part || !size) return [];
    const lowestM = placement.pose.offsetM[2] + size.middleM[2] - size.heightM / 2;
    const reach = swingReachM(tank, lowestM, job.hanging.swingRad);
    const gap = distanceM.valueSi;
    // Touching is said already.
    if (gap <= 1e-4 || gap >= reach) return [];
    return [
      {
        code: 'can-swing',
        level: to === 'cathode' ? 'stop' : 'check',
        message: `${part.name} swings by up to ${formatQuantity('length', reach, system).text} and can hit ${to === 'cathode' ? 'the cathode' : 'its neighbour'}, ${formatQuantity('length', gap, system).text} away.`,
        remedy: 'Move it away, hang it from two wires, or stir more gently.',
      } as const,
    ];
  });
}
