import { leastSquares } from './least-squares.ts';

/** A corner of a turned part's outline. */
export interface ProfileCorner {
  readonly radius: number;
  readonly height: number;
}

/** A straight piece of it. */
export type ProfileLine = readonly [ProfileCorner, ProfileCorner];

/** A circle beside the axis. */
export interface ProfileCircle {
  /** How far a corner lies off it. */
  misfit(corner: ProfileCorner): number;
  /** Angle about its centre that a chord spans, rad. */
  spanRad(chord: ProfileLine): number;
  /** Angle between its tangent at a corner and a way, either way along both, rad. */
  leanRad(corner: ProfileCorner, way: readonly [number, number]): number;
}

/** The circle nearest to some corners. Undefined where they make none. */
export function circleThrough(corners: readonly ProfileCorner[]): ProfileCircle | undefined {
  if (corners.some(({ radius, height }) => !Number.isFinite(radius + height))) return undefined;
  const [origin] = corners;
  const fit = leastSquares(3, (add) => {
    for (const corner of corners) {
      const x = corner.radius - origin.radius;
      const y = corner.height - origin.height;
      add([2 * x, 2 * y, 1], x * x + y * y);
    }
  });
  const r = Math.sqrt(fit[2] + fit[0] * fit[0] + fit[1] * fit[1]);
  if (!(r > 0)) return undefined;
  const arm = ({ radius, height }: ProfileCorner): readonly [number, number] => [
    radius - origin.radius - fit[0],
    height - origin.height - fit[1],
  ];
  return {
    misfit: (corner) => Math.abs(Math.hypot(...arm(corner)) - r),
    spanRad: ([one, two]) => angleBetween(arm(one), arm(two)),
    leanRad: (corner, way) => Math.abs(Math.PI / 2 - angleBetween(arm(corner), way)),
  };
}

/** Of two ways in a plane, rad, 0 to π. */
function angleBetween(one: readonly [number, number], two: readonly [number, number]): number {
  return Math.atan2(Math.abs(one[0] * two[1] - one[1] * two[0]), one[0] * two[0] + one[1] * two[1]);
}
