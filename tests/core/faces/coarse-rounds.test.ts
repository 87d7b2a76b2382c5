/**
 * Rounds drawn with few or very uneven facets, against their closed forms: the range holds the truth whatever the
 * facets, the figure is within a tenth of the raw error from 12 facets on, and below that the user is asked.
 */
import { describe, expect, it } from 'vitest';
import { facetCorrection, type FacetCorrection } from '../../../core/faces/facet-correction.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { drawSolid, randomFrom, SOLIDS } from '../../fixtures/round-solids.ts';
import { arc, box, cylinder, extruded, placed, tube, turned } from '../../fixtures/shapes.ts';

const PI = Math.PI;
const analyse = (positions: Float32Array): PartGeometry =>
  analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
const correct = (positions: Float32Array): FacetCorrection => facetCorrection(analyse(positions));

describe.each(SOLIDS)('%s, of random size', (solid) => {
  describe.each([1, 2, 3])('facets up to %d times as wide as others', (ratio) => {
    it.each([8, 9, 10, 11, 12, 13, 16, 24, 64])('%d round', (n) => {
      for (let i = 0; i < 4; i++) {
        const seed = 1000 * n + 100 * ratio + 31 * i + solid.length;
        const { positions, truth, words } = drawSolid(solid, n, ratio, randomFrom(seed));
        const part = analyse(placed(positions, { turn: [0.3, 0.4, 0.5, Math.sqrt(0.5)] }));
        const { total } = facetCorrection(part);
        // 1e-6: corners are rounded to 32 bits.
        expect(total.low, words).toBeLessThan(truth * (1 + 1e-6));
        expect(total.high, words).toBeGreaterThan(truth * (1 - 1e-6));
        if (n >= 12) {
          expect(Math.abs((total.corrected - truth) / (part.area - truth)), words).toBeLessThan(0.1);
        }
      }
    });
  });
});

describe('even facets, 8 to 11 round: the same mesh as a bar with flats', () => {
  const truth = 2 * PI * 400 + 200 * PI;
  it.each([8, 9, 10])('%d: one question about all of them, flats until answered, both in the range', (n) => {
    const part = analyse(cylinder(10, 40, n));
    const made = facetCorrection(part);
    expect(made.ambiguous).toHaveLength(1);
    const [one] = made.ambiguous;
    expect(one).toMatchObject({ facetCount: n, taken: 'flat' });
    expect(one!.faces).toHaveLength(n);
    expect(one!.stepRad).toBeCloseTo((2 * PI) / n, 4);
    expect(made.total.corrected / part.area).toBeCloseTo(1, 9);
    expect(made.total.low).toBeLessThanOrEqual(part.area);
    expect(made.total.high).toBeGreaterThan(truth);
    // Prism and cylinder: 2 n r sin(π/n) h against 2πrh. What is left of the difference at 45° is 5 % of it.
    expect(one!.flatArea).toBeCloseTo(2 * n * 10 * Math.sin(PI / n) * 40, 2);
    expect(Math.abs(one!.roundArea - 800 * PI)).toBeLessThan(0.06 * (800 * PI - one!.flatArea));

    const answered = (is: 'round' | 'flat'): FacetCorrection =>
      facetCorrection(part, { answers: new Map(one!.faces.map((face) => [face, is])) });
    const round = answered('round');
    expect(round.ambiguous).toEqual([]);
    expect(Math.abs(round.total.corrected - truth)).toBeLessThan(0.05 * (truth - part.area));
    expect(round.total.corrected - made.total.corrected).toBeCloseTo(one!.gainOfPart, 6);
    expect(round.total.low).toBeGreaterThan(part.area);
    expect(round.total.high).toBeGreaterThan(truth);
    const flat = answered('flat');
    expect(flat.ambiguous).toEqual([]);
    expect(flat.total.high / part.area).toBeCloseTo(1, 9);
  });

  it('one answer of many is enough, as where a face was set before the others were found', () => {
    const part = analyse(cylinder(10, 40, 8));
    const [one] = facetCorrection(part).ambiguous;
    const made = facetCorrection(part, { answers: new Map([[one!.faces[3]!, 'round']]) });
    expect(made.ambiguous).toEqual([]);
    expect(Math.abs(made.total.corrected / truth - 1)).toBeLessThan(0.003);
  });

  it('a tube: one question for the outside, one for the bore', () => {
    const made = correct(tube(20, 12, 30, 8));
    expect(made.ambiguous.map(({ faces }) => faces.length)).toEqual([8, 8]);
    const both = 2 * PI * 32 * 30 + 2 * PI * (400 - 144);
    expect(made.total.low).toBeLessThan(both);
    expect(made.total.high).toBeGreaterThan(both);
  });

  it('a rod with a point of as many facets: one question for both', () => {
    const made = correct(turned([[0, 0], [10, 0], [10, 30], [0, 36]], 8)); // prettier-ignore
    expect(made.ambiguous).toHaveLength(1);
    expect(made.ambiguous[0]!.faces).toHaveLength(9);
    expect(made.ambiguous[0]!.taken).toBe('flat');
  });

  it('a ring whose section has eight sides: a torus or flats', () => {
    const section = arc(30, 0, 5, 0, 2 * PI, 8).slice(0, -1);
    const part = analyse(turned(section, 64, true));
    const made = facetCorrection(part);
    expect(made.ambiguous).toHaveLength(1);
    expect(made.ambiguous[0]).toMatchObject({ facetCount: 8, taken: 'flat' });
    expect(made.total.high).toBeGreaterThan(4 * PI * PI * 150);
  });
});

it.each([15, 17, 19, 21])(
  'a rod whose point turns by about a crease stays a rod with a point, seed %d',
  (i) => {
    const seed = 15485863 * i + 32452843 * 8 + 37;
    const { positions, truth, words } = drawSolid('rod with a point', 8, 3, randomFrom(seed));
    const part = analyse(positions);
    const { total } = facetCorrection(part);
    expect(total.low, words).toBeLessThan(truth);
    expect(total.high, words).toBeGreaterThan(truth);
    expect(Math.abs((total.corrected - truth) / (part.area - truth)), words).toBeLessThan(0.1);
  },
);

describe('arcs', () => {
  /** A slot's outline and its area, the ends drawn with `steps` chords. */
  const slot = (steps: number): Float32Array =>
    extruded([...arc(20, 0, 8, -PI / 2, PI / 2, steps), ...arc(-20, 0, 8, PI / 2, 1.5 * PI, steps)], 20);
  const truth = 20 * (80 + 16 * PI) + 2 * (640 + 64 * PI);

  it.each([4, 5, 6])(
    'ends of a slot with %d chords run into its sides tangent: round, not asked',
    (steps) => {
      const part = analyse(slot(steps));
      const { total, ambiguous } = facetCorrection(part);
      expect(ambiguous).toEqual([]);
      expect(Math.abs((total.corrected - truth) / (part.area - truth))).toBeLessThan(0.1);
      expect(total.low).toBeLessThan(truth);
      expect(total.high).toBeGreaterThan(truth);
    },
  );

  it('edges rounded with two chords are double chamfers as well: asked, flats until answered', () => {
    const quarter = (x: number, y: number, from: number): [number, number][] =>
      arc(x, y, 3, from, from + PI / 2, 2);
    const outline = [
      ...quarter(20, 10, 0),
      ...quarter(-20, 10, PI / 2),
      ...quarter(-20, -10, PI),
      ...quarter(20, -10, 1.5 * PI),
    ];
    const part = analyse(extruded(outline, 50));
    const made = facetCorrection(part);
    const round = (120 + 6 * PI) * 50 + 2 * (46 * 26 - (4 - PI) * 9);
    expect(made.ambiguous).toHaveLength(4);
    expect(made.total.corrected / part.area).toBeCloseTo(1, 9);
    expect(made.total.high).toBeGreaterThan(round);
  });
});

describe('zones that turn by more than a crease', () => {
  const r = 20;
  const f = 6;
  /** Corners of an arc whose chords span these angles, in degrees. */
  const chords = (
    cx: number,
    cz: number,
    radius: number,
    from: number,
    spans: number[],
  ): [number, number][] =>
    [0, ...spans].map((_, i) => {
      const angle = ((from + spans.slice(0, i).reduce((sum, span) => sum + span, 0)) * PI) / 180;
      return [cx + radius * Math.cos(angle), cz + radius * Math.sin(angle)];
    });
  const flank = ([r1, z1]: readonly number[], [r2, z2]: readonly number[]): number =>
    PI * (r1! + r2!) * Math.hypot(r1! - r2!, z1! - z2!);
  // Pappus: arc length π/2 · f about the axis at its centroid, 2f/π from the centre; a zone of a sphere 2πrh.
  const filletArea = PI * PI * (r - f) * f + 2 * PI * f * f;
  const coveArea = PI * PI * (r + f) * f - 2 * PI * f * f;

  describe.each([12, 64])('%d round', (n) => {
    it.each<[string, [number, number][], number]>([
      [
        'a fillet of three chords',
        [[0, 0], [r, 0], ...chords(r - f, 30, f, 0, [14, 42, 34]), [0, 30 + f]],
        PI * r * r + 2 * PI * r * 30 + filletArea + PI * (r - f) ** 2,
      ],
      [
        '… of which two are alike',
        [[0, 0], [r, 0], ...chords(r - f, 30, f, 0, [16, 37, 37]), [0, 30 + f]],
        PI * r * r + 2 * PI * r * 30 + filletArea + PI * (r - f) ** 2,
      ],
      [
        'a cove of three chords',
        [[0, 0], [40, 0], [40, 5], ...chords(r + f, 5 + f, f, -90, [-34, -42, -14]), [r, 40], [0, 40]],
        PI * 1600 + 400 * PI + PI * (1600 - (r + f) ** 2) + coveArea + 2 * PI * r * (35 - f) + PI * r * r,
      ],
      [
        'a dome of three zones',
        [[0, 0], [r, 0], ...chords(0, 30, r, 0, [20, 30, 40])],
        PI * r * r + 2 * PI * r * 30 + 2 * PI * r * r,
      ],
    ])('%s is a round', (_, profile, truth) => {
      const part = analyse(turned(profile.map(([x, z]) => [Math.abs(x) < 1e-9 ? 0 : x, z]), n)); // prettier-ignore
      const { total, ambiguous } = facetCorrection(part);
      // At most whether a wall is flats all round.
      for (const { stepRad } of ambiguous) expect(stepRad).toBeCloseTo((2 * PI) / n, 4);
      expect(Math.abs((total.corrected - truth) / (part.area - truth))).toBeLessThan(0.06);
      expect(total.low).toBeLessThan(truth);
      expect(total.high).toBeGreaterThan(truth);
    });

    it('three bevels that turn like it but are as wide as they please stay bevels', () => {
      const bevels: [number, number][] = [[0, 0], [r, 0], [r, 30]]; // prettier-ignore
      for (const [degrees, width] of [
        [7, 3],
        [35, 3],
        [73, 3],
      ] as const) {
        const [x, z] = bevels.at(-1)!;
        bevels.push([x - width * Math.sin((degrees * PI) / 180), z + width * Math.cos((degrees * PI) / 180)]);
      }
      bevels.push([0, bevels.at(-1)![1]]);
      const truth = bevels.slice(1).reduce((sum, corner, i) => sum + flank(bevels[i]!, corner), 0);
      const part = analyse(turned(bevels, n));
      const { total } = facetCorrection(part);
      expect(Math.abs((total.corrected - truth) / (part.area - truth))).toBeLessThan(0.1);
      expect(total.low).toBeLessThan(truth);
      expect(total.high).toBeGreaterThan(truth);
    });
  });
});

describe('nobody is asked about', () => {
  const chamfered = (a: number, b: number, leg: number): Float32Array =>
    extruded([[a - leg, -b], [a, -b + leg], [a, b - leg], [a - leg, b], [-a + leg, b], [-a, b - leg], [-a, -b + leg], [-a + leg, -b]], 50); // prettier-ignore
  const nut = turned([[0, 0], [9, 0], [10, 0.58], [10, 7.4], [9, 8], [0, 8]], 6); // prettier-ignore
  it.each<[string, Float32Array]>([
    ['a box', box(10, 20, 30)],
    ['a hexagon bar', cylinder(10, 40, 6)],
    ['a hexagon nut with chamfers', nut],
    ['a bar of seven flats', cylinder(10, 40, 7)],
    ['a square bar with small chamfers', chamfered(20, 20, 2)],
    // Its eight corners lie on a circle, by symmetry.
    ['a square bar with wide chamfers', chamfered(20, 20, 8)],
    ['a flat bar with chamfers', chamfered(20, 12, 5)],
  ])('%s, and it stays as drawn', (_, positions) => {
    const part = analyse(positions);
    const { total, ambiguous } = facetCorrection(part);
    expect(ambiguous).toEqual([]);
    expect(total.corrected / part.area).toBeCloseTo(1, 9);
    expect(total.high / total.low).toBeCloseTo(1, 9);
  });

  it.each([12, 16, 24])(
    'a shaft of %d facets with a flat of 8 mm depth left over: the flat stays flat',
    (n) => {
      // x up to 5 of r 10: chord 2 √(100 − 25), arc of the rest 2π − 2 acos(0.5).
      const half = Math.acos(0.5);
      const rim = Array.from({ length: n }, (_, i) => ((i + 0.5) * 2 * PI) / n).filter(
        (a) => Math.cos(a) < 0.5,
      );
      const outline = [half, ...rim, 2 * PI - half].map((a): [number, number] => [
        10 * Math.cos(a),
        10 * Math.sin(a),
      ]);
      const truth =
        40 * (20 * PI - 20 * half + 20 * Math.sin(half)) + 2 * (100 * (PI - half) + 50 * Math.sin(half));
      const part = analyse(extruded(outline, 40));
      const { total } = facetCorrection(part);
      expect(Math.abs((total.corrected - truth) / (part.area - truth))).toBeLessThan(0.1);
      expect(total.low).toBeLessThan(truth);
      expect(total.high).toBeGreaterThan(truth);
    },
  );
});
