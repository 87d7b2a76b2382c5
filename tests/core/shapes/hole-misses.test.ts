import { expect, it } from 'vitest';
import type { ShapeBody, ShapeHole } from '../../../core/job/job-shape.ts';
import { holeMisses } from '../../../core/shapes/hole-misses.ts';

const place = { id: 'b', at: [0, 0, 0], axis: 'z', holes: [] } as never;
const tube: ShapeBody = {
  ...(place as object),
  kind: 'tube',
  outerDiameterM: 0.03,
  wallM: 0.003,
  lengthM: 0.1,
} as never;
const plate: ShapeBody = {
  ...(place as object),
  kind: 'plate',
  lengthM: 0.1,
  widthM: 0.06,
  thicknessM: 0.006,
} as never;
/** 40 × 40 outside, 2 wall, open along x. */
const section: ShapeBody = {
  ...(place as object),
  kind: 'box',
  lengthM: 0.1,
  widthM: 0.04,
  heightM: 0.04,
  wallM: 0.002,
} as never;
const hole = (from: ShapeHole['from'], at: [number, number]): ShapeHole => ({
  id: 'h',
  from,
  at,
  cut: { kind: 'round', diameterM: 0.006 },
  depthM: null,
});

// By drawing: a tube of 30 outside and 3 wall is hollow to 12 from its middle; the hole is 6 wide.
it.each([
  [tube, 'top', [0, 0], true],
  [tube, 'top', [0.0089, 0], true],
  [tube, 'top', [0.0091, 0], false],
  [tube, 'front', [0, 0.05], false],
  [tube, 'front', [0, 0.104], true],
  [tube, 'side', [0.019, 0.05], true],
  [section, 'top', [0, 0], false],
  [section, 'side', [0, 0.02], true],
  [section, 'side', [0, 0.004], false],
  [plate, 'top', [0, 0], false],
  [plate, 'top', [0.054, 0], true],
  [plate, 'top', [0.052, 0], false],
] as const)('%# a hole is said to miss where the drawing has no metal', (body, from, at, misses) => {
  expect(holeMisses(body, hole(from, [...at]))).toBe(misses);
});
