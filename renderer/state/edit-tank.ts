import { changeTank, putPlacement } from '../../core/job/edit-hanging.ts';
import type { HelpfulCloser } from '../../core/job/closer-cathode.ts';
import type { JobTank } from '../../core/job/job-tank.ts';
import { hangInstead, holds, hungPieces, placesOf, spreadLoad } from '../../core/job/load-hanging.ts';
import { hangPieces, inTank } from '../../core/job/tank-plan.ts';
import { turnParts } from '../../core/job/turn-in-tank.ts';
import type { BusBar, Placement, Tank } from '../../core/racking/tank.ts';
import type { Vec3 } from '../../core/racking/vec3.ts';
import type { Failure } from '../../core/result.ts';
import type { Services } from '../app/services.ts';
import { editJob, jobOf } from './app-store.ts';

type TankServices = Pick<Services, 'store' | 'derived' | 'hanging'>;

/** Nearer to the line under a bar than this, a dragged copy snaps to it. */
export const SNAP_M = 0.02;

/**
 * Hangs one load of the plan, all its copies in one step: as it was left when another was hung in its place, else evenly spaced. A load
 * that hangs already is spaced evenly anew. What hung before is kept for when its load is hung again.
 */
export function hangLoad({ store, derived, hanging }: TankServices, load: number): void {
  const job = jobOf(store.getState());
  const { plan, sizes } = derived.getState().tank;
  if (!plan?.ok || !inTank(job)) return;
  const { loads } = plan.value;
  const onBars = plan.value.hanging.loads[load]?.pieces;
  const pieces = loads[load]?.pieces;
  if (!onBars || !pieces) return;
  const left = holds(job, job.placements, pieces) ? null : placesOf(job, pieces);
  const placements = left ?? hangPieces(job, plan.value.rooms, sizes, onBars);
  editJob(store, `Hang load ${load + 1}`, (now) => hangInstead(now, placements, loads));
  hanging.setState({ selectedPlacementId: placements[0]?.id ?? null });
}

/**
 * Hangs so many copies of one part beside what hangs there of the others, spaced evenly. A failure says how many fit.
 * @param anyway also where they do not fit: in a row under the first bar, for the exact distances to judge
 */
export function hangCopies(
  { store, derived, hanging }: TankServices,
  partId: string,
  count: number,
  anyway = false,
): Failure | null {
  const state = store.getState();
  const job = jobOf(state);
  const { sizes, plan } = derived.getState().tank;
  if (!inTank(job)) return null;
  const counts = hungPieces(job, job.placements).map((hung, i) =>
    job.parts[i]!.id === partId ? count : hung,
  );
  const spread = spreadLoad(job, counts, sizes, state.unitSystem);
  if (!spread.ok) return spread.error;
  const { made, inRow } = spread.value;
  const placements = made.ok ? made.value : anyway ? inRow() : null;
  if (!placements) return made.ok ? null : made.error;
  const what = count === 1 ? 'a copy' : `${count} copies`;
  editJob(store, `Hang ${what}`, (now) => hangInstead(now, placements, plan?.ok ? plan.value.loads : null));
  hanging.setState({ selectedPlacementId: placements.find((p) => p.partId === partId)?.id ?? null });
  return null;
}

/** Every work bar twice, side by side; what hangs stays. */
export function hangSecondRow({ store }: Pick<TankServices, 'store'>, bars: readonly BusBar[]): void {
  editTank({ store }, 'A second row', (tank) => ({ ...tank, tank: { ...tank.tank, bars: [...bars] } }));
}

/** A smaller distance to the cathode; what hangs stays, but for copies of what is turned for it. One step of undo. */
export function keepCloser({ store }: Pick<TankServices, 'store'>, { toM, turned }: HelpfulCloser): void {
  const label = turned.length > 0 ? 'Nearer to the cathode, and turned by 90°' : 'Part to cathode';
  editJob(store, label, (job) => {
    if (!inTank(job)) return job;
    const rules = { ...job.tank.rules, partToCathodeM: toM };
    return turnParts(changeTank(job, { ...job.tank, rules }), turned);
  });
}

/** Turns parts by 90° about the upright; what hung of them is taken out, to be hung again. */
export function turnInTank({ store }: Pick<TankServices, 'store'>, partIds: readonly string[]): void {
  editJob(store, 'Turn by 90° about the upright', (job) => turnParts(job, partIds));
}

/** Moves a copy so that the middle of its box is at a place in the tank. */
export function movePlacement(
  { store }: Pick<TankServices, 'store'>,
  placement: Placement,
  offsetM: Vec3,
  mergeKey = '',
): void {
  const moved = { ...placement, pose: { ...placement.pose, offsetM } };
  editJob(store, 'Move a part in the tank', (job) => putPlacement(job, moved), mergeKey);
}

/** Turns a copy about the vertical through a point of the tank. */
export function turnedPlacement(placement: Placement, aboutM: Vec3, byRad: number): Placement {
  const c = Math.cos(byRad);
  const s = Math.sin(byRad);
  const r = placement.pose.rotation;
  const rotation = [
    ...[0, 1, 2].map((k) => c * r[k]! - s * r[3 + k]!),
    ...[0, 1, 2].map((k) => s * r[k]! + c * r[3 + k]!),
    r[6]!,
    r[7]!,
    r[8]!,
  ];
  const [x, y, z] = placement.pose.offsetM;
  const dx = x - aboutM[0];
  const dy = y - aboutM[1];
  return {
    ...placement,
    pose: { rotation, offsetM: [aboutM[0] + c * dx - s * dy, aboutM[1] + s * dx + c * dy, z] },
  };
}

/** The place under the nearest work bar, where that is near; else the place itself. */
export function snapToBars(tank: Tank, [x, y, z]: Vec3): Vec3 {
  let best: Vec3 = [x, y, z];
  let nearest = SNAP_M;
  for (const bar of tank.bars) {
    if (bar.role !== 'work') continue;
    const away = Math.abs((bar.along === 'x' ? y : x) - bar.acrossM);
    if (away >= nearest) continue;
    nearest = away;
    best = bar.along === 'x' ? [x, bar.acrossM, z] : [bar.acrossM, y, z];
  }
  return best;
}

export function editTank(
  { store }: Pick<TankServices, 'store'>,
  label: string,
  change: (tank: JobTank) => JobTank,
  mergeKey = '',
): void {
  editJob(store, label, (job) => (inTank(job) ? changeTank(job, change(job.tank)) : job), mergeKey);
}
