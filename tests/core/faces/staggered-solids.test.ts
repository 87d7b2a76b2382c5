/**
 * Turned solids of fixed random sizes drawn with each ring of corners half a step off the one before: areas against their closed forms, within a tenth
 * of the raw error and inside the range.
 */
import { describe, expect, it } from 'vitest';
import { facetCorrection } from '../../../core/faces/facet-correction.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { randomFrom } from '../../fixtures/round-solids.ts';
import { staggeredSolid, type Staggered } from '../../fixtures/staggered-solids.ts';

function expectMeasured(solid: Staggered, round: number, along: number, seed: number): void {
  const fineness = { round, along, uneven: 1, unevenAlong: 1 };
  const { positions, truth, words } = staggeredSolid(solid, fineness, randomFrom(seed));
  const part = analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  expect(part.closed, words).toBe(true);
  const { total } = facetCorrection(part);
  expect(Math.abs((total.corrected - truth) / (part.area - truth)), words).toBeLessThan(0.1);
  // 1e-6: corners are rounded to 32 bits.
  expect(total.low, words).toBeLessThan(truth * (1 + 1e-6));
  expect(total.high, words).toBeGreaterThan(truth * (1 - 1e-6));
}

const seeds = (n: number): number[] => Array.from({ length: n }, (_, i) => 15_485_867 + 7919 * i);

describe('triangles at a rim bend as those inside do', () => {
  it.each([
    [12, 12],
    [12, 24],
    [16, 16],
    [24, 16],
    [64, 12],
    [64, 24],
  ])('a spherical cap, %d round, %d along', (round, along) => {
    for (const seed of seeds(4)) expectMeasured('spherical cap', round, along, seed);
  });
});

describe('a cone bends less the farther from its tip', () => {
  it.each([12, 16, 24])('in rings, with a fan at the tip, %d round', (round) => {
    for (const seed of seeds(8)) expectMeasured('cone in rings', round, 12, seed);
  });

  it.each([12, 16, 24, 64])(
    'a frustum of one row, its flat end in its face where it is nearly flat, %d round',
    (round) => {
      for (const seed of seeds(8)) expectMeasured('frustum', round, 12, seed);
    },
  );
});

describe('a wall is straight up to the round that runs out into it', () => {
  it.each([
    [24, 12],
    [64, 12],
    [64, 24],
  ])('a rod with a round end, %d round, %d along', (round, along) => {
    for (const seed of seeds(4)) expectMeasured('rod with a round end', round, along, seed);
  });
});
