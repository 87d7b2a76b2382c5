import fc from 'fast-check';
import { expect, it } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { faceWidth } from '../../../core/finish/face-width.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { box, cylinder } from '../../fixtures/shapes.ts';

/** Turned about two axes, so that no face lies along the model's own. */
function turnedBy(positions: Float32Array, a: number, b: number): Float32Array {
  const out = new Float32Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = [positions[i]!, positions[i + 1]!, positions[i + 2]!];
    const [x1, y1] = [x * Math.cos(a) - y * Math.sin(a), x * Math.sin(a) + y * Math.cos(a)];
    out.set([x1, y1 * Math.cos(b) - z * Math.sin(b), y1 * Math.sin(b) + z * Math.cos(b)], i);
  }
  return out;
}

it('of a box’s faces is the shorter of their sides, however it is turned', () => {
  const angle = fc.double({ min: 0, max: 3, noNaN: true });
  const side = fc.integer({ min: 2, max: 40 });
  fc.assert(
    fc.property(side, side, side, angle, angle, (w, d, h, a, b) => {
      const part = analysePart(turnedBy(box(w, d, h), a, b), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
      const widths = Array.from({ length: part.faces.count }, (_, row) => faceWidth(part, row)).sort(
        (x, y) => x - y,
      );
      const sides = [Math.min(w, d), Math.min(w, h), Math.min(d, h)]
        .flatMap((x) => [x, x])
        .sort((x, y) => x - y);
      // Corners are single floats of up to 60: 4e-6 each.
      widths.forEach((width, i) => expect(Math.abs(width - sides[i]!)).toBeLessThan(5e-5));
    }),
    { numRuns: 30 },
  );
});

it('of a round end is its diameter, less what the chord cuts off', () => {
  const part = analysePart(cylinder(10, 5, 64), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  const ends = Array.from({ length: part.faces.count }, (_, row) => row).filter(
    (row) => part.faces.kind[row] === 0,
  );
  // Between parallel sides of a regular 64-gon: 2·r·cos(π/64).
  for (const row of ends) expect(faceWidth(part, row)).toBeCloseTo(20 * Math.cos(Math.PI / 64), 4);
});
