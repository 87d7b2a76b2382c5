import { hypot2 } from '../fit-vectors.ts';
import type { Axial } from './axial.ts';
import { turnTo } from './axial.ts';
import type { KnownSurface, Point, SurfaceRow } from './known-surface.ts';

/** Places and weights of a rule for triangles, exact to the third degree: corners, middles of the sides, the middle. */
const CORNER = 1 / 20;
const SIDE = 2 / 15;
const MIDDLE = 9 / 20;

/** A triangle lies between straight lines in the plane of its two angles: round the axis and round the pipe. */
export class TorusSurface implements KnownSurface {
  private readonly axial: Axial;
  private readonly ring: number;
  private readonly pipe: number;

  /** @param about its middle plane at height 0 */
  constructor(about: Axial, ring: number, pipe: number) {
    this.axial = about;
    this.ring = ring;
    this.pipe = pipe;
  }

  asRow(): SurfaceRow {
    return { size: this.pipe, ...this.axial.place };
  }

  off(p: Point): number {
    return hypot2(this.axial.radius(p) - this.ring, this.axial.height(p)) - this.pipe;
  }

  normalInto(out: Float64Array, p: Point): void {
    const round = this.roundPipe(p);
    this.axial.directionInto(out, p, Math.cos(round), Math.sin(round));
  }

  swell(p: Point): number {
    return Math.cos(this.roundPipe(p));
  }

  placeInto(out: Float64Array, at: number, p: Point): void {
    out[at] = this.axial.azimuth(p);
    out[at + 1] = this.roundPipe(p);
  }

  span(places: Float64Array, a: number, b: number): number {
    const round = Math.abs(turnTo(places[a], places[b]));
    return Math.max(round, Math.abs(turnTo(places[a + 1], places[b + 1])));
  }

  areaOver(a: Point, b: Point, c: Point): number {
    const { axial, ring, pipe } = this;
    const [u, v] = [axial.azimuth(a), this.roundPipe(a)];
    const [ub, uc] = [turnTo(u, axial.azimuth(b)), turnTo(u, axial.azimuth(c))];
    const [vb, vc] = [turnTo(v, this.roundPipe(b)), turnTo(v, this.roundPipe(c))];
    const at = (turn: number): number => ring + pipe * Math.cos(v + turn);
    const mean =
      CORNER * (at(0) + at(vb) + at(vc)) +
      SIDE * (at(vb / 2) + at(vc / 2) + at((vb + vc) / 2)) +
      MIDDLE * at((vb + vc) / 3);
    return (mean * pipe * (ub * vc - uc * vb)) / 2;
  }

  bow(a: Point, b: Point): number {
    const { axial, ring, pipe } = this;
    const [v, dv] = [this.roundPipe(a), turnTo(this.roundPipe(a), this.roundPipe(b))];
    const du = turnTo(axial.azimuth(a), axial.azimuth(b));
    // Half way along the line, and the place on the surface nearest to the middle of the chord.
    const half = v + dv / 2;
    const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2];
    const across = ring + pipe * Math.cos(half);
    const offRound = across * turnTo(axial.azimuth(a) + du / 2, axial.azimuth(middle));
    const offPipe = pipe * turnTo(half, this.roundPipe(middle));
    // To the right of the line: seen from outside the azimuth runs to the right and the pipe's angle up.
    const [along, up] = [across * du, pipe * dv];
    const length = hypot2(along, up) || 1;
    return -(offRound * up - offPipe * along) / length;
  }

  private roundPipe(p: Point): number {
    return Math.atan2(this.axial.height(p), this.axial.radius(p) - this.ring);
  }
}
