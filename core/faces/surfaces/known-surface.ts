import type { Vec3 } from '../fit-vectors.ts';

/** A point of space or a direction; the vectors handed in are read only. */
export type Point = ArrayLike<number>;

/** Numbers that say where a point lies, at most. */
export const PLACE = 4;

/** Radius of a cylinder, sphere or pipe, or a cone's half-angle, rad; direction of the axis; a place on it or the centre. */
export interface SurfaceRow {
  readonly size: number;
  readonly axis: Vec3;
  readonly point: Vec3;
}

/** A cylinder, cone, sphere or torus on which all corners of a face lie. Lengths in model units. */
export interface KnownSurface {
  /** As a row of a table of faces says it. */
  asRow(): SurfaceRow;
  /** How far a point lies off it, positive away from its axis or centre. */
  off(p: Point): number;
  /** Direction away from its axis or centre over a point, unit length. */
  normalInto(out: Float64Array, p: Point): void;
  /** How far the surface comes out over a point, up to a factor and a sum, when a cone opens or a torus's ring widens; 0 of others. */
  swell(p: Point): number;
  /** Where a point lies on it, for spans: PLACE numbers from `at` on. Each corner belongs to six triangles. */
  placeInto(out: Float64Array, at: number, p: Point): void;
  /** How far the surface turns from one corner to another, round its axis or its pipe, rad; `a` and `b` are where their places begin. */
  span(places: Float64Array, a: number, b: number): number;
  /**
   * Area on the surface over a triangle with its corners on it, negative where the triangle faces the axis. It lies between lines that depend on
   * two corners alone: over a whole face all but those along its border cancel out, however its triangles were cut.
   */
  areaOver(a: Point, b: Point, c: Point): number;
  /**
   * How far those lines lie to the right of the plane through the chord and the surface's normal in the middle, seen from outside.
   * 0 where they lie in it.
   */
  bow(a: Point, b: Point): number;
}
