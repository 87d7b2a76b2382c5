import { describe, expect, it } from 'vitest';
import { roundFeatures } from '../../../core/finish/round-features.ts';
import { threadsForBore } from '../../../core/finish/threads-for-bore.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { arc, box, cylinder, tube, turned } from '../../fixtures/shapes.ts';

const find = (positions: Float32Array, metresPerUnit = 1e-3) =>
  roundFeatures(analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD }), metresPerUnit);

describe('bores and bosses', () => {
  it('a tube is a stud outside and a through hole inside, of the sizes it was made with', () => {
    const [outer, inner] = find(tube(12.5, 10, 100, 96));
    expect(outer).toMatchObject({ shape: 'stud', through: true });
    expect(inner).toMatchObject({ shape: 'hole', through: true });
    // Ninety-six facets: a chord lies 0.05 % of the radius inside its arc; area loses as much.
    expect(outer!.diameterM * 1000).toBeCloseTo(25, 1);
    expect(inner!.diameterM * 1000).toBeCloseTo(20, 1);
    expect(Math.abs(inner!.lengthM * 1000 - 100)).toBeLessThan(0.3);
  });

  it('a cup’s bore is blind', () => {
    // Outline turned about z: outside up, rim, inside down to a floor at z = 5.
    const cup = turned([[0, 0], [15, 0], [15, 40], [10, 40], [10, 5], [0, 5]], 64); // prettier-ignore
    const hole = find(cup).find((feature) => feature.shape === 'hole')!;
    expect(hole.through).toBe(false);
    expect(hole.diameterM * 1000).toBeCloseTo(20, 1);
    expect(Math.abs(hole.lengthM * 1000 - 35)).toBeLessThan(0.3);
  });

  it('leaves fillets and boxes out, and follows the unit', () => {
    expect(find(box(10, 20, 30))).toEqual([]);
    const knob = turned([[0, 0], [20, 0], ...arc(17, 27, 3, 0, Math.PI / 2, 8), [0, 30]], 64); // prettier-ignore
    expect(find(knob).map((feature) => feature.shape)).toEqual(['stud']);
    expect(find(cylinder(0.5, 2, 64), 0.0254)[0]!.diameterM).toBeCloseTo(0.0254, 4);
    expect(() => find(box(1, 1, 1), 0)).toThrow(RangeError);
  });
});

describe('threads a bore may stand for', () => {
  it.each([
    // Usual tap drills, workshop tables.
    [2.5, 'M3x0.5-6H'],
    [3.3, 'M4x0.7-6H'],
    [4.2, 'M5x0.8-6H'],
    [5.0, 'M6x1-6H'],
    [6.8, 'M8x1.25-6H'],
    [8.5, 'M10x1.5-6H'],
    [10.2, 'M12x1.75-6H'],
    [5.105, '1/4-20 UNC-2B'],
    [7.938, '3/8-16 UNC-2B'],
    [4.04, '10-32 UNF-2B'],
  ])('%d mm may be %s', (mm, designation) => {
    expect(threadsForBore(mm / 1000).map((thread) => thread.designation)).toContain(designation);
  });

  it('says nothing of bores that are no core', () => {
    expect(threadsForBore(0.05)).toEqual([]);
    expect(threadsForBore(1.8e-3)).toEqual([]);
    expect(() => threadsForBore(0)).toThrow(RangeError);
  });
});
