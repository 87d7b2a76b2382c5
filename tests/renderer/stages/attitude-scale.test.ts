import { converter } from 'culori';
import { expect, it } from 'vitest';
import { spreadDirections } from '../../../core/racking/search-attitudes.ts';
import { angleBetween } from '../../../core/racking/vec3.ts';
import { nearestTo, neighbourBy, onDisc, scoreColour } from '../../../renderer/stages/attitude-scale.ts';

const attitudes = spreadDirections(500).map((up) => ({ up }));

it('the scale rises in lightness with every step, so that it reads without hue', () => {
  const oklab = converter('oklab');
  const lightness = Array.from({ length: 21 }, (_, i) => oklab(scoreColour(i / 20))!.l);
  for (let i = 1; i < lightness.length; i++) expect(lightness[i]!).toBeGreaterThan(lightness[i - 1]!);
  expect(lightness.at(-1)! - lightness[0]!).toBeGreaterThan(0.5);
});

it('equal areas of the sphere are equal areas of the discs (Lambert): evenly spread directions stay even', () => {
  // Inside half the radius lies a quarter of the disc, so a quarter of each half of the sphere.
  const discs = attitudes.map(({ up }) => onDisc(up));
  expect(discs.every(({ x, y }) => Math.hypot(x, y) <= 1)).toBe(true);
  const upper = discs.filter(({ disc }) => disc === 'upper');
  const inner = upper.filter(({ x, y }) => Math.hypot(x, y) < 0.5);
  // 250 spots: a quarter to within one ring of the spiral.
  expect(inner.length / upper.length).toBeCloseTo(0.25, 2);
});

it('every attitude is reached with arrow keys, and a step is a short one', () => {
  const arrows = [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const;
  const reached = new Set([0]);
  const open = [0];
  while (open.length > 0) {
    const from = open.pop()!;
    for (const arrow of arrows) {
      const to = neighbourBy(attitudes, from, arrow);
      if (reached.has(to)) continue;
      reached.add(to);
      open.push(to);
    }
  }
  // Spots between two strides of every neighbour are still there for the pointer.
  expect(reached.size).toBeGreaterThan(0.9 * attitudes.length);
  const from = nearestTo(attitudes, [0, 0, 1]);
  const right = neighbourBy(attitudes, from, [1, 0]);
  expect(attitudes[right]!.up[0]).toBeGreaterThan(attitudes[from]!.up[0]);
  // 500 on the sphere are about 9° apart.
  expect(angleBetween(attitudes[from]!.up, attitudes[right]!.up)).toBeLessThan(0.3);
});
