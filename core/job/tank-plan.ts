import type { Load } from '../electrical/pack-loads.ts';
import type { PlanItem } from '../electrical/plan-run.ts';
import { wettedBusEnds } from '../racking/bus-ends.ts';
import { barRooms, type PlacedBarRoom } from '../racking/bar-rooms.ts';
import { cathodeAreaM2 } from '../racking/cathode-shape.ts';
import type { HangingSize } from '../racking/hanging-size.ts';
import { packHangingLoads, type HangingItem, type HangingPlan } from '../racking/pack-hanging-loads.ts';
import { placeLoad, type PlacedItem } from '../racking/place-load.ts';
import { rotationForUp } from '../racking/pose.ts';
import type { Placement, Tank } from '../racking/tank.ts';
import { failure, success, type Result } from '../result.ts';
import type { Attitude } from './job-hanging.ts';
import type { JobTank } from './job-tank.ts';
import type { Job } from './job.ts';

/** The loads of a job in its tank. */
export interface TankPlan {
  readonly rooms: readonly PlacedBarRoom[];
  readonly items: readonly HangingItem[];
  readonly hanging: HangingPlan;
  /** The same loads as the current planner counts them: pieces by part. */
  readonly loads: readonly Load[];
}

/** Model to tank of a part as it hangs. */
export function hangingRotation({ up, turnRad }: Attitude): number[] {
  return rotationForUp(up, turnRad);
}

/**
 * How far a part swings to either side: as a pendulum from the bar, its lowest point the furthest. Bending of the wire
 * is left out.
 */
export function swingReachM(tank: Tank, lowestM: number, swingRad: number): number {
  const bars = tank.bars.filter(({ role }) => role === 'work').map(({ heightM }) => heightM);
  const from = bars.length > 0 ? Math.max(...bars) : tank.levelM;
  return Math.max(0, from - lowestM) * Math.sin(swingRad);
}

/** Height above the floor at which the highest point of every part hangs. */
export const hangingTopM = ({ tank, rules }: JobTank): number => tank.levelM - rules.partToSurfaceM;

/** What the packer wants to know of each part: its box as it hangs, with room to swing. */
export function hangingItems(
  job: Job & { readonly tank: JobTank },
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
): Result<HangingItem[]> {
  const items: HangingItem[] = [];
  for (const [index, part] of job.parts.entries()) {
    const size = sizes[part.id];
    if (!size) {
      return failure(
        'size-unknown',
        `The size of ${part.name} is not known, so it cannot be fitted into the tank.`,
        'Open its model, or take the tank out of the plan.',
      );
    }
    const swing = swingReachM(job.tank.tank, hangingTopM(job.tank) - size.heightM, job.hanging.swingRad);
    const { areaM2 } = plan[index]!;
    items.push({
      name: part.name,
      quantity: part.quantity,
      areaM2,
      currentA: areaM2 * job.process.currentDensityAPerM2,
      alongM: size.alongM + 2 * swing,
      acrossM: size.acrossM + 2 * swing,
      heightM: size.heightM,
    });
  }
  return success(items);
}

/**
 * Packs the job's pieces into loads that the supply can hold, that hang in the tank with all clearances and room to
 * swing, and that the cathodes serve. Failures: `size-unknown`, `no-cathode`, and those of packHangingLoads.
 * @param plan what takes current, one entry a part, hangers included
 * @param sizes per part id, without swing (see hangingSize)
 */
export function planTank(
  job: Job & { readonly tank: JobTank },
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
): Result<TankPlan> {
  const { tank, rules } = job.tank;
  const items = hangingItems(job, plan, sizes);
  if (!items.ok) return items;
  const cathodeM2 = tank.cathodes.reduce((sum, sheet) => sum + cathodeAreaM2(sheet, tank.levelM), 0);
  if (!(cathodeM2 > 0)) {
    return failure(
      'no-cathode',
      'The tank has no cathode below the surface, so no current can pass.',
      'Add a sheet to the tank, or fill it higher.',
    );
  }
  // The ends of the bus take their share in every load.
  const busM2 = wettedBusEnds(job.hanging.busEnds).areaM2;
  const limitA = job.process.supplyCurrentLimitA;
  const supplyForPieces = limitA === null ? null : limitA - busM2 * job.process.currentDensityAPerM2;
  const servedM2 = cathodeM2 / rules.cathodeRatioLow - busM2;
  if ((supplyForPieces !== null && !(supplyForPieces > 0)) || !(servedM2 > 0)) {
    return failure(
      'bus-ends-too-large',
      'The bus ends below the level alone take all that supply or cathodes can give.',
      'Lift the bars out of the bath, or use titanium there.',
    );
  }
  const rooms = barRooms(tank, rules);
  const packed = packHangingLoads(items.value, {
    supplyCurrentA: supplyForPieces,
    cathodeServesM2: servedM2,
    bars: rooms,
    gapM: rules.partToPartM,
  });
  if (!packed.ok) return packed;
  const loads = packed.value.loads.map(({ pieces, areaM2 }): Load => ({
    areaM2,
    pieces: job.parts.map((_, item) => pieces.reduce((sum, onBar) => sum + (onBar[item] ?? 0), 0)),
  }));
  return success({ rooms, items: items.value, hanging: packed.value, loads });
}

/** Hangs pieces by bar and item in the tank, evenly spaced. */
export function hangPieces(
  job: Job & { readonly tank: JobTank },
  rooms: readonly PlacedBarRoom[],
  sizes: Readonly<Record<string, HangingSize>>,
  pieces: readonly (readonly number[])[],
): Placement[] {
  const items = job.parts.map((part): PlacedItem => {
    const size = sizes[part.id];
    if (!size) throw new RangeError(`hangPieces: no size for part "${part.id}"`);
    const swing = swingReachM(job.tank.tank, hangingTopM(job.tank) - size.heightM, job.hanging.swingRad);
    return {
      partId: part.id,
      rotation: hangingRotation(part.attitude),
      size: { ...size, alongM: size.alongM + 2 * swing, acrossM: size.acrossM + 2 * swing },
    };
  });
  return placeLoad(rooms, items, pieces, hangingTopM(job.tank));
}

/**
 * So many copies of each part in one load, as evenly over the bars as they fit. Failure: `no-room`, with how many do.
 * @param counts by part, in the job's order
 */
export function spreadOverBars(
  rooms: readonly PlacedBarRoom[],
  items: readonly HangingItem[],
  counts: readonly number[],
  gapM: number,
): Result<number[][]> {
  const pieces = rooms.map(() => items.map(() => 0));
  const usedM = rooms.map(() => 0);
  const order = items.map((_, index) => index).sort((a, b) => items[b]!.alongM - items[a]!.alongM);
  for (const index of order) {
    const item = items[index]!;
    for (let copy = 0; copy < (counts[index] ?? 0); copy++) {
      let home = -1;
      let mostLeft = -Infinity;
      rooms.forEach((room, bar) => {
        const left = room.lengthM - usedM[bar]! - item.alongM - (usedM[bar]! > 0 ? gapM : 0);
        const fits =
          left >= -1e-9 && item.acrossM <= room.acrossM + 1e-9 && item.heightM <= room.heightM + 1e-9;
        if (fits && left > mostLeft) {
          home = bar;
          mostLeft = left;
        }
      });
      if (home < 0) {
        return failure(
          'no-room',
          rooms.length === 0
            ? 'The tank has no bar to hang from.'
            : `Only ${copy} of ${counts[index]} of ${item.name} fit with the clearances and the swing you ask for.`,
          rooms.length === 0
            ? 'Add a bar to the tank.'
            : 'Hang fewer at once, turn the part, allow less clearance, or use a larger tank.',
        );
      }
      usedM[home]! += item.alongM + (usedM[home]! > 0 ? gapM : 0);
      pieces[home]![index]! += 1;
    }
  }
  return success(pieces);
}

/** Whether a job has chosen a tank, for the type's sake. */
export const inTank = (job: Job): job is Job & { readonly tank: JobTank } => job.tank !== null;
