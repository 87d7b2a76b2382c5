import { describe, expect, test } from 'vitest';
import { restUnderMany } from '../../../core/racking/rest-under-many.ts';
import type { Vec3 } from '../../../core/racking/vec3.ts';
import { seeded } from './solids.ts';

const restOf = (pins: readonly Vec3[], centre: Vec3, up: Vec3 = [0, 0, 1]) => {
  const rest = restUnderMany(pins, centre, up);
  if (!rest.ok) throw new Error(rest.error.message);
  return rest.value;
};

describe('three hangers', () => {
  test('random triangles: upright forces and their moments balance, and the heights of pins do not matter', () => {
    const random = seeded(4);
    let inside = 0;
    for (let round = 0; round < 300; round++) {
      const place = (): Vec3 => [random() * 100, random() * 100, random() * 20];
      const pins = [place(), place(), place()];
      const centre = place();
      const rest = restUnderMany(pins, centre, [0, 0, 1]);
      if (!rest.ok) continue;
      inside++;
      const { shares } = rest.value;
      const sum = (axis: 0 | 1): number => shares.reduce((all, share, i) => all + share * pins[i]![axis], 0);
      expect(shares.reduce((all, share) => all + share, 0)).toBeCloseTo(1, 12);
      expect(sum(0)).toBeCloseTo(centre[0], 9);
      expect(sum(1)).toBeCloseTo(centre[1], 9);
      expect(Math.min(...shares)).toBeGreaterThanOrEqual(0);
    }
    // A point of a square is inside a random triangle of it with 11/144 (Sylvester): 23 of 300.
    expect(inside).toBeGreaterThan(10);
    expect(inside).toBeLessThan(40);
  });

  test('centre above the centroid: a third each, in any attitude', () => {
    const rest = restOf(
      [
        [5, 3, 0],
        [5, 0, 6],
        [-2, 0, 0],
      ],
      [9, 1, 2],
      [2, 0, 0],
    );
    rest.shares.forEach((share) => expect(share).toBeCloseTo(1 / 3, 12));
    expect([rest.up, rest.tiltRad]).toEqual([[1, 0, 0], 0]);
  });
});

test('four at the corners of a square: the middle may hang from two opposite ones alone, so 0 to 50 % each', () => {
  const square: Vec3[] = [
    [0, 0, 0],
    [10, 0, 0],
    [10, 10, 0],
    [0, 10, 0],
  ];
  const rest = restOf(square, [5, 5, -3]);
  expect(rest.shares).toEqual([]);
  rest.leastShares.forEach((share) => expect(share).toBeCloseTo(0, 12));
  rest.mostShares.forEach((share) => expect(share).toBeCloseTo(0.5, 12));
  // At (2, 1): brute force over the one free share t of [0,0] in steps of 1e-4: the others follow from the balance.
  let [low, high] = [1, 0];
  for (let step = 0; step <= 10_000; step++) {
    const t = step / 10_000;
    // s1 + s2 = 0.2, s2 + s3 = 0.1, t + s1 + s2 + s3 = 1.
    const s3 = 0.8 - t;
    const s2 = 0.1 - s3;
    const s1 = 0.2 - s2;
    if (Math.min(s1, s2, s3) < 0) continue;
    low = Math.min(low, t);
    high = Math.max(high, t);
  }
  const aside = restOf(square, [2, 1, 0]);
  // Half a step of the brute force.
  expect(Math.abs(aside.leastShares[0]! - low)).toBeLessThan(1e-4);
  expect(Math.abs(aside.mostShares[0]! - high)).toBeLessThan(1e-4);
});

test('what cannot hang so is refused: all in one line from above, the centre outside', () => {
  const line = restUnderMany(
    [
      [0, 0, 0],
      [5, 0, 9],
      [9, 0, 1],
    ],
    [4, 0, -5],
    [0, 0, 1],
  );
  expect(!line.ok && line.error.code).toBe('hangers-in-line');
  const outside = restUnderMany(
    [
      [0, 0, 0],
      [5, 0, 0],
      [0, 5, 0],
    ],
    [4, 4, 0],
    [0, 0, 1],
  );
  expect(!outside.ok && outside.error.code).toBe('hanger-unloaded');
  expect(() => restUnderMany([[0, 0, 0]], [0, 0, 0], [0, 0, 1])).toThrow(RangeError);
});
