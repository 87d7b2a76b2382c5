/** Widest over least span up to which the facets of a ring are of one size. */
const ONE_SIZE = 1.06;
/** Spans and turns within this share of one another are equal: drawn so, but for the file's decimals. */
export const EQUAL = 5e-3;
/** Share of equal spans from which on the others are flats, keyways and the like in an even round. */
const MOSTLY = 0.6;

export function isEven(spansRad: readonly number[]): boolean {
  return areEven(Math.min(...spansRad), Math.max(...spansRad));
}

/** The same of their least and widest. */
export function areEven(least: number, widest: number): boolean {
  return widest <= ONE_SIZE * least;
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
  if (usual(spansRad).has.filter(Boolean).length >= MOSTLY * spansRad.length) return true;
  return areByTurns(spansRad, closed);
}

/** Whether every span is as wide as the one after the next. */
export function areByTurns(spansRad: ArrayLike<number>, closed: boolean): boolean {
  const count = spansRad.length;
  const pairs = closed ? count : count - 2;
  for (let i = 0; i < pairs; i++) {
    const next = spansRad[(i + 2) % count];
    if (Math.abs(spansRad[i] - next) > EQUAL * next) return false;
  }
  return count > 3;
}
