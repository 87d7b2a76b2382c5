import { describe, expect, it } from 'vitest';
import { roundFeatures } from '../../../core/finish/round-features.ts';
import { threadsForBore } from '../../../core/finish/threads-for-bore.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { arc, box, cylinder, Soup, tube, turned, type Point } from '../../fixtures/shapes.ts';

const find = (positions: Float32Array, metresPerUnit = 1e-3) =>
  roundFeatures(analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD }), metresPerUnit);

describe('bores and bosses', () => {
  it('a tube is a stud outside and a through hole inside, of the sizes it was made with', () => {
    const [outer, inner] = find(tube(12.5, 10, 100, 96));
    expect(outer).toMatchObject({ shape: 'stud', reach: null });
    expect(inner).toMatchObject({ shape: 'hole', reach: 'through' });
    // Ninety-six facets: a chord lies 0.05 % of the radius inside its arc; area loses as much.
    expect(outer!.diameterM * 1000).toBeCloseTo(25, 1);
    expect(inner!.diameterM * 1000).toBeCloseTo(20, 1);
    expect(Math.abs(inner!.lengthM * 1000 - 100)).toBeLessThan(0.3);
  });

  it('a cup’s bore is blind', () => {
    // Outline turned about z: outside up, rim, inside down to a floor at z = 5.
    const cup = turned([[0, 0], [15, 0], [15, 40], [10, 40], [10, 5], [0, 5]], 64); // prettier-ignore
    const hole = find(cup).find((feature) => feature.shape === 'hole')!;
    expect(hole.reach).toBe('blind');
    expect(hole.diameterM * 1000).toBeCloseTo(20, 1);
    expect(Math.abs(hole.lengthM * 1000 - 35)).toBeLessThan(0.3);
  });

  /** A counterbored hole, 12 wide and 6 deep over a 6.6 hole through a 20 plate: outline turned about z. */
  const counterbored = turned([[3.3, 0], [20, 0], [20, 20], [6, 20], [6, 14], [3.3, 14]], 64, true); // prettier-ignore

  it('a counterbored hole is through, the counterbore and the hole below it', () => {
    const holes = find(counterbored).filter(({ shape }) => shape === 'hole');
    expect(holes.map(({ diameterM }) => Math.round(diameterM * 1e4) / 10)).toEqual([12, 6.6]);
    expect(holes.map(({ reach }) => reach)).toEqual(['through', 'through']);
    expect(holes.map(({ slit }) => slit)).toEqual([false, false]);
  });

  it.each([
    // Outlines turned about z: a drill's cone of 118°, a flat floor, a step down to a blind hole, a floor with a pin hole.
    [
      'a drilled hole',
      [
        [0, 0],
        [15, 0],
        [15, 30],
        [5, 30],
        [5, 8],
        [0, 5],
      ],
    ],
    [
      'a milled pocket',
      [
        [0, 0],
        [15, 0],
        [15, 30],
        [5, 30],
        [5, 8],
        [0, 8],
      ],
    ],
    [
      'a pocket with a vent',
      [
        [0.5, 0],
        [15, 0],
        [15, 30],
        [5, 30],
        [5, 8],
        [0.5, 8],
      ],
    ],
  ] as const)('%s is blind', (_what, outline) => {
    const loop = outline[0]![0] > 0;
    const hole = find(turned(outline, 64, loop)).find(({ diameterM }) => Math.abs(diameterM - 0.01) < 1e-4)!;
    expect(hole).toMatchObject({ shape: 'hole', reach: 'blind', slit: false });
  });

  it('the same however the part lies and in whatever unit', () => {
    const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
    const laid = Float32Array.from(counterbored);
    for (let i = 0; i < laid.length; i += 3) {
      const [x, y, z] = [counterbored[i]!, counterbored[i + 1]!, counterbored[i + 2]!];
      laid.set([(c * x + s * z) / 25.4 + 3, y / 25.4 - 1, (c * z - s * x) / 25.4], i);
    }
    const holes = find(laid, 0.0254).filter(({ shape }) => shape === 'hole');
    expect(holes.map(({ reach, slit }) => [reach, slit])).toEqual([
      ['through', false],
      ['through', false],
    ]);
  });

  it('sees the slit of a clamp ring, 90 wide and slit by 2, and no slit in a whole one', () => {
    const slitRing = (gapMm: number): Float32Array => {
      const half = Math.asin(gapMm / 2 / 45);
      const steps = 120;
      const angles = Array.from(
        { length: steps + 1 },
        (_, i) => half + ((2 * Math.PI - 2 * half) * i) / steps,
      );
      const soup = new Soup();
      const at = (r: number, angle: number, z: number): Point => [
        r * Math.cos(angle),
        r * Math.sin(angle),
        z,
      ];
      for (let i = 0; i < steps; i++) {
        const [p, q] = [angles[i]!, angles[i + 1]!];
        soup.polygon(at(55, p, 0), at(55, q, 0), at(55, q, 20), at(55, p, 20));
        soup.polygon(at(45, p, 0), at(45, p, 20), at(45, q, 20), at(45, q, 0));
        soup.polygon(at(45, p, 20), at(55, p, 20), at(55, q, 20), at(45, q, 20));
        soup.polygon(at(45, p, 0), at(45, q, 0), at(55, q, 0), at(55, p, 0));
      }
      const [first, last] = [angles[0]!, angles[steps]!];
      soup.polygon(at(45, first, 0), at(55, first, 0), at(55, first, 20), at(45, first, 20));
      soup.polygon(at(45, last, 0), at(45, last, 20), at(55, last, 20), at(55, last, 0));
      return soup.positions;
    };
    const bore = find(slitRing(2)).find(({ shape }) => shape === 'hole')!;
    expect(bore.diameterM).toBeCloseTo(0.09, 4);
    expect(bore).toMatchObject({ reach: 'through', slit: true });
    expect(find(tube(55, 45, 20, 120)).find(({ shape }) => shape === 'hole')).toMatchObject({ slit: false });
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
    expect(threadsForBore(mm / 1000, 0.02).map((thread) => thread.designation)).toContain(designation);
  });

  it('says nothing of bores that are no core', () => {
    expect(threadsForBore(0.05, 0.1)).toEqual([]);
    expect(threadsForBore(1.8e-3, 0.01)).toEqual([]);
    expect(() => threadsForBore(0, 0.01)).toThrow(RangeError);
  });

  it('takes the counterbore of an M6 cap screw, 11 mm wide and 6.5 mm deep, for no M12 thread', () => {
    // 11 mm is the tap drill of M12x1 as well (workshop tables), so only the depth tells the two apart.
    expect(threadsForBore(0.011, 0.0065)).toEqual([]);
    expect(threadsForBore(0.011, 0.02).map(({ designation }) => designation)).toContain('M12x1-6H');
    // M4 through a plate of 3 mm.
    expect(threadsForBore(0.0033, 0.003).map(({ designation }) => designation)).toContain('M4x0.7-6H');
  });
});
