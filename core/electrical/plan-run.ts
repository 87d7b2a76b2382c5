import type { Figure, Source } from '../figure/figure.ts';
import type { Process } from '../job/job.ts';
import { CHARGE_CONSTANT_DEFAULT } from '../reference/charge-constant.ts';
import { failure, success, type Result } from '../result.ts';
import { NO_BUS_ENDS, type WettedBusEnds } from '../racking/bus-ends.ts';
import { checkProcess } from './check-process.ts';
import { packLoads, spreadOverLoads, type Load } from './pack-loads.ts';

/**
 * Current and time. The film's volume takes a fixed charge (the charge constant k), so a thickness d over an area A
 * at a density j takes I = j·A for t = k·d/j at full current. A linear ramp from zero passes only half of what full
 * current would have, so half the ramp's time is added to the hold: hold = k·d/j − ramp/2.
 */
export interface PlanItem {
  readonly name: string;
  /** Coated area of one piece, contact patches taken off. */
  readonly areaM2: number;
  /** Range of it, where one is known: facets, incomplete threads. Carried onto amps, charge and thickness. */
  readonly areaLowM2?: number;
  readonly areaHighM2?: number;
  /** Part of `areaM2` that is aluminium wire below the level; shown in the working. */
  readonly hangersM2?: number;
  readonly quantity: number;
  /** Why this area is not yet certain (a guessed unit); carried onto every figure that rests on it. */
  readonly unconfirmed?: string;
}

/** One way to run within the supply's current. */
export interface SupplyOption {
  readonly loads: number;
  readonly currentDensityAPerM2: number;
  /** Largest current of any of the loads. */
  readonly currentA: number;
  /** Ramp and hold of one load. */
  readonly totalPerLoadS: number;
}

/** What the rack says of the loads. */
export interface RackInPlan {
  /** The loads as they hang in the tank. */
  readonly loads?: readonly Load[];
  /** How many loads it would be with at most this area of pieces in each; undefined where they can't be hung so. */
  readonly loadsWithin?: (pieceAreaM2: number) => number | undefined;
  readonly busEnds?: WettedBusEnds;
}

/** Its area is all that takes current in it, bus ends too. */
export interface PlannedLoad extends Load {
  readonly currentA: number;
  readonly chargeC: number;
}

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

/** Ways with fewer loads than planned. */
const MOST_OPTIONS = 7;
const ENTRY: Source = { standing: 'your entry', text: '' };
const PRACTICE: Source = { standing: 'common practice', text: 'density times area' };

/** The constant of the shop's own runs, while it is the one in use. */
export function ownCharge(process: Process): Process['ownCharge'] {
  const { ownCharge: own, chargePerVolumeCPerM3 } = process;
  return own && Math.abs(chargePerVolumeCPerM3 / own.chargePerVolumeCPerM3 - 1) < 1e-6 ? own : undefined;
}

/** Source of the charge constant in use: the published default, the shop's own runs or the user's own number. */
export function chargeConstantSource(process: Process): Source {
  const own = ownCharge(process);
  if (own) return { standing: 'your own runs', text: `${own.count} runs of this shop` };
  const usual = CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3;
  const isDefault = Math.abs(process.chargePerVolumeCPerM3 / usual - 1) < 1e-6;
  return isDefault
    ? CHARGE_CONSTANT_DEFAULT.source
    : { standing: 'your entry', text: 'charge constant typed by you' };
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

function planFigures(
  items: readonly PlanItem[],
  process: Process,
  totalAreaM2: number,
  loads: readonly PlannedLoad[],
  byTank: boolean,
  busEnds: WettedBusEnds,
) {
  const reasons = new Set(items.flatMap((item) => item.unconfirmed ?? []));
  const unconfirmed = reasons.size > 0 ? [...reasons].join('; ') : undefined;
  const mark = unconfirmed === undefined ? {} : { unconfirmed };
  const j = process.currentDensityAPerM2;
  const fullCurrentS = (process.chargePerVolumeCPerM3 * process.thicknessM) / j;
  const ranged = items.some((item) => item.areaLowM2 !== undefined || item.areaHighM2 !== undefined);
  /** Low and high of something that goes with the area of these pieces, in so many loads. */
  const range = (
    perM2: number,
    pieces: readonly number[],
    inLoads: number,
  ): Pick<Figure, 'lowSi' | 'highSi'> =>
    ranged
      ? {
          lowSi: perM2 * (inLoads * busEnds.areaM2 + sumOver(items, pieces, (item) => item.areaLowM2)),
          highSi: perM2 * (inLoads * busEnds.areaM2 + sumOver(items, pieces, (item) => item.areaHighM2)),
        }
      : {};
  const all = items.map((item) => item.quantity);
  const allAtOnceM2 = totalAreaM2 - (loads.length - 1) * busEnds.areaM2;
  const largest = loads.reduce((a, b) => (b.areaM2 > a.areaM2 ? b : a));
  const constant = chargeConstantSource(process);
  const density = { symbol: 'j', label: 'current density', kind: 'currentDensity', valueSi: j } as const;
  const k = {
    symbol: 'k',
    label: 'charge constant',
    kind: 'chargePerVolume',
    valueSi: process.chargePerVolumeCPerM3,
  } as const;
  const d = {
    symbol: 'd',
    label: 'thickness',
    kind: 'length',
    valueSi: process.thicknessM,
    unit: 'µm',
  } as const;
  const ramp = { symbol: 't_r', label: 'ramp', kind: 'time', valueSi: process.rampS } as const;
  const area = (valueSi: number) =>
    ({ symbol: 'A', label: 'area taking current', kind: 'area', valueSi }) as const;
  const figures = {
    areaM2: {
      label: 'Area taking current',
      kind: 'area',
      valueSi: totalAreaM2,
      ...range(1, all, loads.length),
      formula: busEnds.areaM2 > 0 ? 'A = Σ nᵢ · Aᵢ + N · Σ mᵢ · Bᵢ' : 'A = Σ nᵢ · Aᵢ',
      inputs: [
        ...items.flatMap((item, index) => [
          { symbol: `A${index + 1}`, label: item.name, kind: 'area' as const, valueSi: item.areaM2 },
          ...(item.hangersM2
            ? [
                {
                  symbol: `of A${index + 1}`,
                  label: `aluminium wire below the level at ${item.name}`,
                  kind: 'area' as const,
                  valueSi: item.hangersM2,
                },
              ]
            : []),
          {
            symbol: `n${index + 1}`,
            label: `pieces of ${item.name}`,
            kind: 'count' as const,
            valueSi: item.quantity,
          },
        ]),
        ...busEnds.inputs,
        ...(busEnds.areaM2 > 0
          ? [{ symbol: 'N', label: 'loads', kind: 'count' as const, valueSi: loads.length }]
          : []),
      ],
      source: {
        standing: 'measured on the model',
        text: 'surface of the model, round faces and threads corrected; masked, contact and sealed surface left out, aluminium wire and bus ends in the bath added',
      },
      ...mark,
    },
    currentA: {
      label: 'Current, all pieces at once',
      kind: 'current',
      valueSi: j * allAtOnceM2,
      ...range(j, all, 1),
      formula: 'I = j · A',
      inputs: [density, area(allAtOnceM2)],
      source: PRACTICE,
      ...mark,
    },
    loadCurrentA: {
      label: loads.length > 1 ? 'Current, largest load' : 'Current',
      kind: 'current',
      valueSi: largest.currentA,
      ...range(j, largest.pieces, 1),
      formula: 'I = j · A',
      inputs: [density, area(largest.areaM2)],
      source: PRACTICE,
      ...mark,
    },
    rampS: {
      label: 'Ramp',
      kind: 'time',
      valueSi: process.rampS,
      formula: 't_r as entered, current rising evenly from zero',
      inputs: [],
      source: ENTRY,
    },
    holdS: {
      label: 'Hold',
      kind: 'time',
      valueSi: fullCurrentS - process.rampS / 2,
      formula: 't_h = k · d / j − t_r / 2',
      inputs: [k, d, density, ramp],
      source: constant,
    },
    totalS: {
      label: 'Power on',
      kind: 'time',
      valueSi: fullCurrentS + process.rampS / 2,
      formula: 't = t_r + t_h = k · d / j + t_r / 2',
      inputs: [k, d, density, ramp],
      source: constant,
    },
    chargeC: {
      label: 'Charge',
      kind: 'charge',
      valueSi: process.chargePerVolumeCPerM3 * process.thicknessM * totalAreaM2,
      ...range(process.chargePerVolumeCPerM3 * process.thicknessM, all, loads.length),
      formula: 'Q = k · d · A',
      inputs: [k, d, area(totalAreaM2)],
      source: constant,
      ...mark,
    },
    thicknessM: {
      label: 'Thickness',
      kind: 'length',
      unit: 'µm',
      valueSi: process.thicknessM,
      ...(ranged ? thicknessRange(items, process.thicknessM, loads, busEnds.areaM2) : {}),
      formula: ranged ? 'd as entered; at a fixed current d · A / A_high to d · A / A_low' : 'd as entered',
      inputs: ranged
        ? [
            area(totalAreaM2),
            {
              symbol: 'A_low',
              label: 'area taking current, at least',
              kind: 'area',
              valueSi: range(1, all, loads.length).lowSi!,
            },
            {
              symbol: 'A_high',
              label: 'area taking current, at most',
              kind: 'area',
              valueSi: range(1, all, loads.length).highSi!,
            },
          ]
        : [],
      source: ENTRY,
      ...mark,
    },
    loadCount: {
      label: 'Loads',
      kind: 'count',
      valueSi: loads.length,
      formula: byTank
        ? 'fewest loads that hang in the tank with j · A ≤ supply current'
        : 'fewest loads with j · A ≤ supply current',
      inputs:
        process.supplyCurrentLimitA === null
          ? []
          : [
              {
                symbol: 'I_max',
                label: 'supply current',
                kind: 'current',
                valueSi: process.supplyCurrentLimitA,
              },
            ],
      source: PRACTICE,
      ...mark,
    },
  } satisfies Record<string, Figure>;
  return figures;
}

function sumOver(
  items: readonly PlanItem[],
  pieces: readonly number[],
  areaOf: (item: PlanItem) => number | undefined,
): number {
  return items.reduce((sum, item, index) => sum + pieces[index]! * (areaOf(item) ?? item.areaM2), 0);
}

/** The charge is fixed: on less area it makes a thicker film. Widest of the loads. */
function thicknessRange(
  items: readonly PlanItem[],
  thicknessM: number,
  loads: readonly PlannedLoad[],
  busEndsM2: number,
): { readonly lowSi: number; readonly highSi: number } {
  const ratios = loads.map(({ pieces }) => {
    const areaM2 = (areaOf: (item: PlanItem) => number | undefined): number =>
      busEndsM2 + sumOver(items, pieces, areaOf);
    const plannedM2 = areaM2((item) => item.areaM2);
    return {
      low: plannedM2 / areaM2((item) => item.areaHighM2),
      high: plannedM2 / areaM2((item) => item.areaLowM2),
    };
  });
  return {
    lowSi: thicknessM * Math.min(...ratios.map(({ low }) => low)),
    highSi: thicknessM * Math.max(...ratios.map(({ high }) => high)),
  };
}

/**
 * From everything in one load at a low density up to the fewest loads that keep the planned density. Each is what the
 * plan makes of it once its density is taken: in a tank the loads have to hang as well, so that few are not always there.
 */
function supplyOptions(
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
