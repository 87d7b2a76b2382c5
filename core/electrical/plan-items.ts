import type { WettedBusEnds } from '../racking/bus-ends.ts';
import type { Load } from './pack-loads.ts';

/** What takes current: one entry a part. */
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
