import fc from 'fast-check';
import { expect, test } from 'vitest';
import { marksAside } from '../../../renderer/viewport/mark-places.ts';

test('a sign alone stands on its place', () => {
  expect(marksAside([{ x: 5, y: 7 }], 10, [])).toEqual([{ x: 0, y: 0 }]);
});

test('two places one behind the other are both to be read, and neither lies on a badge (fast-check)', () => {
  const place = fc.record({ x: fc.integer({ min: 0, max: 400 }), y: fc.integer({ min: 0, max: 400 }) });
  fc.assert(
    fc.property(place, fc.array(place, { maxLength: 2 }), (at, badges) => {
      const taken = badges.map((badge) => ({ ...badge, radiusPx: 15 }));
      const steps = marksAside([at, at], 10, taken);
      const [one, two] = steps.map((step) => ({ x: at.x + step.x, y: at.y + step.y }));
      expect(Math.max(Math.abs(one!.x - two!.x), Math.abs(one!.y - two!.y))).toBeGreaterThanOrEqual(20);
      for (const sign of [one!, two!]) {
        for (const badge of badges) {
          expect(Math.max(Math.abs(sign.x - badge.x), Math.abs(sign.y - badge.y))).toBeGreaterThanOrEqual(25);
        }
      }
    }),
  );
});

test('where there is no room at all they stay', () => {
  expect(marksAside([{ x: 0, y: 0 }], 10, [{ x: 0, y: 0, radiusPx: 500 }])).toEqual([{ x: 0, y: 0 }]);
});
