import { dot, frame, type Vec3 } from '../fit-vectors.ts';
import type { Point } from './known-surface.ts';

/** Places about an axis: height along it, distance from it, and the angle round it. */
export class Axial {
  readonly point: Point;
  private readonly u: Vec3;
  private readonly v: Vec3;
  readonly axis: Vec3;

  constructor(point: Point, axis: ArrayLike<number>) {
    this.point = point;
    [this.u, this.v, this.axis] = frame(axis);
  }

  height(p: Point): number {
    return dot(this.arm(p), this.axis);
  }

  radius(p: Point): number {
    const arm = this.arm(p);
    return Math.hypot(dot(arm, this.u), dot(arm, this.v));
  }

  /** Rad, −π to π; 0 on the axis. */
  azimuth(p: Point): number {
    const arm = this.arm(p);
    return Math.atan2(dot(arm, this.v), dot(arm, this.u));
  }

  /** Of a direction that leads away from the axis over `p` by `across` and along it by `along`. */
  directionInto(out: Float64Array, p: Point, across: number, along: number): void {
    const arm = this.arm(p);
    const [x, y] = [dot(arm, this.u), dot(arm, this.v)];
    const radius = Math.hypot(x, y) || 1;
    for (let k = 0; k < 3; k++) {
      out[k] = (across * (x * this.u[k] + y * this.v[k])) / radius + along * this.axis[k];
    }
  }

  private arm(p: Point): Vec3 {
    return [p[0] - this.point[0], p[1] - this.point[1], p[2] - this.point[2]];
  }
}

/** From one angle to another the short way round, rad. */
export function turnTo(from: number, to: number): number {
  const turn = to - from;
  return turn > Math.PI ? turn - 2 * Math.PI : turn < -Math.PI ? turn + 2 * Math.PI : turn;
}
