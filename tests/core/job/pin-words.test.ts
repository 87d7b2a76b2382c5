import { expect, it } from 'vitest';
import { pinPlaces } from '../../../core/job/pin-words.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { boxTriangles } from '../../fixtures/model-bytes.ts';

it('a pin is told by what its face looks like and where on the model it is, in the reader’s unit', () => {
  const geometry = analysePart(Float32Array.from(boxTriangles(2, 1, 0.5).flat()), [], { splitAngleRad: 0.6 });
  const onTop = boxTriangles(2, 1, 0.5).findIndex((t) => t.every((x, i) => i % 3 !== 2 || x === 0.5));
  const part = {
    unit: 'in' as const,
    contacts: [
      { id: 'a', at: [1, 0.25, 0.5], triangle: onTop },
      { id: 'off', at: [1, 1, 1], triangle: 999 },
    ] as never,
  };
  // 1 in is 25.4 mm.
  expect(pinPlaces(part, geometry, 'us').get('a')).toMatch(/^flat \(f\d+\) at x 1, y 0.25, z 0.5 in$/);
  expect(pinPlaces(part, geometry, 'metric').get('a')).toMatch(/at x 25.4, y 6.3|at x 25.4, y 6.4/);
  expect(pinPlaces(part, geometry, 'us').has('off')).toBe(false);
});
