/**
 * Turned solids of fixed random sizes drawn with each ring of corners half a step off the one before: areas against their closed forms, within a tenth
 * of the raw error and inside the range.
 */
import loadManifold from 'manifold-3d';
import { describe, expect, it } from 'vitest';
import { arcGain } from '../../../core/faces/arc-gain.ts';
import { facetCorrection, type FacetCorrection } from '../../../core/faces/facet-correction.ts';
import { outlineArcs } from '../../../core/faces/outline-arcs.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { turnedPieces } from '../../../core/faces/turned-pieces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { randomFrom } from '../../fixtures/round-solids.ts';
import { staggeredSolid, staggeredTurned, type Staggered } from '../../fixtures/staggered-solids.ts';

function expectMeasured(solid: Staggered, round: number, along: number, seed: number, uneven = 1): void {
  const fineness = { round, along, uneven, unevenAlong: 1 };
  const { positions, truth, words } = staggeredSolid(solid, fineness, randomFrom(seed));
  const part = analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  expect(part.closed, words).toBe(true);
  const { total } = facetCorrection(part);
  expect(Math.abs((total.corrected - truth) / (part.area - truth)), words).toBeLessThan(0.1);
  // 1e-6: corners are rounded to 32 bits.
  expect(total.low, words).toBeLessThan(truth * (1 + 1e-6));
  expect(total.high, words).toBeGreaterThan(truth * (1 - 1e-6));
}

const seeds = (n: number): number[] => Array.from({ length: n }, (_, i) => 15_485_867 + 7919 * i);

describe('triangles at a rim bend as those inside do', () => {
  it.each([
    [12, 12],
    [12, 24],
    [16, 16],
    [24, 16],
    [64, 12],
    [64, 24],
  ])('a spherical cap, %d round, %d along', (round, along) => {
    for (const seed of seeds(4)) expectMeasured('spherical cap', round, along, seed);
  });
});

describe('a cone bends less the farther from its tip', () => {
  it.each([12, 16, 24])('in rings, with a fan at the tip, %d round', (round) => {
    for (const seed of seeds(8)) expectMeasured('cone in rings', round, 12, seed);
  });

  it.each([12, 16, 24, 64])(
    'a frustum of one row, its flat end in its face where it is nearly flat, %d round',
    (round) => {
      for (const seed of seeds(8)) expectMeasured('frustum', round, 12, seed);
    },
  );
});

describe('a wall is straight up to the round that runs out into it', () => {
  it.each([
    [24, 12],
    [64, 12],
    [64, 24],
  ])('a rod with a round end, %d round, %d along', (round, along) => {
    for (const seed of seeds(4)) expectMeasured('rod with a round end', round, along, seed);
  });
});

describe('low rings turn inward, and their outline tells the area all the same', () => {
  it.each([
    ['torus', 12, 32],
    ['torus', 16, 64],
    ['torus', 24, 12],
    ['knob with a fillet', 12, 64],
    ['knob with a fillet', 24, 64],
    ['hub in a cove', 16, 16],
    ['hub in a cove', 16, 64],
    ['frustum in rings', 24, 12],
    ['sphere', 12, 64],
  ] as const)('%s, %d round, %d along', (solid, round, along) => {
    const [one, two] = seeds(2);
    expectMeasured(solid, round, along, one);
    expectMeasured(solid, round, along, two, 3);
  });
});

describe('which chords of an outline are arcs', () => {
  /** Quarter of a circle in `count` steps, from `from` on, to the left. */
  const arc = (x: number, y: number, r: number, from: number, count: number): [number, number][] =>
    Array.from({ length: count + 1 }, (_, i) => {
      const angle = from + ((i / count) * Math.PI) / 2;
      return [x + r * Math.cos(angle), y + r * Math.sin(angle)];
    });
  const curvatures = (profile: readonly (readonly [number, number])[]): number[] =>
    outlineArcs(
      profile.map(([radius, height]) => ({ radius, height })),
      false,
      1e-9,
    ).map(({ curvature }) => curvature);

  it('a fillet between two lines, of three chords or two', () => {
    for (const count of [2, 3]) {
      const found = curvatures([[0, 0], [10, 0], ...arc(8, 5, 2, 0, count), [0, 7]]);
      const expected = [0, 0, ...Array<number>(count).fill(1 / 2), 0];
      found.forEach((curvature, i) => expect(curvature).toBeCloseTo(expected[i], 9));
    }
  });

  it('a wall between two round ends stays straight, however short', () => {
    for (const length of [0.5, 2, 5]) {
      const [low, high] = [arc(0, 0, 4, -Math.PI / 2, 3), arc(0, length, 4, 0, 3)];
      low[0][0] = high[3][0] = 0;
      const found = curvatures([...low, ...high]);
      expect(found[3]).toBe(0);
      for (const i of [0, 1, 2, 4, 5, 6]) expect(found[i]).toBeCloseTo(1 / 4, 9);
    }
  });

  it('a wall with a chamfer at either end is three lines, and may be a barrel', () => {
    const chords = outlineArcs(
      [
        [0, 0],
        [9.5, 0],
        [10, 1],
        [10, 5],
        [9.5, 6],
        [0, 6],
      ].map(([radius, height]) => ({ radius, height })),
      false,
      1e-9,
    );
    expect(chords.map(({ curvature }) => curvature)).toEqual([0, 0, 0, 0, 0]);
    for (const i of [1, 2, 3]) expect(chords[i].orElse).toBeGreaterThan(0);
  });

  it('an arc sweeps out what Pappus says: the halves of a torus, outside and inside', () => {
    const [r, pipe] = [10, 3];
    const half = (side: 1 | -1): number => {
      const corners = Array.from({ length: 7 }, (_, i) => {
        const angle = ((i - 3) * Math.PI) / 6;
        return { radius: r + side * pipe * Math.cos(angle), height: pipe * Math.sin(angle) };
      });
      return corners.slice(1).reduce((sum, two, i) => {
        const one = corners[i];
        const [x, y] = [two.radius - one.radius, two.height - one.height];
        return sum + Math.PI * (one.radius + two.radius) * Math.hypot(x, y) + arcGain(one, two, side / pipe);
      }, 0);
    };
    // 2π times the arc's length times its centroid's distance, 2 pipe / π from the middle of the half circle.
    for (const side of [1, -1] as const) {
      const expected = 2 * Math.PI * (Math.PI * pipe) * (r + (side * 2 * pipe) / Math.PI);
      expect(half(side) / expected).toBeCloseTo(1, 9);
    }
  });
});

describe('what staggered rings leave open', () => {
  const angles = (n: number): number[] => Array.from({ length: n }, (_, k) => (2 * Math.PI * (k + 0.3)) / n);
  const analysed = (positions: Float32Array): PartGeometry =>
    analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  const drum: [number, number][] = [
    [0, 0],
    [10, 0],
    [10, 8],
    [0, 8],
  ];
  const round = 2 * Math.PI * 10 * 8 + 2 * Math.PI * 100;

  it('one row of twelve may be flats: asked, and either answer is taken', () => {
    const part = analysed(staggeredTurned(drum, angles(12)));
    const { ambiguous, total } = facetCorrection(part);
    expect(ambiguous).toHaveLength(1);
    const [question] = ambiguous;
    expect(total.corrected).toBeCloseTo(round, 3);
    expect(total.low).toBeLessThan(part.area * (1 + 1e-9));
    expect(question.roundArea).toBeCloseTo(2 * Math.PI * 10 * 8, 3);
    expect(question.gainOfPart).toBeCloseTo(round - part.area, 3);
    const answered = (is: 'round' | 'flat'): FacetCorrection =>
      facetCorrection(part, { answers: new Map(question.faces.map((face) => [face, is])) });
    expect(answered('flat').total.corrected).toBeCloseTo(part.area, 6);
    expect(answered('flat').ambiguous).toEqual([]);
    expect(answered('round').total.corrected).toBeCloseTo(round, 3);
    expect(answered('round').ambiguous).toEqual([]);
  });

  it('two rows are round, wherever the rings between them stand', () => {
    const profile: [number, number][] = [[0, 0], [10, 0], [10, 3], [10, 8], [0, 8]]; // prettier-ignore
    const { ambiguous, total } = facetCorrection(analysed(staggeredTurned(profile, angles(12))));
    expect(ambiguous).toEqual([]);
    expect(total.corrected / round).toBeCloseTo(1, 6);
  });

  it('coordinates rounded to a thousandth', () => {
    const profile: [number, number][] = [[0, 0], [10, 0], [10, 3], [10, 8], [0, 8]]; // prettier-ignore
    const rounded = staggeredTurned(profile, angles(24)).map((x) => Math.round(1000 * x) / 1000);
    expect(facetCorrection(analysed(rounded)).total.corrected / round).toBeCloseTo(1, 4);
  });

  it('rings that are no circles are left to the turns of their edges', () => {
    const oval = staggeredTurned(drum, angles(24)).map((x, i) => (i % 3 === 0 ? 1.3 * x : x));
    expect(turnedPieces(analysed(oval))).toEqual([]);
  });

  it('a fillet keeps its area where a hole goes through the wall beside it', async () => {
    const kit = await loadManifold();
    kit.setup();
    const fillet = Array.from({ length: 17 }, (_, i): [number, number] => {
      const angle = (i * Math.PI) / 32;
      return [8 + 2 * Math.cos(angle), 10 + 2 * Math.sin(angle)];
    });
    const knob = analysed(staggeredTurned([[0, 0], [10, 0], ...fillet, [0, 12]], angles(16))).graph.indexed;
    const solid = kit.Manifold.ofMesh(
      new kit.Mesh({ numProp: 3, vertProperties: knob.vertices, triVerts: knob.triangles }),
    ).subtract(kit.Manifold.cylinder(40, 2, 2, 24, true).rotate([90, 0, 0]).translate([0, 0, 5]));
    const { numProp, vertProperties, triVerts } = solid.getMesh();
    const positions = Float32Array.from({ length: 3 * triVerts.length }, (_, i) => {
      return vertProperties[numProp * triVerts[Math.floor(i / 3)] + (i % 3)];
    });
    const part = analysed(positions);
    const { factorOfFace } = facetCorrection(part);
    let [drawn, corrected] = [0, 0];
    for (let t = 0; t < part.triangleCount; t++) {
      const heights = [0, 1, 2].map((k) => part.positions[9 * t + 3 * k + 2]);
      if (Math.min(...heights) < 10 - 1e-4 || Math.min(...heights) > 12 - 1e-4) continue;
      drawn += part.triangleAreas[t];
      corrected += part.triangleAreas[t] * factorOfFace[part.faces.faceOfTriangle[t]];
    }
    // By Pappus: a quarter circle turned about the axis.
    const expected = Math.PI ** 2 * 8 * 2 + 2 * Math.PI * 4;
    expect(Math.abs(drawn / expected - 1)).toBeGreaterThan(0.02);
    expect(corrected / expected).toBeCloseTo(1, 4);
  });

  it('chamfers stay flat, and a wall that a hole goes through is not taken for whole', () => {
    const chamfered: [number, number][] = [[0, 0], [9.2, 0], [10, 1], [10, 8], [0, 8]]; // prettier-ignore
    const { total } = facetCorrection(analysed(staggeredTurned(chamfered, angles(24))));
    const flank = Math.PI * (9.2 + 10) * Math.hypot(0.8, 1);
    expect(total.corrected / (Math.PI * (9.2 ** 2 + 100) + flank + 2 * Math.PI * 10 * 7)).toBeCloseTo(1, 6);
    const whole = staggeredTurned(drum, angles(24));
    const pieces = turnedPieces(analysed(whole));
    expect(pieces).toHaveLength(1);
    // One triangle of the wall away.
    const [gone] = pieces[0].bands.find((band) => band.length === 48)!;
    const open = Float32Array.from([...whole.slice(0, 9 * gone), ...whole.slice(9 * gone + 9)]);
    expect(turnedPieces(analysed(open))).toEqual([]);
  });
});
