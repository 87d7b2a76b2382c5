import { failure, success, type Result } from '../result.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { EXACT, LoadPacker } from './load-packer.ts';
import { whyNoRoom } from './why-no-room.ts';

/** One kind of piece as it hangs: the box around it. */
export interface HangingItem {
  readonly name: string;
  readonly quantity: number;
  readonly areaM2: number;
  readonly currentA: number;
  /** Along the bar. */
  readonly alongM: number;
  /** Across the bar, both sides together. */
  readonly acrossM: number;
  /** From the highest to the lowest point; of one that stands out of the liquid, from the level to the lowest point. */
  readonly heightM: number;
  /** Its level is the liquid's, so nothing is kept over it. */
  readonly standsOut?: boolean;
  /** How far it swings along the bar to each side; nothing where it is left out. */
  readonly swingAlongM?: number;
}

/** A distance that was taken off a room. */
export interface RoomLimit {
  readonly to: 'cathode' | 'wall' | 'next bar' | 'end of the bar' | 'surface' | 'floor';
  readonly keptM: number;
  /** The swing asks for it, not the shop's own clearance. */
  readonly bySwing: boolean;
}

/** What one bar has room for; clearances to walls, cathodes, floor and surface are taken off already. */
export interface BarRoom {
  readonly id: string;
  /** As the user is told of it. */
  readonly name?: string;
  readonly lengthM: number;
  /** For the kind that swings least. */
  readonly acrossM: number;
  readonly heightM: number;
  /** By item: its own width, as it swings its own way, and what was taken off, so that a refusal can name it. */
  readonly own?: readonly {
    readonly acrossM: number;
    /** Its own depth; the bar's where it is left out. */
    readonly heightM?: number;
    readonly limits: Readonly<Record<'along' | 'across' | 'height', readonly RoomLimit[]>>;
  }[];
}

export interface LoadLimits {
  /** null where the supply has no limit to be kept. */
  readonly supplyCurrentA: number | null;
  /** Most coated area that the cathodes serve; null to leave it out. */
  readonly cathodeServesM2: number | null;
  readonly bars: readonly BarRoom[];
  /** Between two parts on one bar. */
  readonly gapM: number;
}

export type LoadLimit = 'supply' | 'cathode' | 'tank';

export interface HangingLoad {
  /** Pieces by bar and item: `pieces[bar][item]`. */
  readonly pieces: readonly (readonly number[])[];
  readonly areaM2: number;
  readonly currentA: number;
  /** How much of each limit is used, 0 to 1; a limit that is not set is 0. */
  readonly used: Readonly<Record<LoadLimit, number>>;
  /** What keeps one more piece of any kind out; `none` while every kind would still fit. */
  readonly limitedBy: LoadLimit | 'none';
  readonly text: string;
}

export interface HangingPlan {
  readonly loads: readonly HangingLoad[];
  /** No way of hanging these boxes in a row under each bar needs fewer than this. */
  readonly fewestPossible: number;
  /** True when `loads` is known to be the fewest for these boxes, in rows, turned as they are. */
  readonly provenFewest: boolean;
  /** By supply and cathode alone: however the parts are hung or turned, no fewer loads will do. */
  readonly fewestHoweverHung: number;
}

const MOST_PIECES = 20_000;

/**
 * Puts pieces on bars and bars into loads, so that supply, cathode and room hold in every load: as few loads as can be
 * found, then as even in area as that many allow.
 *
 * First-fit decreasing by three orders gives a start; where it is above the bound that nothing can beat, a search with
 * a limit on its steps tries one load fewer, again and again. Evening moves and swaps pieces between loads as long as
 * the larger of the two shrinks, within all limits.
 * Failures: `piece-too-large` (with what it is too large for), `too-many-pieces`.
 */
export function packHangingLoads(
  items: readonly HangingItem[],
  limits: LoadLimits,
  system: UnitSystem = 'metric',
): Result<HangingPlan> {
  checkArguments(items, limits);
  const count = items.reduce((sum, item) => sum + item.quantity, 0);
  if (count > MOST_PIECES) {
    return failure('too-many-pieces', `${count} pieces are more than one job holds.`, 'Split the job.');
  }
  for (const [index, item] of items.entries()) {
    if (item.quantity === 0) continue;
    const reason = whyNever(item, index, limits, system);
    if (reason) return reason;
  }
  if (count === 0) return success({ loads: [], fewestPossible: 0, provenFewest: true, fewestHoweverHung: 0 });
  const packer = new LoadPacker(items, limits);
  const fewestPossible = packer.lowerBound();
  let best = packer.firstFit();
  let proven = best.length === fewestPossible;
  while (!proven) {
    const fewer = packer.search(best.length - 1);
    if (fewer.loads) best = fewer.loads;
    proven = fewer.exhausted || best.length === fewestPossible;
    if (!fewer.loads) break;
  }
  packer.even(best);
  return success({
    loads: best.map((load) => packer.describe(load)),
    fewestPossible,
    provenFewest: proven,
    fewestHoweverHung: packer.lowerBoundWithoutRoom(),
  });
}

function checkArguments(items: readonly HangingItem[], limits: LoadLimits): void {
  for (const item of items) {
    if (!(Number.isInteger(item.quantity) && item.quantity >= 0)) {
      throw new RangeError(`packHangingLoads: quantity of ${item.name} is ${item.quantity}`);
    }
    for (const key of ['areaM2', 'currentA', 'alongM', 'acrossM', 'heightM', 'swingAlongM'] as const) {
      const value = item[key] ?? 0;
      if (!(value >= 0 && Number.isFinite(value))) {
        throw new RangeError(`packHangingLoads: ${key} of ${item.name} is ${value}`);
      }
    }
  }
  if (!(limits.gapM >= 0)) throw new RangeError(`packHangingLoads: gapM is ${limits.gapM}`);
  for (const key of ['supplyCurrentA', 'cathodeServesM2'] as const) {
    const value = limits[key];
    if (value !== null && !(value > 0)) throw new RangeError(`packHangingLoads: ${key} is ${value}`);
  }
}

function whyNever(
  item: HangingItem,
  index: number,
  limits: LoadLimits,
  system: UnitSystem,
): ReturnType<typeof failure> | undefined {
  if (limits.supplyCurrentA !== null && item.currentA > limits.supplyCurrentA * EXACT) {
    return failure(
      'piece-too-large',
      `One ${item.name} alone takes ${item.currentA.toFixed(2)} A, more than the ${Number(limits.supplyCurrentA.toFixed(2))} A the supply has for it.`,
      'Lower the current density, mask more of it, or use a larger supply.',
    );
  }
  if (limits.cathodeServesM2 !== null && item.areaM2 > limits.cathodeServesM2 * EXACT) {
    const area = (value: number): string => formatQuantity('area', value, system).text;
    return failure(
      'piece-too-large',
      `One ${item.name} alone has ${area(item.areaM2)}, and the cathodes serve ${area(limits.cathodeServesM2)}.`,
      'Add cathode area, or allow a smaller cathode to part ratio.',
    );
  }
  return whyNoRoom(item, index, limits.bars, limits.gapM, system);
}
