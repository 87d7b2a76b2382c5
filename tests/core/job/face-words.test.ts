import { describe, expect, it } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { describeFaces, faceWords } from '../../../core/job/face-words.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';

/** A ring turned about z, of 96 facets: outer and inner radius and height in mm, closed. */
function ring(outer: number, inner: number, height: number): Float32Array {
  const sides = 96;
  const profile = [
    [inner, 0],
    [outer, 0],
    [outer, height],
    [inner, height],
  ];
  const out: number[] = [];
  for (let i = 0; i < sides; i++) {
    for (let j = 0; j < 4; j++) {
      const at = (side: number, corner: number): number[] => {
        const turn = (2 * Math.PI * (side % sides)) / sides;
        const [r, z] = profile[corner % 4]!;
        return [r! * Math.cos(turn), r! * Math.sin(turn), z!];
      };
      const [a, b, c, d] = [at(i, j), at(i, j + 1), at(i + 1, j + 1), at(i + 1, j)];
      out.push(...a, ...d, ...c, ...a, ...c, ...b);
    }
  }
  return new Float32Array(out);
}

const { faces } = analysePart(ring(20, 6, 10), [{ name: 'ring', firstTriangle: 0, triangleCount: 768 }], {
  splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD,
});
const rows = [...Array(faces.count).keys()];

describe('faces in words', () => {
  // The corners of a facetted round lie on the round itself, so its diameter is the drawn one.
  it('tells the hole, the outside and the two flats of a ring apart, with their size', () => {
    expect(rows.map((row) => faceWords(faces, row, 1e-3, 'metric')).sort()).toEqual([
      'flat',
      'flat',
      'hole or inside round ⌀ 12.0 mm',
      'round ⌀ 40.0 mm',
    ]);
  });

  it('gives inches to those who work in them, whatever the unit of the model', () => {
    const words = rows.map((row) => faceWords(faces, row, 0.0254, 'us'));
    expect(words).toContain('hole or inside round ⌀ 12.0 in');
  });

  it('puts faces that look alike on one line and loses none', () => {
    const lines = describeFaces(faces, rows, 1e-3, 'metric');
    expect(lines).toHaveLength(3);
    expect(lines.find((line) => line.startsWith('flat'))).toMatch(/^flat: f\d, f\d$/);
    expect(lines.join(' ').match(/f\d/g)).toHaveLength(4);
  });

  it('refuses a face that is not there', () => {
    expect(() => faceWords(faces, faces.count, 1e-3, 'metric')).toThrow(/row: no face 4 among 4/);
  });
});
