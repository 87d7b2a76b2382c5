/** Compared with every pair of boxes. */
import { describe, expect, it } from 'vitest';
import { overlap, overlapping, type Box } from '../../../core/mesh/shell-boxes.ts';
import { randomFrom } from '../../fixtures/round-solids.ts';

describe.each([
  ['in a row', [100, 1, 1]],
  ['on a plate', [1, 30, 30]],
  ['in a heap', [3, 3, 3]],
])('boxes %s', (_, spread) => {
  it.each([1, 2, 3])('are found beside one another, seed %d', (seed) => {
    const random = randomFrom(seed);
    const boxes = Array.from({ length: 200 }, (): Box => {
      const low = spread.map((size) => size * random());
      return Float64Array.of(...low, ...low.map((value) => value + 2 * random() * random()));
    });
    const slack = 0.01;
    const beside = overlapping(boxes, slack);
    boxes.forEach((box, shell) => {
      const all = boxes.flatMap((other, i) => (i !== shell && overlap(other, box, slack) ? [i] : []));
      expect(beside(shell)).toEqual(all);
    });
  });
});
