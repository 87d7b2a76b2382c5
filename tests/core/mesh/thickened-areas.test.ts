/**
 * What a CAD file's sheet measures once it has a thickness. Judges: OpenCascade's own offset and thick solid of the same shell
 * (BRepOffset, simple join), its solids with the thickness drawn, measured by its adaptive integration; closed forms.
 */
import type { TopoDS_Shape } from 'replicad-opencascadejs';
import { beforeAll, describe, expect, test } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { partSurfaceSchema } from '../../../core/job/job-surface.ts';
import { preparePart } from '../../../core/job/prepare-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { frontOfBack } from '../../../core/mesh/source-triangles.ts';
import { readModel } from '../../../core/model-files/read-model.ts';
import { modelLoaders } from '../../../main/terminal/model-loaders.ts';
import {
  box,
  cut,
  cylinder,
  moved,
  sphere,
  startDrawing,
  surfaceOf,
  turned,
  turnedOver,
  writeStep,
} from '../../fixtures/write-step.ts';

let kernel: Awaited<ReturnType<typeof startDrawing>>;
beforeAll(async () => {
  kernel = await startDrawing();
});

/** The shell as a STEP file, read and given its thickness: corrected area, its range, per face. */
function thick(shell: TopoDS_Shape, thickness: number) {
  const model = readModel({
    name: 'sheet.step',
    bytes: writeStep(kernel, [shell]),
    loaders: modelLoaders(kernel),
  });
  if (!model.ok) throw new Error(model.error.message);
  const { positions, bodies, cad } = model.value;
  const { geometry } = preparePart(
    { positions, bodies, cad: cad! },
    {
      splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD,
      surface: partSurfaceSchema.parse({ repairs: [{ kind: 'thicken', thickness }] }),
    },
    { cutPolygon: () => [] },
  );
  const said = geometry.findings.map(({ code }) => code);
  return { geometry, total: geometry.facets!.total, said, fileTriangles: positions.length / 9 };
}

/** Area, and range, of the faces that are wholly fronts or wholly backs; the rest are walls. */
function sides({ geometry, fileTriangles }: { geometry: PartGeometry; fileTriangles: number }) {
  const { faces, sourceTriangle, facets } = geometry;
  const sum = { front: 0, back: 0, range: 0 };
  for (let f = 0; f < faces.count; f++) {
    const all = [...faces.faceOfTriangle.keys()].filter((t) => faces.faceOfTriangle[t] === f);
    const fronts = all.filter((t) => sourceTriangle![t]! < fileTriangles).length;
    const backs = all.filter((t) => frontOfBack(fileTriangles, sourceTriangle![t]!) !== undefined).length;
    if (fronts < all.length && backs < all.length) continue;
    sum[fronts > 0 ? 'front' : 'back'] += facets!.correctedAreaOfFace[f]!;
    sum.range += facets!.high[f]! - facets!.low[f]!;
  }
  return sum;
}

/** The kernel's thick solid, half to each side. */
function thickByKernel(shell: TopoDS_Shape, thickness: number): number {
  const lower = new kernel.BRepOffsetAPI_MakeOffsetShape();
  lower.PerformBySimple(shell, -thickness / 2);
  const solid = new kernel.BRepOffsetAPI_MakeThickSolid();
  solid.MakeThickSolidBySimple(lower.Shape(), thickness);
  return surfaceOf(kernel, solid.Shape());
}

type Place = readonly [number, number];

/** Straight lines and arcs (through a place between) in z = 0, drawn up into a shell. */
function drawnUp(pieces: readonly (readonly Place[])[], height: number): TopoDS_Shape {
  const wire = new kernel.BRepBuilderAPI_MakeWire();
  const at = ([x, y]: Place) => new kernel.gp_Pnt(x, y, 0);
  for (const [from, by, to] of pieces) {
    const edge = to
      ? new kernel.BRepBuilderAPI_MakeEdge(new kernel.GC_MakeArcOfCircle(at(from!), at(by!), at(to)).Value())
      : new kernel.BRepBuilderAPI_MakeEdge(at(from!), at(by!));
    wire.Add(edge.Edge());
  }
  const up = new kernel.gp_Vec(0, 0, height);
  return new kernel.BRepPrimAPI_MakePrism(wire.Wire(), up, false, true).Shape();
}

/** Faces of a shape that are wanted, by a place on them, as one shell. */
function shellOf(shape: TopoDS_Shape, isWanted: (x: number, y: number, z: number) => boolean): TopoDS_Shape {
  const { TopAbs_FACE, TopAbs_SHAPE } = kernel.TopAbs_ShapeEnum;
  const sewing = new kernel.BRepBuilderAPI_Sewing();
  const faces = new kernel.TopExp_Explorer(shape, TopAbs_FACE, TopAbs_SHAPE);
  for (; faces.More(); faces.Next()) {
    const face = faces.Current();
    const properties = new kernel.GProp_GProps();
    kernel.BRepGProp.SurfaceProperties(face, properties, false, false);
    const middle = properties.CentreOfMass();
    if (isWanted(middle.X(), middle.Y(), middle.Z())) sewing.Add(face);
  }
  sewing.Perform();
  return sewing.SewedShape();
}

/** Floats of a file's corners are good to 1e-7 of its size. */
const FLOATS = 1e-6;

describe('what is exact is so on both sides, and has no range', () => {
  test('a bracket with a round bend: plane, cylinder, plane and the walls beside them', () => {
    const bend = 5;
    const s = Math.SQRT1_2;
    const shell = drawnUp(
      [
        [[-40, 0], [0, 0]],
        [[0, 0], [bend * s, bend * (1 - s)], [bend, bend]],
        [[bend, bend], [bend, 30]],
      ],
      25,
    ); // prettier-ignore
    const { total, said } = thick(shell, 2);
    // Length of the middle line, by hand.
    const line = 40 + (Math.PI / 2) * bend + 25;
    const byHand = 2 * line * 25 + 2 * 25 * 2 + 2 * line * 2;
    expect(thickByKernel(shell, 2) / byHand).toBeCloseTo(1, 6);
    expect(Math.abs(total.corrected / byHand - 1)).toBeLessThan(FLOATS);
    expect(total.high - total.low).toBeLessThan(FLOATS * byHand);
    expect(said).not.toContain('cad-by-facets');
  });

  test('an open tube, its ends too', () => {
    const shell = shellOf(cylinder(kernel, 15, 40), (_x, _y, z) => z > 1 && z < 39);
    const { total, said } = thick(shell, 3);
    const byHand = 2 * Math.PI * (16.5 + 13.5) * 40 + 2 * Math.PI * (16.5 ** 2 - 13.5 ** 2);
    expect(Math.abs(total.corrected / byHand - 1)).toBeLessThan(FLOATS);
    expect(total.high - total.low).toBeLessThan(FLOATS * byHand);
    expect(said).not.toContain('cad-by-facets');
  });

  test('a tube with a hole through one wall: both sides; the wall of the hole by its facets, in its range', () => {
    const drill = turnedOver(kernel, moved(kernel, cylinder(kernel, 5, 40), 0, 0, 0), [0, 1, 0], 90);
    const tube = shellOf(cylinder(kernel, 15, 40), (_x, _y, z) => z > 1 && z < 39);
    const shell = cut(kernel, tube, moved(kernel, drill, 0, 0, 20));
    const made = thick(shell, 3);
    const area = surfaceOf(kernel, shell);
    const { front, back, range } = sides(made);
    // Front and back are as the file turns them: together twice the middle.
    expect(Math.abs((front + back) / (2 * area) - 1)).toBeLessThan(FLOATS);
    expect(Math.max(front, back) / area).toBeCloseTo(16.5 / 15, 6);
    // The faces of the file, each side one: two sides, two ends, the hole.
    expect(made.geometry.faces.count).toBe(5);
    expect(range).toBeLessThan(FLOATS * area);
    const judge = thickByKernel(shell, 3);
    expect(judge).toBeGreaterThan(made.total.low * (1 - 2e-5));
    expect(judge).toBeLessThan(made.total.high * (1 + 2e-5));
    expect(made.said).toContain('cad-by-facets');
  });

  test('a half ball', () => {
    const shell = shellOf(cut(kernel, sphere(kernel, 20), moved(kernel, box(kernel, 60, 60, 60), -30, -30, -60)), (_x, _y, z) => z > 1); // prettier-ignore
    const made = thick(shell, 3);
    const { front, back, range } = sides(made);
    const byHand = 2 * Math.PI * (21.5 ** 2 + 18.5 ** 2);
    expect(Math.abs((front + back) / byHand - 1)).toBeLessThan(FLOATS);
    expect(range).toBeLessThan(FLOATS * byHand);
    // The rim is drawn with corners that are mitred between facets, a little too far out: 1e-4 of the rim.
    const rim = Math.PI * (21.5 ** 2 - 18.5 ** 2);
    expect(made.total.low).toBeLessThanOrEqual((byHand + rim) * (1 + 2e-5));
    expect(made.total.high).toBeGreaterThanOrEqual((byHand + rim) * (1 - FLOATS));
  });

  test('a disc with round holes', () => {
    const solid = [0, 12, -9].reduce(
      (now, x, i) => cut(kernel, now, moved(kernel, cylinder(kernel, 2 + i, 10), x, 2 * i, -5)),
      cylinder(kernel, 25, 2),
    );
    const shell = shellOf(solid, (_x, _y, z) => z > 1.99);
    const made = thick(shell, 2);
    const { front, back, range } = sides(made);
    const area = surfaceOf(kernel, shell);
    expect(Math.abs(front / area - 1)).toBeLessThan(FLOATS);
    expect(Math.abs(back / area - 1)).toBeLessThan(FLOATS);
    expect(range).toBeLessThan(FLOATS * area);
    expect(surfaceOf(kernel, solid)).toBeGreaterThan(made.total.low * (1 - FLOATS));
    expect(surfaceOf(kernel, solid)).toBeLessThan(made.total.high * (1 + FLOATS));
  });

  test('a folded tray with a round hole in its floor and one in a wall', () => {
    const drill = cylinder(kernel, 4, 100);
    const level = turnedOver(kernel, cylinder(kernel, 3, 100), [0, 1, 0], 90);
    const drilled = (shape: TopoDS_Shape): TopoDS_Shape =>
      cut(kernel, cut(kernel, shape, moved(kernel, drill, 15, 12, -50)), moved(kernel, level, 30, 15, 8));
    // Folded along the middle of 2 mm metal; the solid has its floor from −1 to 1.
    const shell = drilled(shellOf(box(kernel, 40, 30, 15), (_x, _y, z) => z < 14));
    const solid = drilled(
      cut(
        kernel,
        moved(kernel, box(kernel, 42, 32, 16), -1, -1, -1),
        moved(kernel, box(kernel, 38, 28, 30), 1, 1, 1),
      ),
    );
    const made = thick(shell, 2);
    const { front, back, range } = sides(made);
    const judge = surfaceOf(kernel, solid);
    // Walls of holes, by hand; the rim of a mitred tray.
    const walls = 2 * Math.PI * (4 + 3) * 2 + (42 * 32 - 38 * 28);
    // A corner of three flats is settled to 1e-4 of the thickness.
    expect(Math.abs((front + back) / (judge - walls) - 1)).toBeLessThan(3e-5);
    expect(range).toBeLessThan(FLOATS * judge);
    expect(judge).toBeGreaterThan(made.total.low * (1 - 3e-5));
    expect(judge).toBeLessThan(made.total.high * (1 + 3e-5));
  });
});

describe('what is not known exactly keeps to its facets and their range', () => {
  test('a cone', () => {
    const solid = turned(kernel, [[10, 0], [20, 30], [0, 30], [0, 0]]); // prettier-ignore
    const shell = shellOf(solid, (_x, _y, z) => z > 1 && z < 29);
    const made = thick(shell, 2);
    const slant = Math.hypot(10, 30);
    // Steiner: no Gaussian curvature, so both sides together are twice the middle; walls lean with it.
    const sum = 2 * Math.PI * 30 * slant;
    const walls = 2 * Math.PI * (10 + 20) * 2;
    expect(made.total.corrected / (sum + walls)).toBeCloseTo(1, 3);
    expect(made.total.high).toBeGreaterThan(made.total.low);
    expect(made.said).toContain('cad-by-facets');
  });

  test('a tube that stands in a fold on a flange', () => {
    const solid = turned(kernel, [[0, 0], [30, 0], [30, 5], [15, 5], [15, 40], [0, 40]]); // prettier-ignore
    const isSheet = (_x: number, _y: number, z: number): boolean =>
      (z > 4.9 && z < 5.1) || (z > 15 && z < 30);
    const shell = shellOf(solid, isSheet);
    const made = thick(shell, 2);
    // Outside: radius 16 from 6 up; inside: radius 14 from 4 up; flange of 30 to 16 above and to 14 below; two ends.
    const truth =
      2 * Math.PI * 16 * 34 + 2 * Math.PI * 14 * 36 +
      Math.PI * (900 - 256) + Math.PI * (900 - 196) +
      2 * Math.PI * 30 * 2 + Math.PI * (256 - 196); // prettier-ignore
    expect(made.total.corrected / truth).toBeCloseTo(1, 2);
    const { range } = sides(made);
    expect(range).toBeGreaterThan(0);
  });
});

test('a thickness that the inside of a bend has no room for is not said to be exact', () => {
  const shell = shellOf(cylinder(kernel, 2, 40), (_x, _y, z) => z > 1 && z < 39);
  const { total } = thick(shell, 5);
  expect(total.high - total.low).toBeGreaterThan(FLOATS * total.high);
});
