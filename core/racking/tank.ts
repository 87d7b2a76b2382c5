import type { Pose } from './pose.ts';

/**
 * The tank and what hangs in it. Metres throughout. The tank's own axes: origin in the middle of the floor inside,
 * x along the length (for a round tub any horizontal direction), y across, z up. All sizes are inside sizes.
 */
export interface BoxVessel {
  readonly shape: 'box';
  /** Along x. */
  readonly lengthM: number;
  /** Along y. */
  readonly widthM: number;
  readonly heightM: number;
}

export interface RoundVessel {
  readonly shape: 'round';
  readonly diameterM: number;
  readonly heightM: number;
}

export const CATHODE_MATERIALS = ['lead', 'aluminium', 'steel'] as const;
export type CathodeMaterial = (typeof CATHODE_MATERIALS)[number];

/** Where a sheet is: one of a box's four walls, or a place on the round wall by its angle. */
export type CathodePlace =
  | {
      readonly on: 'wall';
      readonly wall: 'x-' | 'x+' | 'y-' | 'y+';
      /** Middle of the sheet along the wall from the wall's own middle: towards +y on an x wall, towards +x on a y wall. */
      readonly alongM: number;
    }
  | {
      readonly on: 'round';
      /** Middle of the sheet, from x towards y. */
      readonly angleRad: number;
    };

export interface CathodeSheet {
  readonly id: string;
  readonly material: CathodeMaterial;
  readonly place: CathodePlace;
  /** Along the wall; on a round wall measured along the arc of the sheet's face. */
  readonly widthM: number;
  /** Lower edge above the floor. */
  readonly bottomM: number;
  readonly heightM: number;
  readonly thicknessM: number;
  /** From the wall to the sheet's back. */
  readonly standoffM: number;
  /** Whether the side to the wall works too (a sheet standing free of the wall). The front always does. */
  readonly backWorks: boolean;
}

/** A bar across the tank from which parts hang; the hangers' upper ends are at its height. */
export interface BusBar {
  readonly id: string;
  /** Which way it runs. */
  readonly along: 'x' | 'y';
  /** Its place across: the y of a bar along x, the x of a bar along y. */
  readonly acrossM: number;
  readonly fromM: number;
  readonly toM: number;
  /** Underside above the tank's floor. */
  readonly heightM: number;
  readonly role: 'work' | 'cathode';
}

export interface Tank {
  readonly name: string;
  readonly vessel: BoxVessel | RoundVessel;
  /** Liquid above the floor with nothing hung in it. */
  readonly levelM: number;
  readonly cathodes: readonly CathodeSheet[];
  readonly bars: readonly BusBar[];
}

/** One copy of a part in the tank. */
export interface Placement {
  readonly id: string;
  readonly partId: string;
  readonly pose: Pose;
}

/** What must be kept free, and how much cathode a load wants; every number is the shop's to set. */
export interface TankRules {
  readonly partToCathodeM: number;
  readonly partToWallM: number;
  readonly partToFloorM: number;
  /** Depth of liquid over the highest coated point. */
  readonly partToSurfaceM: number;
  readonly partToPartM: number;
  /** Cathode area over part area, smallest and largest. */
  readonly cathodeRatioLow: number;
  readonly cathodeRatioHigh: number;
}

/**
 * Common practice: 150-300 mm from part to cathode; cathode to part 1 : 3 usual for sulfuric acid, 1 : 5 to 1 : 1 met
 * ("Cathode Materials and Cathode/Anode Ratios", trade journal). The small clearances are common practice: they let
 * liquid circulate and keep gas off the surface.
 */
export const USUAL_TANK_RULES: TankRules = {
  partToCathodeM: 0.15,
  partToWallM: 0.03,
  partToFloorM: 0.05,
  partToSurfaceM: 0.03,
  partToPartM: 0.03,
  cathodeRatioLow: 1 / 5,
  cathodeRatioHigh: 1,
};
