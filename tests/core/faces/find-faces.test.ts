import { describe, expect, it } from 'vitest';
import { FACE_KINDS } from '../../../core/faces/face-table.ts';
import { growSmooth } from '../../../core/faces/grow-smooth.ts';
import { sameShape } from '../../../core/faces/same-shape.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { arc, box, cylinder, placed, Soup, tube, turned } from '../../fixtures/shapes.ts';

const analyse = (positions: Float32Array): PartGeometry =>
  analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });

describe('growing over smooth borders', () => {
  // A knob whose top runs over a fillet into its side; its foot is sharp.
  const knob = analyse(turned([[0, 0], [20, 0], ...arc(17, 27, 3, 0, Math.PI / 2, 8), [0, 30]], 64)); // prettier-ignore
  const row = (kind: string, where: (z: number) => boolean): number =>
    Array.from({ length: knob.faces.count }, (_, i) => i).find(
      (i) => FACE_KINDS[knob.faces.kind[i]] === kind && where(knob.faces.point[3 * i + 2]),
    )!;
  const foot = row('plane', (z) => z < 1);
  const top = row('plane', (z) => z > 29);

  it('goes from the top over the fillet to the side, not round the sharp foot', () => {
    expect(knob.faces.count).toBe(4);
    const grown = growSmooth(knob.faces, [top], DEFAULT_SPLIT_ANGLE_RAD);
    expect(grown.length).toBe(3);
    expect(grown).not.toContain(foot);
    expect(grown).toContain(top);
  });

  it('stays where no border is smooth enough, and takes several starts', () => {
    expect(growSmooth(knob.faces, [foot], DEFAULT_SPLIT_ANGLE_RAD)).toEqual([foot]);
    expect(growSmooth(knob.faces, [top], 0.001)).toEqual([top]);
    expect(growSmooth(knob.faces, [foot, top], DEFAULT_SPLIT_ANGLE_RAD)).toEqual([0, 1, 2, 3]);
    expect(growSmooth(knob.faces, [], Math.PI)).toEqual([]);
    expect(growSmooth(knob.faces, [foot], Math.PI)).toEqual([0, 1, 2, 3]);
    expect(() => growSmooth(knob.faces, [4], 1)).toThrow(RangeError);
  });
});

describe('faces of the same shape', () => {
  it('finds all bores of one size, and neither the pin of that size nor a longer bore', () => {
    const at = (positions: Float32Array, x: number): Float32Array => placed(positions, { shift: [x, 0, 0] });
    const parts = analyse(
      new Soup()
        .add(tube(12, 6, 20, 32))
        .add(at(tube(12, 6, 20, 48), 40))
        .add(at(cylinder(6, 20, 32), 80))
        .add(at(tube(12, 6, 25, 32), 120))
        .add(at(tube(12, 6.2, 20, 32), 160)).positions,
    );
    const bores = Array.from({ length: parts.faces.count }, (_, i) => i).filter((i) => parts.faces.inward[i]);
    expect(bores.length).toBe(4);
    expect(sameShape(parts.faces, [bores[0]])).toEqual([bores[0], bores[1]]);
    expect(sameShape(parts.faces, [bores[0]], 0.05)).toEqual([bores[0], bores[1], bores[3]]);
    expect(sameShape(parts.faces, [bores[2]])).toEqual([bores[2]]);
  });

  it('pairs the sides of a box', () => {
    const { faces } = analyse(box(10, 20, 30));
    for (let row = 0; row < 6; row++) expect(sameShape(faces, [row]).length).toBe(2);
    expect(sameShape(faces, [0, 1, 2, 3, 4, 5])).toEqual([0, 1, 2, 3, 4, 5]);
    expect(() => sameShape(faces, [6])).toThrow(RangeError);
  });
});
