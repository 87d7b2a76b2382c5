/**
 * Bodies of a CAD file that close a hollow between them, and faces that a body standing on them cuts in pieces. Areas by hand: rectangles
 * and, for the round tube, circles. The kernel's own Boolean union tells the walls of a hollow by a shell of its own.
 */
import type { TopoDS_Shape } from 'replicad-opencascadejs';
import { beforeAll, describe, expect, test } from 'vitest';
import { COVERAGE_BITS } from '../../../core/faces/coverage-flags.ts';
import { newPart } from '../../../core/job/default-job.ts';
import type { Part } from '../../../core/job/job.ts';
import { partSurfaceSchema } from '../../../core/job/job-surface.ts';
import { measurePart } from '../../../core/job/measure-part.ts';
import { preparePart } from '../../../core/job/prepare-part.ts';
import { paintedCoverage } from '../../../core/mesh/mesh-triangles.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { readModel } from '../../../core/model-files/read-model.ts';
import { modelLoaders } from '../../../main/terminal/model-loaders.ts';
import { solidKit } from '../../fixtures/solid-kit.ts';
import { box, cut, cylinder, moved, startDrawing, turnedOver, writeStep } from '../../fixtures/write-step.ts';

let kernel: Awaited<ReturnType<typeof startDrawing>>;
let kit: Awaited<ReturnType<typeof solidKit>>;
beforeAll(async () => {
  [kernel, kit] = await Promise.all([startDrawing(), solidKit()]);
});

type Draw = (d: typeof kernel) => TopoDS_Shape[];

const part: Part = {
  ...newPart('p', 'part.step', 0, 'mm', true),
  surface: { ...partSurfaceSchema.parse({}), fuseGap: 0 },
};

function fusedStep(draw: Draw): PartGeometry {
  // Turned, so that no plane lies along an axis and every corner is rounded.
  const shapes = draw(kernel).map((shape) => turnedOver(kernel, shape, [0.3, 0.5, 0.8124], 33));
  const read = readModel({
    name: 'part.step',
    bytes: writeStep(kernel, shapes),
    loaders: modelLoaders(kernel),
  });
  if (!read.ok) throw new Error(read.error.message);
  const { positions, bodies, cad } = read.value;
  const tools = { cutPolygon: modelLoaders().cutPolygon, kit };
  const { geometry, fuseFailure } = preparePart({ positions, bodies, cad: cad! }, part, tools);
  expect(fuseFailure).toBeNull();
  expect(geometry.closed).toBe(true);
  return geometry;
}

const wettedMm2 = (geometry: PartGeometry): number => measurePart(part, geometry).coatedM2 * 1e6;

/** Square tube 25 × 25 × 2 along x. */
const tube = (d: typeof kernel, length: number): TopoDS_Shape =>
  cut(d, box(d, length, 25, 25), moved(d, box(d, length + 2, 21, 21), -1, 2, 2));
/** Two tubes of 300 with two of 150 between them, `over` mm let into their walls. */
const frame =
  (over: number, vent = 0): Draw =>
  (d) => {
    const short = (x: number): TopoDS_Shape =>
      moved(d, turnedOver(d, tube(d, 150 + 2 * over), [0, 0, 1], 90), x, 25 - over, 0);
    const vented = vent > 0 ? cut(d, short(75), moved(d, cylinder(d, vent, 10), 62, 60, 20)) : short(75);
    return [tube(d, 300), moved(d, tube(d, 300), 0, 175, 0), vented, short(225)];
  };

/** Long tubes inside, outside and at their ends, less where the short ones stand; the short ones outside only. */
const FRAME_MM2 = 2 * (300 * 4 * (25 + 21) + 2 * (25 ** 2 - 21 ** 2)) - 4 * 25 ** 2 + 2 * 150 * 100;
const SHORT_INSIDE_MM2 = 150 * 84 + 2 * 21 ** 2;

describe('a hollow that welded bodies close off', () => {
  test.each([
    ['touching', 0],
    ['let into each other', 1],
  ])('tubes that end on tubes, %s: the insides of the short ones are not wetted', (_, over) => {
    const geometry = fusedStep(frame(over));
    expect(geometry.voids).toHaveLength(2);
    for (const { area, volume } of geometry.voids) {
      expect(area / SHORT_INSIDE_MM2).toBeCloseTo(1, 5);
      expect(volume / (150 * 21 ** 2)).toBeCloseTo(1, 5);
    }
    expect(wettedMm2(geometry) / FRAME_MM2).toBeCloseTo(1, 5);
    expect(geometry.findings.map(({ code }) => code)).toContain('closed-cavity');
  });

  test('with a vent drilled into one, that one’s inside counts', () => {
    const geometry = fusedStep(frame(0, 2.5));
    expect(geometry.voids).toHaveLength(1);
    const hole = 2 * Math.PI * 2.5 * 2 - 2 * Math.PI * 2.5 ** 2;
    expect(wettedMm2(geometry) / (FRAME_MM2 + SHORT_INSIDE_MM2 + hole)).toBeCloseTo(1, 4);
  });

  test('a round tube between two plates', () => {
    const geometry = fusedStep((d) => [
      box(d, 80, 60, 5),
      moved(d, cut(d, cylinder(d, 15, 40), moved(d, cylinder(d, 13, 42), 0, 0, -1)), 40, 30, 5),
      moved(d, box(d, 80, 60, 5), 0, 0, 45),
    ]);
    expect(geometry.voids).toHaveLength(1);
    const plates = 2 * (2 * (80 * 60 + 80 * 5 + 60 * 5)) - 2 * Math.PI * 15 ** 2;
    expect(wettedMm2(geometry) / (plates + 2 * Math.PI * 15 * 40)).toBeCloseTo(1, 3);
  });
});

describe('a CAD face that a wall standing on it cuts in halves', () => {
  test('is two faces of the same kind, and one of them can be masked', () => {
    const geometry = fusedStep((d) => [box(d, 80, 80, 6), moved(d, box(d, 80, 4, 30), 0, 38, 6)]);
    const { faces } = geometry;
    const halves = [...faces.area.keys()].filter((row) => Math.abs(faces.area[row]! - 80 * 38) < 1e-3);
    expect(halves).toHaveLength(2);
    expect(new Set(halves.map((row) => faces.kind[row]))).toEqual(new Set([0]));
    // Plate 6 sides, one in halves; wall 5 of 6: its foot is gone. The plate's and the wall's ends stay faces of their own.
    expect(faces.count).toBe(12);
    const triangles = [...faces.faceOfTriangle.keys()].filter((t) => faces.faceOfTriangle[t] === halves[0]);
    const coverage = paintedCoverage(geometry, part.coverage, triangles, () => COVERAGE_BITS.mask);
    const measure = measurePart({ ...part, coverage }, geometry);
    expect(measure.maskedM2 * 1e6).toBeCloseTo(80 * 38, 3);
    expect(measure.treatmentOfFace[halves[0]!]).toBe('mask');
    expect(measure.treatmentOfFace[halves[1]!]).toBe('coat');
  });
});
