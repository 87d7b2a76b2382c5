/**
 * Parts as a CAD program exports them: drawn and meshed by OpenCascade, whose triangles run along holes and intersections as needles. Judges: its own
 * adaptive integration of the exact surfaces, and closed forms.
 */
import type { TopoDS_Shape } from 'replicad-opencascadejs';
import { beforeAll, describe, expect, it } from 'vitest';
import { facetCorrection } from '../../../core/faces/facet-correction.ts';
import { FACE_KINDS } from '../../../core/faces/face-table.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { worthAsking } from '../../../core/job/worth-asking.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { KERNEL_PARTS, kernelPart } from '../../fixtures/kernel-parts.ts';
import { randomFrom } from '../../fixtures/round-solids.ts';
import {
  box,
  cut,
  cylinder,
  filleted,
  fused,
  meshed,
  moved,
  sphere,
  startDrawing,
  surfaceOf,
  torus,
  turned,
  turnedOver,
  type EdgeEnd,
} from '../../fixtures/write-step.ts';

let kernel: Awaited<ReturnType<typeof startDrawing>>;
beforeAll(async () => {
  kernel = await startDrawing();
});

type Draw = (d: typeof kernel) => TopoDS_Shape;

function drawn(draw: Draw, chord: number, turnRad: number): PartGeometry {
  const positions = meshed(kernel, draw(kernel), chord, turnRad);
  const part = analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  expect(part.closed).toBe(true);
  return part;
}

const across = (d: typeof kernel, radius: number, length: number): TopoDS_Shape =>
  moved(d, turnedOver(d, cylinder(d, radius, length), [1, 0, 0], -90), 0, -length / 2, 0);

const crossBores: Draw = (d) => {
  const block = moved(d, box(d, 24, 24, 24), -12, -12, -12);
  return cut(d, cut(d, block, moved(d, cylinder(d, 5, 100), 0, 0, -50)), across(d, 2.5, 100));
};
const ringWithHoles: Draw = (d) => {
  let ring = cut(d, cylinder(d, 30, 14), moved(d, cylinder(d, 24, 40), 0, 0, -10));
  for (const [degrees, radius] of [
    [20, 2],
    [140, 3],
    [260, 4.5],
  ] as const) {
    const hole = turnedOver(d, turnedOver(d, cylinder(d, radius, 100), [0, 1, 0], 90), [0, 0, 1], degrees);
    ring = cut(d, ring, moved(d, hole, 0, 0, 7));
  }
  return ring;
};
const ballOnRod: Draw = (d) =>
  cut(
    d,
    fused(d, sphere(d, 10), cylinder(d, 5, 30)),
    moved(d, turnedOver(d, cylinder(d, 2.5, 100), [0, 1, 0], 90), -50, 0, 0),
  );
const frustumWithHole: Draw = (d) =>
  cut(d, turned(d, [[0, 0], [12, 0], [7, 25], [0, 25]]), moved(d, across(d, 3, 100), 0, 0, 10)); // prettier-ignore
const halfTorus: Draw = (d) => cut(d, torus(d, 16, 4), moved(d, box(d, 100, 100, 100), -50, 0, -50));
const isOnSaddle = ([x, y, z]: EdgeEnd): boolean => Math.abs(Math.hypot(x, y) - 8) < 1e-4 && Math.abs(z) < 7;
const tee: Draw = (d) => {
  const pipes = fused(
    d,
    moved(d, cylinder(d, 8, 60), 0, 0, -30),
    turnedOver(d, cylinder(d, 5, 40), [1, 0, 0], 90),
  );
  return filleted(d, pipes, 1.5, (from, to) => isOnSaddle(from) && isOnSaddle(to));
};

describe('holes through walls: what is left of the facets’ error, and how many faces there are at most', () => {
  it.each([
    ['cross bores', crossBores, 10],
    ['a ring with radial holes', ringWithHoles, 7],
    ['a bored ball on a rod', ballOnRod, 4],
    ['a frustum with a hole across', frustumWithHole, 4],
    ['half a torus', halfTorus, 3],
  ] as const)('%s', (_, draw, faces) => {
    const truth = surfaceOf(kernel, draw(kernel));
    for (const [chord, turnRad] of [
      [0.2, 0.3],
      [0.05, 0.2],
    ] as const) {
      const part = drawn(draw, chord, turnRad);
      const { total, ambiguous } = facetCorrection(part);
      const words = `${chord} mm, ${turnRad} rad`;
      expect(part.faces.count, words).toBeLessThanOrEqual(faces);
      expect(ambiguous, words).toEqual([]);
      // 2e-6: corners are rounded to 32 bits. The bores and the faces they end in err against each other: their sum may be nothing.
      const allowed = Math.max(0.1 * Math.abs(part.area - truth), 2e-6 * truth);
      expect(Math.abs(total.corrected - truth), words).toBeLessThan(allowed);
      expect(total.low, words).toBeLessThan(truth * (1 + 2e-6));
      expect(total.high, words).toBeGreaterThan(truth * (1 - 2e-6));
    }
  });

  it('each wall of the cross bores, by its integral', () => {
    const [half, wide, narrow] = [12, 5, 2.5];
    // From the end of the narrow bore to the wall of the wide one, round it by the rectangle rule: exact for a period.
    const steps = 1000;
    let wall = 0;
    for (let i = 0; i < steps; i++) {
      const off = narrow * Math.cos((2 * Math.PI * (i + 0.5)) / steps);
      wall += (half - Math.sqrt(wide * wide - off * off)) * narrow * ((2 * Math.PI) / steps);
    }
    const part = drawn(crossBores, 0.2, 0.3);
    const { correctedAreaOfFace } = facetCorrection(part);
    const bores = [...part.faces.kind.keys()].filter(
      (f) => FACE_KINDS[part.faces.kind[f]!] === 'cylinder' && part.faces.size[f]! < 3,
    );
    expect(bores).toHaveLength(2);
    for (const f of bores) expect(correctedAreaOfFace[f]! / wall).toBeCloseTo(1, 5);
  });
});

describe('a fillet between two tubes, drawn with needles that lean any way they like', () => {
  it.each([
    [1, 0.5],
    [0.1, 0.5],
    [0.05, 0.2],
    [0.01, 0.1],
  ])('%d mm, %d rad: the tubes are told from it, and measured', (chord, turnRad) => {
    const truth = surfaceOf(kernel, tee(kernel));
    const part = drawn(tee, chord, turnRad);
    const { total } = facetCorrection(part);
    expect(Math.abs(total.corrected - truth)).toBeLessThan(0.1 * Math.abs(part.area - truth));
    expect(total.low / truth).toBeLessThan(1 + 2e-6);
    expect(total.high / truth).toBeGreaterThan(1 - 2e-6);
    const tubes = [...part.faces.kind.keys()].filter((f) => part.faces.area[f]! > 0.1 * truth);
    expect(tubes.map((f) => part.faces.size[f]!.toFixed(2)).sort()).toEqual(['5.00', '8.00']);
  });
});

describe('parts of every kind, of random size: the truth lies in the range, and nothing small is asked', () => {
  it.each(KERNEL_PARTS)('%s', (name) => {
    for (const [i, [chord, turnRad]] of [
      [1, 0.5],
      [0.1, 0.5],
      [0.05, 0.2],
    ].entries()) {
      const shape = kernelPart(kernel, name, randomFrom(2 + 7919 * i + 104_729 * KERNEL_PARTS.indexOf(name)));
      const truth = surfaceOf(kernel, shape);
      const part = drawn(() => shape, chord!, turnRad!);
      const { total, ambiguous, factorOfFace } = facetCorrection(part);
      const words = `${chord} mm, ${turnRad} rad`;
      // A face may not take from another what the sum does not show.
      const large = [...factorOfFace].filter((_, f) => part.faces.area[f]! > 0.01 * truth);
      for (const factor of large) expect(Math.abs(factor - 1), words).toBeLessThan(0.1);
      expect(total.low, words).toBeLessThan(truth * (1 + 2e-6));
      expect(total.high, words).toBeGreaterThan(truth * (1 - 2e-6));
      expect(Math.abs(total.corrected / truth - 1), words).toBeLessThan(1.5e-3);
      for (const { flatArea, roundArea, gainOfPart } of worthAsking(ambiguous, part.area))
        expect(Math.max(Math.abs(roundArea - flatArea), Math.abs(gainOfPart)) / truth, words).toBeGreaterThan(
          1e-5,
        );
    }
  });
});
