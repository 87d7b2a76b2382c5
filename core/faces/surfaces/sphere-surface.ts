import { hypot3 } from '../fit-vectors.ts';
import type { KnownSurface, Point, SurfaceRow } from './known-surface.ts';

/** A triangle lies between great circles. */
export class SphereSurface implements KnownSurface {
  private readonly centre: Point;
  private readonly radius: number;

  constructor(centre: Point, radius: number) {
    this.centre = centre;
    this.radius = radius;
  }

  asRow(): SurfaceRow {
    const { centre } = this;
    return { size: this.radius, axis: [0, 0, 0], point: [centre[0], centre[1], centre[2]] };
  }

  off(p: Point): number {
    const { centre } = this;
    return hypot3(p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]) - this.radius;
  }

  normalInto(out: Float64Array, p: Point): void {
    const [x, y, z] = this.arm(p);
    const length = hypot3(x, y, z) || 1;
    out[0] = x / length;
    out[1] = y / length;
    out[2] = z / length;
  }

  swell(): number {
    return 0;
  }

  placeInto(out: Float64Array, at: number, p: Point): void {
    const [x, y, z] = this.arm(p);
    out[at] = x;
    out[at + 1] = y;
    out[at + 2] = z;
    out[at + 3] = hypot3(x, y, z);
  }

  span(places: Float64Array, a: number, b: number): number {
    const cosine =
      (places[a] * places[b] + places[a + 1] * places[b + 1] + places[a + 2] * places[b + 2]) /
      (places[a + 3] * places[b + 3]);
    return Math.acos(Math.max(-1, Math.min(1, cosine)));
  }

  /** By the spherical excess: van Oosterom and Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125. */
  areaOver(a: Point, b: Point, c: Point): number {
    const [p, q, r] = [a, b, c].map((corner) => {
      const arm = this.arm(corner);
      const length = hypot3(arm[0], arm[1], arm[2]) || 1;
      return [arm[0] / length, arm[1] / length, arm[2] / length];
    });
    const triple =
      p[0] * (q[1] * r[2] - q[2] * r[1]) +
      p[1] * (q[2] * r[0] - q[0] * r[2]) +
      p[2] * (q[0] * r[1] - q[1] * r[0]);
    const cosines =
      p[0] * q[0] +
      p[1] * q[1] +
      p[2] * q[2] +
      (q[0] * r[0] + q[1] * r[1] + q[2] * r[2]) +
      (r[0] * p[0] + r[1] * p[1] + r[2] * p[2]);
    return 2 * this.radius ** 2 * Math.atan2(triple, 1 + cosines);
  }

  bow(): number {
    return 0;
  }

  private arm(p: Point): readonly [number, number, number] {
    return [p[0] - this.centre[0], p[1] - this.centre[1], p[2] - this.centre[2]];
  }
}
