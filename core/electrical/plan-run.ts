import type { Figure } from '../figure/figure.ts';
import type { Process } from '../job/job.ts';
import { NO_BUS_ENDS } from '../racking/bus-ends.ts';
import { failure, success, type Result } from '../result.ts';
import { checkProcess } from './check-process.ts';
import { packLoads, spreadOverLoads } from './pack-loads.ts';
import { planFigures } from './plan-figures.ts';
import type { PlanItem, PlannedLoad, RackInPlan } from './plan-items.ts';
import { supplyOptions, type SupplyOption } from './supply-options.ts';

/**
 * Current and time. The film's volume takes a fixed charge (the charge constant k), so a thickness d over an area A
 * at a density j takes I = j·A for t = k·d/j at full current. A linear ramp from zero passes only half of what full
 * current would have, so half the ramp's time is added to the hold: hold = k·d/j − ramp/2.
 */
export interface RunPlan {
  /** All pieces together. */
  readonly areaM2: Figure;
  /** All pieces at once, at the planned density. */
  readonly currentA: Figure;
  /** The largest load's current: what the supply is set to. Equal to currentA where one load holds everything. */
  readonly loadCurrentA: Figure;
  readonly rampS: Figure;
  readonly holdS: Figure;
  readonly totalS: Figure;
  /** All pieces together. */
  readonly chargeC: Figure;
  /** The largest load's: what its supply's counter comes to. */
  readonly loadChargeC: Figure;
  /** As planned; with a range where the areas have one. */
  readonly thicknessM: Figure;
  readonly loadCount: Figure;
  readonly loads: readonly PlannedLoad[];
  /** Whether the supply holds the planned density in `loads`; true when no limit is given. */
  readonly supplyHolds: boolean;
  /** How many loads the supply alone makes it; 1 when no limit is given, null when it can't hold a piece. */
  readonly loadsBySupply: number | null;
  /** Filled when all pieces at once are too much for the supply. */
  readonly options: readonly SupplyOption[];
}

/**
 * The whole current and time plan, or the first reason why there is none.
 * Failures carry the code of the process field's message (`out-of-range`, `charge-below-faraday`, `ramp-too-long`)
 * or `no-area` when nothing is left to coat.
 * @param rack.loads, rack.loadsWithin as job/tank-plan.ts knows them; without them only the supply decides
 * @param rack.busEnds takes current in each load beside the pieces
 * @throws RangeError when an item's area lies outside its own range
 */
export function planRun(
  items: readonly PlanItem[],
  process: Process,
  { loads: tankLoads, loadsWithin, busEnds = NO_BUS_ENDS }: RackInPlan = {},
): Result<RunPlan> {
  const stop = checkProcess(process).find((message) => message.level === 'stop');
  if (stop) return failure(stop.code, stop.message, stop.remedy);
  for (const { name, areaM2, areaLowM2 = areaM2, areaHighM2 = areaM2 } of items) {
    if (!(areaLowM2 <= areaM2 && areaM2 <= areaHighM2)) {
      throw new RangeError(`planRun: area of ${name} is ${areaM2}, outside ${areaLowM2} to ${areaHighM2}`);
    }
  }
  const piecesM2 = items.reduce((sum, item) => sum + item.areaM2 * item.quantity, 0);
  if (!(piecesM2 > 0)) {
    return failure(
      'no-area',
      'There is no area to coat.',
      'Open a part and leave at least one face set to coat.',
    );
  }
  const density = process.currentDensityAPerM2;
  const limitA = process.supplyCurrentLimitA;
  const roomM2 = limitA === null ? Infinity : limitA / density - busEnds.areaM2;
  const packing = limitA !== null && roomM2 > 0 ? packLoads(items, roomM2) : undefined;
  const supplyHolds = limitA === null || packing !== undefined;
  const loads = (tankLoads ?? packing?.loads ?? spreadOverLoads(items, 1)).map(({ pieces, areaM2 }) => {
    const takingM2 = areaM2 + busEnds.areaM2;
    return {
      pieces,
      areaM2: takingM2,
      currentA: density * takingM2,
      chargeC: process.chargePerVolumeCPerM3 * process.thicknessM * takingM2,
    };
  });
  const totalAreaM2 = piecesM2 + loads.length * busEnds.areaM2;
  const tooMuch = limitA !== null && density * (piecesM2 + busEnds.areaM2) > limitA * (1 + 1e-9);
  return success({
    ...planFigures(items, process, totalAreaM2, loads, tankLoads !== undefined, busEnds),
    loads,
    supplyHolds,
    loadsBySupply: limitA === null ? 1 : (packing?.loads.length ?? null),
    options: tooMuch
      ? supplyOptions(items, process, limitA, supplyHolds ? loads : undefined, { loadsWithin, busEnds })
      : [],
  });
}
