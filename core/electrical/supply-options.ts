import type { Process } from '../job/job.ts';
import type { WettedBusEnds } from '../racking/bus-ends.ts';
import { packLoads, spreadOverLoads } from './pack-loads.ts';
import type { PlanItem, PlannedLoad, RackInPlan } from './plan-items.ts';

/** One way to run within the supply's current. */
export interface SupplyOption {
  readonly loads: number;
  readonly currentDensityAPerM2: number;
  /** Largest current of any of the loads. */
  readonly currentA: number;
  /** Ramp and hold of one load. */
  readonly totalPerLoadS: number;
}

/** Ways with fewer loads than planned. */
const MOST_OPTIONS = 7;

/**
 * From everything in one load at a low density up to the fewest loads that keep the planned density. Each is what the
 * plan makes of it once its density is taken: in a tank the loads have to hang as well, so that few are not always there.
 */
export function supplyOptions(
  items: readonly PlanItem[],
  process: Process,
  limitA: number,
  planned: readonly PlannedLoad[] | undefined,
  {
    busEnds,
    loadsWithin = (areaM2) => packLoads(items, areaM2)?.loads.length,
  }: { readonly busEnds: WettedBusEnds; readonly loadsWithin: RackInPlan['loadsWithin'] | undefined },
): SupplyOption[] {
  const pieces = items.reduce((sum, item) => sum + item.quantity, 0);
  const most = planned ? planned.length - 1 : pieces;
  const byLoads = new Map<number, SupplyOption>();
  const add = (loads: number, density: number, largestM2: number): void => {
    byLoads.set(loads, {
      loads,
      currentDensityAPerM2: density,
      currentA: Math.min(limitA, density * largestM2),
      totalPerLoadS: (process.chargePerVolumeCPerM3 * process.thicknessM) / density + process.rampS / 2,
    });
  };
  for (let count = 1; count <= most && count <= MOST_OPTIONS; count++) {
    const piecesM2 = Math.max(...spreadOverLoads(items, count).map((load) => load.areaM2));
    const largestM2 = busEnds.areaM2 + piecesM2;
    const density = Math.min(process.currentDensityAPerM2, limitA / largestM2);
    // Where the supply holds the planned density but not so few can be hung, it is the plan itself.
    if (planned && density >= process.currentDensityAPerM2) continue;
    const loads = loadsWithin(limitA / density - busEnds.areaM2);
    if (loads === undefined || (byLoads.get(loads)?.currentDensityAPerM2 ?? 0) >= density) continue;
    add(loads, density, largestM2);
  }
  if (planned) {
    const largestM2 = Math.max(...planned.map(({ areaM2 }) => areaM2));
    add(planned.length, process.currentDensityAPerM2, largestM2);
  }
  return [...byLoads.values()].sort((a, b) => a.loads - b.loads);
}
