import type { Axial } from './axial.ts';
import { turnTo } from './axial.ts';
import type { KnownSurface, Point, SurfaceRow } from './known-surface.ts';

/** Unrolled it is a plane: a triangle lies between straight lines there, helices on it. */
export class CylinderSurface implements KnownSurface {
  private readonly axial: Axial;
  private readonly radius: number;

  constructor(axial: Axial, radius: number) {
    this.axial = axial;
    this.radius = radius;
  }

  asRow(): SurfaceRow {
    return { size: this.radius, ...this.axial.place };
  }

  off(p: Point): number {
    return this.axial.radius(p) - this.radius;
  }

  normalInto(out: Float64Array, p: Point): void {
    this.axial.directionInto(out, p, 1, 0);
  }

  swell(): number {
    return 0;
  }

  placeInto(out: Float64Array, at: number, p: Point): void {
    out[at] = this.axial.azimuth(p);
  }

  span(places: Float64Array, a: number, b: number): number {
    return Math.abs(turnTo(places[a], places[b]));
  }

  areaOver(a: Point, b: Point, c: Point): number {
    const { axial } = this;
    const at = axial.azimuth(a);
    const [xb, xc] = [turnTo(at, axial.azimuth(b)), turnTo(at, axial.azimuth(c))];
    const height = axial.height(a);
    const [zb, zc] = [axial.height(b) - height, axial.height(c) - height];
    return (this.radius * (xb * zc - xc * zb)) / 2;
  }

  bow(): number {
    return 0;
  }
}
