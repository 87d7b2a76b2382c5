import type { KnownSurface, Point, SurfacePlace } from './known-surface.ts';

/** A triangle lies between great circles. */
export class SphereSurface implements KnownSurface {
  private readonly centre: Point;
  private readonly radius: number;

  constructor(centre: Point, radius: number) {
    this.centre = centre;
    this.radius = radius;
  }

  place(): SurfacePlace {
    return { size: this.radius, axis: [0, 0, 0], point: this.centre };
  }

  off(p: Point): number {
    return Math.hypot(...this.arm(p)) - this.radius;
  }

  normalInto(out: Float64Array, p: Point): void {
    const [x, y, z] = this.arm(p);
    const length = Math.hypot(x, y, z) || 1;
    out[0] = x / length;
    out[1] = y / length;
    out[2] = z / length;
  }

  swell(): number {
    return 0;
  }

  span(a: Point, b: Point): number {
    const [p, q] = [this.arm(a), this.arm(b)];
    const cosine = (p[0] * q[0] + p[1] * q[1] + p[2] * q[2]) / (Math.hypot(...p) * Math.hypot(...q));
    return Math.acos(Math.max(-1, Math.min(1, cosine)));
  }

  /** By the spherical excess: van Oosterom and Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125. */
  areaOver(a: Point, b: Point, c: Point): number {
    const [p, q, r] = [a, b, c].map((corner) => {
      const arm = this.arm(corner);
      const length = Math.hypot(...arm) || 1;
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
