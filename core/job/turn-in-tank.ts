import type { PlanItem } from '../electrical/plan-items.ts';
import type { HangingSize } from '../racking/hanging-size.ts';
import { workBars } from '../racking/part-swing.ts';
import type { Tank } from '../racking/tank.ts';
import type { Result } from '../result.ts';
import { setAttitude } from './edit-hanging.ts';
import type { Attitude } from './job-hanging.ts';
import type { Job } from './job.ts';
import { planTank, type PackingJob, type TankPlan } from './tank-plan.ts';

/** A quarter turn about the upright that would help. */
export interface HelpfulTurn {
  readonly partIds: readonly string[];
  /** How many loads it would be. */
  readonly loads: number;
  /** `loads`: fewer of them, or any at all. `points`: as many, but no long part points at the sheets beside the bar. */
  readonly why: 'loads' | 'points';
}

/** Of more kinds than this not every way of turning some of them is tried. */
const MOST_KINDS = 4;
/** So much longer across the bar than along it, a part points at the sheet: its near end coats thicker. Common practice. */
const POINTS = 1.5;

/** The box of a part after a quarter turn about the upright. */
const quartered = (size: HangingSize): HangingSize => ({
  ...size,
  alongM: size.acrossM,
  acrossM: size.alongM,
});

/**
 * Whether the job hangs in fewer loads, or at all, with some of its parts turned by 90° about the upright; else whether
 * long parts that point at the sheets can lie along the bar in as many loads. It is offered and not done: which side
 * faces the sheets is the user's to say. Of up to four kinds every choice is tried, of more each alone, all that get
 * shorter along the bar, and all that get narrower across it. Of equals the one that turns fewest.
 */
export function turnThatHelps(
  job: PackingJob,
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
  now: Result<TankPlan>,
): HelpfulTurn | null {
  if (!now.ok && now.error.code !== 'no-room') return null;
  const loadsNow = now.ok ? now.value.loads.length : Infinity;
  const loadsTurned = (partIds: readonly string[]): number => {
    const turned = turnedBy90(job, sizes, partIds);
    const made = planTank(turned.job, plan, turned.sizes);
    return made.ok ? made.value.loads.length : Infinity;
  };
  const oblong = job.parts.filter(({ id, quantity }) => {
    const size = sizes[id];
    return quantity > 0 && size && Math.abs(size.alongM - size.acrossM) > 1e-9 * size.alongM;
  });
  if (!now.ok || loadsNow > now.value.hanging.fewestHoweverHung) {
    let best: HelpfulTurn | null = null;
    for (const partIds of choicesOf(
      oblong.map(({ id }) => id),
      sizes,
    )) {
      const loads = loadsTurned(partIds);
      const fewer = loads < (best?.loads ?? loadsNow);
      if (fewer || (best && loads === best.loads && partIds.length < best.partIds.length)) {
        best = { partIds, loads, why: 'loads' };
      }
    }
    if (best) return best;
  }
  const pointing = oblong
    .filter(({ id }) => sizes[id]!.acrossM > POINTS * sizes[id]!.alongM)
    .map(({ id }) => id);
  if (!now.ok || pointing.length === 0 || !sheetsBeside(job.tank.tank)) return null;
  const loads = loadsTurned(pointing);
  return loads <= loadsNow ? { partIds: pointing, loads, why: 'points' } : null;
}

/** What is packed, with these parts turned by 90° about the upright. */
export function turnedBy90(
  job: PackingJob,
  sizes: Readonly<Record<string, HangingSize>>,
  partIds: readonly string[],
): { readonly job: PackingJob; readonly sizes: Readonly<Record<string, HangingSize>> } {
  return {
    job: {
      ...job,
      parts: job.parts.map((part) =>
        partIds.includes(part.id) ? { ...part, attitude: quarterTurned(part.attitude) } : part,
      ),
    },
    sizes: Object.fromEntries(
      Object.entries(sizes).map(([id, size]) => [id, partIds.includes(id) ? quartered(size) : size]),
    ),
  };
}

/** Whether sheets stand beside the bars and none at their ends, where a part along the bar would point at them. */
function sheetsBeside(tank: Tank): boolean {
  const bars = workBars(tank);
  return (
    bars.length > 0 &&
    tank.cathodes.every(
      ({ place }) => place.on === 'wall' && bars.every(({ along }) => !place.wall.startsWith(along)),
    )
  );
}

function choicesOf(ids: readonly string[], sizes: Readonly<Record<string, HangingSize>>): string[][] {
  if (ids.length <= MOST_KINDS) {
    return Array.from({ length: 2 ** ids.length - 1 }, (_, i) =>
      ids.filter((_id, bit) => ((i + 1) >> bit) % 2 === 1),
    );
  }
  const shorter = ids.filter((id) => sizes[id]!.acrossM < sizes[id]!.alongM);
  const narrower = ids.filter((id) => sizes[id]!.alongM < sizes[id]!.acrossM);
  return [...ids.map((id) => [id]), shorter, narrower].filter((choice) => choice.length > 0);
}

/** Turns these parts by 90° about the upright. */
export function turnParts(job: Job, partIds: readonly string[]): Job {
  return partIds.reduce((next, partId) => {
    const { attitude } = next.parts.find(({ id }) => id === partId)!;
    return setAttitude(next, partId, quarterTurned(attitude));
  }, job);
}

function quarterTurned(attitude: Attitude): Attitude {
  const turnRad = attitude.turnRad + Math.PI / 2;
  return { ...attitude, turnRad: turnRad > Math.PI + 1e-9 ? turnRad - 2 * Math.PI : turnRad };
}
