import { frame, hypot2, type Vec3 } from '../fit-vectors.ts';
import type { Point } from './known-surface.ts';

/** Places about an axis: height along it, distance from it, and the angle round it. */
export class Axial {
  private readonly point: Point;
  private readonly u: Vec3;
  private readonly v: Vec3;
  readonly axis: Vec3;

  constructor(point: Point, axis: ArrayLike<number>) {
    this.point = point;
    [this.u, this.v, this.axis] = frame(axis);
  }

  get place(): { readonly axis: Vec3; readonly point: Vec3 } {
    return { axis: this.axis, point: [this.point[0], this.point[1], this.point[2]] };
  }

  height(p: Point): number {
    return this.along(p, this.axis);
  }

  radius(p: Point): number {
    return hypot2(this.along(p, this.u), this.along(p, this.v));
  }

  /** Rad, −π to π; 0 on the axis. */
  azimuth(p: Point): number {
    return Math.atan2(this.along(p, this.v), this.along(p, this.u));
  }

  /** Of a direction that leads away from the axis over `p` by `across` and along it by `along`. */
  directionInto(out: Float64Array, p: Point, across: number, along: number): void {
    const x = this.along(p, this.u);
    const y = this.along(p, this.v);
    const radius = hypot2(x, y) || 1;
    for (let k = 0; k < 3; k++) {
      out[k] = (across * (x * this.u[k] + y * this.v[k])) / radius + along * this.axis[k];
    }
  }

  private along(p: Point, way: Vec3): number {
    const { point } = this;
    return (p[0] - point[0]) * way[0] + (p[1] - point[1]) * way[1] + (p[2] - point[2]) * way[2];
  }
}

/** From one angle to another the short way round, rad. */
export function turnTo(from: number, to: number): number {
  const turn = to - from;
  return turn > Math.PI ? turn - 2 * Math.PI : turn < -Math.PI ? turn + 2 * Math.PI : turn;
}
