import type { Axial } from './axial.ts';
import { turnTo } from './axial.ts';
import type { KnownSurface, Point, SurfaceRow } from './known-surface.ts';

/** Nearer to its tip, as a share of the slant of the others, a corner has no place round the axis. */
const AT_TIP = 1e-6;

/** Unrolled it is a sector: a triangle lies between straight lines there. */
export class ConeSurface implements KnownSurface {
  /** From the tip on, the axis the way the cone opens. */
  private readonly axial: Axial;
  private readonly sine: number;
  private readonly cosine: number;

  /** @param halfAngleRad between axis and surface, 0 to π/2 */
  constructor(fromTip: Axial, halfAngleRad: number) {
    this.axial = fromTip;
    this.sine = Math.sin(halfAngleRad);
    this.cosine = Math.cos(halfAngleRad);
  }

  asRow(): SurfaceRow {
    return { size: Math.atan2(this.sine, this.cosine), ...this.axial.place };
  }

  off(p: Point): number {
    return this.axial.radius(p) * this.cosine - this.axial.height(p) * this.sine;
  }

  normalInto(out: Float64Array, p: Point): void {
    this.axial.directionInto(out, p, this.cosine, -this.sine);
  }

  swell(p: Point): number {
    return this.axial.height(p);
  }

  placeInto(out: Float64Array, at: number, p: Point): void {
    out[at] = this.axial.azimuth(p);
    out[at + 1] = this.axial.height(p);
  }

  span(places: Float64Array, a: number, b: number): number {
    const p = places[a + 1];
    const q = places[b + 1];
    if (Math.min(p, q) < AT_TIP * Math.max(p, q)) return 0;
    return Math.abs(turnTo(places[a], places[b]));
  }

  areaOver(a: Point, b: Point, c: Point): number {
    const slants = [a, b, c].map((p) => this.axial.height(p) / this.cosine);
    const longest = Math.max(...slants);
    const known = slants.findIndex((slant) => slant > AT_TIP * longest);
    const from = this.axial.azimuth([a, b, c][known] ?? a);
    const [p, q, r] = [a, b, c].map((corner, i) => {
      const turn = slants[i] > AT_TIP * longest ? turnTo(from, this.axial.azimuth(corner)) * this.sine : 0;
      return [slants[i] * Math.cos(turn), slants[i] * Math.sin(turn)];
    });
    // Seen from outside, with the tip below, the azimuth runs to the right and the slant up.
    return -((q[0] - p[0]) * (r[1] - p[1]) - (r[0] - p[0]) * (q[1] - p[1])) / 2;
  }

  bow(): number {
    return 0;
  }
}
