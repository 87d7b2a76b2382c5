import { leastSquares } from './least-squares.ts';

/** Widest over least span up to which the facets of a ring are of one size. */
const ONE_SIZE = 1.06;
/** Spans and turns within this share of one another are equal: drawn so, but for the file's decimals. */
export const EQUAL = 5e-3;
/** Share of equal spans from which on the others are flats, keyways and the like in an even round. */
const MOSTLY = 0.6;

export function isEven(spansRad: readonly number[]): boolean {
  return Math.max(...spansRad) <= ONE_SIZE * Math.min(...spansRad);
}

/** The value in the middle, which is the one that most have where more than half of them have one, and which of them have it. */
export function usual(values: readonly number[]): {
  readonly value: number;
  readonly has: readonly boolean[];
} {
  const value = values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
  return { value, has: values.map((own) => Math.abs(own - value) <= EQUAL * Math.abs(value)) };
}

/**
 * Whether facets that are not of one size look like shapes that were meant: most of one size and a few others (a flat on a
 * shaft), or two sizes by turns (a square bar with chamfers, whose corners lie on a circle too).
 */
export function isFeatured(spansRad: readonly number[], closed: boolean): boolean {
  const count = spansRad.length;
  if (usual(spansRad).has.filter(Boolean).length >= MOSTLY * count) return true;
  const pairs = closed ? count : count - 2;
  for (let i = 0; i < pairs; i++) {
    const next = spansRad[(i + 2) % count];
    if (Math.abs(spansRad[i] - next) > EQUAL * next) return false;
  }
  return count > 3;
}

export interface ProfileCorner {
  readonly radius: number;
  readonly height: number;
}

/**
 * The circle nearest to some corners of a profile, as a function: how far a corner lies off it. Undefined where they make no
 * circle.
 */
export function circleMisfit(
  corners: readonly ProfileCorner[],
): ((corner: ProfileCorner) => number) | undefined {
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
  return ({ radius, height }) =>
    Math.abs(Math.hypot(radius - origin.radius - fit[0], height - origin.height - fit[1]) - r);
}
