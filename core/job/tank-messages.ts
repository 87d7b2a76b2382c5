import type { HangingSize } from '../racking/hanging-size.ts';
import type { SwingHit } from '../racking/swing-check.ts';
import type { TankCheck } from '../racking/tank-clearance.ts';
import type { Result } from '../result.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { JobMessage } from './job-messages.ts';
import { inTank, type TankPlan } from './tank-plan.ts';
import type { PackingHelp } from './pack-request.ts';
import type { Job } from './job.ts';

/** What is known of a job's tank; absent pieces are still being worked out. */
export interface TankView {
  readonly plan: Result<TankPlan> | null;
  /** What would save loads or make the parts fit. */
  readonly help: PackingHelp;
  /** The loads are being packed: `plan` is what was packed before, or null. */
  readonly isPacking?: boolean;
  /** How many loads with less in each; absent without a tank. */
  readonly loadsWithin?: (pieceAreaM2: number) => number | undefined;
  readonly check: TankCheck | null;
  readonly sizes: Readonly<Record<string, HangingSize>>;
}

/** Reasons that are none against the run. */
const LEVELS: Readonly<Record<string, JobMessage['level']>> = {
  'size-unknown': 'note',
  'worker-fault': 'check',
};

/** What the tank has to say before the power goes on: loads that cannot be, clearances, swing. Alike ones once. */
export function tankMessages(job: Job, view: TankView, system: UnitSystem): JobMessage[] {
  if (!inTank(job)) return [];
  const stage = 'tank' as const;
  const messages: JobMessage[] = [];
  if (view.plan && !view.plan.ok) {
    const { error } = view.plan;
    if (error.code === 'no-room' && hangsClear(job, view, system)) {
      messages.push({
        level: 'note',
        stage,
        code: error.code,
        message: `${error.message} As you have hung it the exact distances are kept all the same.`,
        remedy:
          'Hang it like that. The loads are counted by the supply alone: see yourself how many hang at once.',
      });
    } else {
      // A part of which only the area is known has no size, and that is no reason against the run.
      messages.push({ level: LEVELS[error.code] ?? 'stop', stage, ...error });
    }
  }
  if (view.isPacking) {
    messages.push({
      level: 'note',
      stage,
      code: 'loads-not-packed',
      pending: true,
      message: 'The loads are not packed yet for the job as it stands.',
      remedy: 'Wait until this line is gone.',
    });
  }
  const seen = new Set<string>();
  for (const { code, level, message, remedy } of [
    ...(view.check?.findings ?? []),
    ...swingFindings(job, view.check, system),
  ]) {
    if (seen.has(message)) continue;
    seen.add(message);
    messages.push({ level, code, stage, message, remedy });
  }
  return messages;
}

/** Whether a copy of every part hangs by hand with nothing said against its distances or its swing. */
function hangsClear(job: Job, view: TankView, system: UnitSystem): boolean {
  const { check } = view;
  if (!check || job.parts.some(({ id }) => !job.placements.some(({ partId }) => partId === id))) return false;
  return (
    check.findings.every(({ level, placementIds }) => level === 'note' || placementIds.length === 0) &&
    swingFindings(job, check, system).length === 0
  );
}

const HIT: Readonly<Record<SwingHit['to'], string>> = {
  cathode: 'the cathode',
  wall: 'the wall',
  part: 'its neighbour, which swings as well',
};

/** Copies that hang clear and still reach a sheet or a wall when they swing, or each other when they swing against each other. */
export function swingFindings(
  job: Pick<Job, 'parts' | 'placements'>,
  check: Pick<TankCheck, 'swings'> | null,
  system: UnitSystem,
): Pick<JobMessage, 'code' | 'level' | 'message' | 'remedy'>[] {
  const length = (metres: number): string => formatQuantity('length', metres, system).text;
  return (check?.swings ?? []).flatMap(({ placementId, reachM, held, hits }) =>
    hits.map(({ to, awayM }) => {
      const partId = job.placements.find(({ id }) => id === placementId)?.partId;
      const name = job.parts.find(({ id }) => id === partId)?.name ?? 'A part';
      return {
        code: 'can-swing',
        level: to === 'cathode' ? 'stop' : 'check',
        message: `${name} swings by up to ${length(reachM)} and can hit ${HIT[to]}, ${length(awayM)} away.`,
        remedy: held
          ? 'Move it away, or stir more gently.'
          : 'Move it away, hang it from two wires that are apart along the bar, or stir more gently.',
      } as const;
    }),
  );
}
