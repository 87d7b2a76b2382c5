import type { ElectrodeLaw } from './electrode-law.ts';

/** A round patch without current: a contact. */
export interface ContactSpot {
  readonly atM: readonly [number, number, number];
  readonly radiusM: number;
  /** Outward unit normal where it sits; surface that looks another way (the back of a thin sheet) is left alone. */
  readonly facing?: readonly [number, number, number];
}

/** Something closed in the bath, or the vessel round it. Places in m, in the tank's own axes, z up. */
export interface FieldBody {
  readonly name: string;
  /** Current leaves an anode, enters a cathode, and does neither at an insulator. */
  readonly role: 'anode' | 'cathode' | 'insulator';
  /** True when the bath is inside this surface (a round tub), false when it is outside (a part). */
  readonly holdsBath?: boolean;
  /** 9 numbers a triangle, counter-clockwise seen from outside of the closed surface; outward also for a vessel. */
  readonly positionsM: Float64Array;
  /** Per triangle, 1 where the surface is masked or otherwise carries no current. */
  readonly insulated?: Uint8Array;
  readonly spots?: readonly ContactSpot[];
  /** Required of anodes and cathodes. */
  readonly law?: ElectrodeLaw;
}

export type WallSide = 'x-' | 'x+' | 'y-' | 'y+' | 'z-' | 'z+';

/** A sheet lying on one side of the box: low and high of its two other coordinates, x before y before z. */
export interface WallCathode {
  readonly name: string;
  readonly wall: WallSide;
  readonly lowM: readonly [number, number];
  readonly highM: readonly [number, number];
  readonly law: ElectrodeLaw;
}

/** The liquid: a box whose sides carry no current (glass, plastic, air above), and what is in it. */
export interface Bath {
  readonly minM: readonly [number, number, number];
  /** maxM[2] is the level of the liquid. */
  readonly maxM: readonly [number, number, number];
  readonly conductivitySPerM: number;
  readonly bodies: readonly FieldBody[];
  readonly wallCathodes: readonly WallCathode[];
}
