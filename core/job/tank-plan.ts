import type { Load } from '../electrical/pack-loads.ts';
import type { PlanItem } from '../electrical/plan-items.ts';
import { wettedBusEnds } from '../racking/bus-ends.ts';
import { barRooms, type PlacedBarRoom } from '../racking/bar-rooms.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import { cathodeAreaM2 } from '../racking/cathode-shape.ts';
import type { HangingSize } from '../racking/hanging-size.ts';
import { fitsBar, takenM } from '../racking/load-packer.ts';
import { packHangingLoads, type HangingItem, type HangingPlan } from '../racking/pack-hanging-loads.ts';
import { STILL_PART, swingReachM, swingUnderBar, type PartSwing } from '../racking/part-swing.ts';
import { placeLoad, type PlacedItem } from '../racking/place-load.ts';
import { rotate, rotationForUp } from '../racking/pose.ts';
import type { Placement } from '../racking/tank.ts';
import { whyNoRoom } from '../racking/why-no-room.ts';
import { failure, success, type Result } from '../result.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { Attitude } from './job-hanging.ts';
import type { JobTank } from './job-tank.ts';
import type { Job, Part } from './job.ts';

/** As much of a job with a tank as its loads rest on. */
export type PackingJob = Pick<Job, 'hanging' | 'process'> & {
  readonly tank: JobTank;
  readonly parts: readonly Pick<Part, 'id' | 'name' | 'quantity' | 'attitude' | 'contacts' | 'unit'>[];
};

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

/** As much of a box as says how deep it hangs. */
type Depth = Pick<HangingSize, 'heightM' | 'depthM'>;

/**
 * Height above the floor at which the lowest point of a part hangs: its level at the liquid's where it stands out, else its
 * highest point as far under the surface as is kept.
 */
export const lowestHungM = ({ tank, rules }: JobTank, { heightM, depthM }: Depth): number =>
  tank.levelM - (depthM ?? heightM + rules.partToSurfaceM);

/** What the packer wants to know of each part: the box around it as it hangs, at rest. */
export function hangingItems(
  job: PackingJob,
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
): Result<HangingItem[]> {
  const items: HangingItem[] = [];
  for (const [index, part] of job.parts.entries()) {
    const size = sizes[part.id];
    if (!size) {
      return failure(
        'size-unknown',
        `The size of ${part.name} is not known, so nobody can say whether it fits the tank; the loads follow the supply alone.`,
        'Measure it against the tank yourself, with your clearances, or open its model.',
      );
    }
    const { areaM2 } = plan[index]!;
    const { alongM, acrossM, heightM, depthM } = size;
    const swing = hungSwing(job, part, size);
    items.push({
      name: part.name,
      quantity: part.quantity,
      areaM2,
      currentA: areaM2 * job.process.currentDensityAPerM2,
      alongM,
      acrossM,
      heightM: depthM ?? heightM,
      ...(depthM === undefined ? {} : { standsOut: true }),
      swingAlongM: swing.alongM,
    });
  }
  return success(items);
}

/**
 * How far a part swings as it hangs under a bar. Where its wires are is told by its pins; without any it is taken to hang
 * by one.
 */
export function hungSwing(
  job: PackingJob,
  part: Pick<Part, 'attitude' | 'contacts' | 'unit'>,
  depth: Depth,
): PartSwing {
  const reachM = swingReachM(job.tank.tank, lowestHungM(job.tank, depth), job.hanging.swingRad);
  const rotation = hangingRotation(part.attitude);
  const scale = metresPerUnit(part.unit);
  return swingUnderBar(
    reachM,
    part.contacts.map(({ at }) => scale * rotate(rotation, at)[0]),
  );
}

/** Rooms under the bars for these parts; several ways in a round tub, where a narrower room is a longer one. */
export function roomsFor(job: PackingJob, items: readonly HangingItem[]): PlacedBarRoom[][] {
  const { tank, rules } = job.tank;
  const hung = items.filter(({ quantity }) => quantity > 0);
  const widestM = Math.max(0, ...hung.flatMap(({ alongM, acrossM }) => [alongM, acrossM]));
  // Kinds of which none hangs keep nothing clear.
  const swings = items.map(({ quantity, heightM, standsOut }, index) =>
    quantity > 0
      ? hungSwing(job, job.parts[index]!, standsOut ? { heightM, depthM: heightM } : { heightM })
      : STILL_PART,
  );
  const standOut = items.map((item) => item.standsOut ?? false);
  if (tank.vessel.shape === 'box' || hung.length === 0) {
    return [barRooms(tank, rules, { swings, standOut, widestM })];
  }
  const halves = new Set([Math.max(...hung.map(({ acrossM }) => acrossM / 2)), undefined]);
  return [...halves].map((roundHalfM) =>
    barRooms(tank, rules, { swings, standOut, widestM, ...(roundHalfM === undefined ? {} : { roundHalfM }) }),
  );
}

/**
 * Packs the job's pieces into loads that the supply can hold, that hang in the tank with all clearances at rest and
 * without touching when they swing, and that the cathodes serve. Failures: `size-unknown`, `no-cathode`, `bus-ends-too-large`,
 * and those of packHangingLoads.
 * @param plan what takes current, one entry a part, hangers included
 * @param sizes per part id, at rest (see hangingSize)
 */
export function planTank(
  job: PackingJob,
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
  system: UnitSystem = 'metric',
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
  const choices = roomsFor(job, items.value);
  const gapM = rules.partToPartM;
  const limits = { supplyCurrentA: supplyForPieces, cathodeServesM2: servedM2, gapM };
  // The way that holds everything in fewest loads; of failures the first.
  const { rooms, made } = choices
    .map((bars) => ({ rooms: bars, made: packHangingLoads(items.value, { ...limits, bars }, system) }))
    .reduce((best, now) =>
      now.made.ok && (!best.made.ok || now.made.value.loads.length < best.made.value.loads.length)
        ? now
        : best,
    );
  if (!made.ok) return made;
  const loads = made.value.loads.map(({ pieces, areaM2 }): Load => ({
    areaM2,
    pieces: job.parts.map((_, item) => pieces.reduce((sum, onBar) => sum + (onBar[item] ?? 0), 0)),
  }));
  return success({
    rooms,
    items: items.value,
    hanging: made.value,
    loads,
  });
}

/** How many loads it would be with at most this area of pieces in each, m²; undefined where they can't be hung so. */
export function loadsWithin(
  job: PackingJob,
  plan: readonly PlanItem[],
  sizes: Readonly<Record<string, HangingSize>>,
  pieceAreaM2: number,
): number | undefined {
  const busM2 = wettedBusEnds(job.hanging.busEnds).areaM2;
  const supplyCurrentLimitA = (pieceAreaM2 + busM2) * job.process.currentDensityAPerM2;
  if (!(pieceAreaM2 > 0)) return undefined;
  const made = planTank({ ...job, process: { ...job.process, supplyCurrentLimitA } }, plan, sizes);
  return made.ok ? made.value.loads.length : undefined;
}

/** Hangs pieces by bar and item in the tank, evenly spaced. */
export function hangPieces(
  job: PackingJob,
  rooms: readonly PlacedBarRoom[],
  sizes: Readonly<Record<string, HangingSize>>,
  pieces: readonly (readonly number[])[],
): Placement[] {
  const items = job.parts.map((part): PlacedItem => {
    const size = sizes[part.id];
    if (!size) throw new RangeError(`hangPieces: no size for part "${part.id}"`);
    const swingAlongM = hungSwing(job, part, size).alongM;
    const lowestM = lowestHungM(job.tank, size);
    return { partId: part.id, rotation: hangingRotation(part.attitude), size, swingAlongM, lowestM };
  });
  return placeLoad(rooms, items, pieces, job.tank.rules.partToPartM);
}

/**
 * So many copies of each part in one load, as evenly over the bars as they fit. Failures: `no-bar`, and `no-room` with
 * how many do.
 * @param counts by part, in the job's order
 */
export function spreadOverBars(
  rooms: readonly PlacedBarRoom[],
  items: readonly HangingItem[],
  counts: readonly number[],
  gapM: number,
  system: UnitSystem = 'metric',
): Result<number[][]> {
  const pieces = rooms.map(() => items.map(() => 0));
  const usedM = rooms.map(() => 0);
  const order = items.map((_, index) => index).sort((a, b) => items[b]!.alongM - items[a]!.alongM);
  for (const index of order) {
    const item = items[index]!;
    const wanted = counts[index] ?? 0;
    const never = wanted > 0 ? whyNoRoom(item, index, rooms, gapM, system) : undefined;
    if (never) return never;
    for (let copy = 0; copy < wanted; copy++) {
      let home = -1;
      let mostLeft = -Infinity;
      rooms.forEach((room, bar) => {
        const left = room.lengthM + gapM - usedM[bar]! - takenM(item, gapM);
        if (left >= -1e-9 && fitsBar(item, index, room, gapM) && left > mostLeft) {
          home = bar;
          mostLeft = left;
        }
      });
      if (home < 0) {
        const kept = 'with the clearances and the swing you ask for';
        return failure(
          'no-room',
          copy === 0
            ? `No ${item.name} fits beside the rest ${kept}.`
            : `Only ${copy} of ${wanted} of ${item.name} ${copy === 1 ? 'fits' : 'fit'} ${kept}.`,
          'Hang fewer at once, turn the part, allow less clearance, or use a larger tank.',
        );
      }
      usedM[home]! += takenM(item, gapM);
      pieces[home]![index]! += 1;
    }
  }
  return success(pieces);
}

/** Whether a job has chosen a tank, for the type's sake. */
export const inTank = (job: Job): job is Job & { readonly tank: JobTank } => job.tank !== null;
