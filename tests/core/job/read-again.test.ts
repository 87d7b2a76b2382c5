/**
 * One STEP file drawn with two sets of triangles, as another version of the program or its kernel would: what was said of its
 * faces stays on them. Judges: the faces' areas in closed form, and their places.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import type { CadFaces } from '../../../core/faces/cad-faces.ts';
import { FACE_KINDS } from '../../../core/faces/face-table.ts';
import { newPart } from '../../../core/job/default-job.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import { cadFacePrints } from '../../../core/job/job-cad-faces.ts';
import { jobSchema, partSchema, type Part } from '../../../core/job/job.ts';
import { measurePart } from '../../../core/job/measure-part.ts';
import { readAgain } from '../../../core/job/read-again.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { pinsOn, sourceRunsOfFaces } from '../../../core/mesh/mesh-triangles.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { readModel } from '../../../core/model-files/read-model.ts';
import type { StepKernel } from '../../../core/model-files/step-kernel.ts';
import { modelLoaders } from '../../../main/terminal/model-loaders.ts';
import {
  box,
  cut,
  cylinder,
  moved,
  startDrawing,
  writeStep,
  type Drawing,
} from '../../fixtures/write-step.ts';
import { valueOf } from '../value-of.ts';

interface Reading {
  readonly positions: Float32Array;
  readonly cad: CadFaces;
}

let kernel: Drawing & StepKernel;
let coarse: Reading;
let fine: Reading;

/** The kernel with its facets held to another distance from the surface. */
function withTolerance(scale: number, turnRad: number): StepKernel {
  const { ReplicadMeshExtractor } = kernel as StepKernel;
  const extract: typeof ReplicadMeshExtractor.extract = (shape, tolerance, _, ...others) =>
    ReplicadMeshExtractor.extract(shape, scale * tolerance, turnRad, ...others);
  return new Proxy(kernel, {
    get: (target, name, self) =>
      name === 'ReplicadMeshExtractor' ? { extract } : (Reflect.get(target, name, self) as unknown),
  });
}

function read(bytes: Uint8Array, by: StepKernel): Reading {
  const { positions, cad } = valueOf(readModel({ name: 'plate.step', bytes, loaders: modelLoaders(by) }));
  return { positions, cad: cad! };
}

const geometryOf = ({ positions, cad }: Reading): PartGeometry =>
  analysePart(positions, [], { splitAngleRad: 0.6, cad });

/** A plate 60 × 40 × 10 with bores of 12 and 8: radius 6 at 15, 20 and radius 4 at 45, 20. */
let bytes: Uint8Array;
beforeAll(async () => {
  kernel = await startDrawing();
  const bored = cut(kernel, box(kernel, 60, 40, 10), moved(kernel, cylinder(kernel, 6, 30), 15, 20, -5));
  const plate = cut(kernel, bored, moved(kernel, cylinder(kernel, 4, 30), 45, 20, -5));
  bytes = writeStep(kernel, [plate]);
  coarse = read(bytes, withTolerance(4, 0.9));
  fine = read(bytes, withTolerance(0.2, 0.15));
});

const rowOf = ({ faces }: PartGeometry, kind: string, size: number): number =>
  Array.from({ length: faces.count }, (_, f) => f).find(
    (f) => FACE_KINDS[faces.kind[f]!] === kind && Math.abs(faces.size[f]! - size) < 1e-6,
  )!;

/** The wide bore masked and threaded, the narrow one shown, fitted and pinned. */
function treated(of: Reading): Part {
  const geometry = geometryOf(of);
  const [wide, narrow] = [rowOf(geometry, 'cylinder', 6), rowOf(geometry, 'cylinder', 4)];
  const first = geometry.faces.firstTriangle;
  const part = newPart('p', 'plate.step', bytes.length, 'mm', true, of.positions.length / 9, cadFacePrints(of.positions, of.cad)); // prettier-ignore
  return {
    ...part,
    coverage: {
      mask: sourceRunsOfFaces(geometry, [wide]),
      contact: [],
      show: sourceRunsOfFaces(geometry, [narrow]),
    },
    fits: [
      { id: 'fit', label: 'bore', need: { as: 'code', text: '8H7' }, faces: sourceRunsOfFaces(geometry, [narrow]), count: 1, machinedTo: null }, // prettier-ignore
    ],
    contacts: [
      { id: 'pin', at: [45, 24, 5], triangle: first[narrow]!, patchDiameterM: 0.002, hanger: FIRST_HANGER },
    ],
    surface: { ...part.surface, threads: [{ triangle: first[wide]!, designation: 'M12' }] },
  };
}

test('the two readings draw the same faces with other triangles', () => {
  expect(fine.positions.length).toBeGreaterThan(2 * coarse.positions.length);
  expect(fine.cad.faces.length).toBe(8);
});

describe.each(['finer', 'coarser'])('drawn %s', (way) => {
  test('masks, shown faces, fits, threads and pins are on the same faces', () => {
    const [before, now] = way === 'finer' ? [coarse, fine] : [fine, coarse];
    const saved = partSchema.parse(JSON.parse(JSON.stringify(treated(before))));
    const again = readAgain(saved, now);
    expect(again.notice).toBeUndefined();
    expect(again.isMoved).toBe(true);
    const geometry = geometryOf(now);
    const { part } = again;
    const [wide, narrow] = [rowOf(geometry, 'cylinder', 6), rowOf(geometry, 'cylinder', 4)];
    expect(part.coverage.mask).toEqual(sourceRunsOfFaces(geometry, [wide]));
    expect(part.coverage.show).toEqual(sourceRunsOfFaces(geometry, [narrow]));
    expect(part.fits[0]!.faces).toEqual(sourceRunsOfFaces(geometry, [narrow]));
    // The bore of radius 6 through 10: 2π · 6 · 10.
    const plain = { ...part, surface: { ...part.surface, threads: [] }, contacts: [] };
    expect(measurePart(plain, geometry).maskedM2 * 1e6).toBeCloseTo(120 * Math.PI, 6);
    expect(measurePart(part, geometry).threads[0]!.row).toBe(wide);
    const [pin] = pinsOn(geometry, part.contacts);
    expect(geometry.faces.faceOfTriangle[pin!.triangle]).toBe(narrow);
    // Once taken over, the next reading finds all as it was.
    expect(readAgain(part, now)).toEqual({ part, isMoved: false });
  });

  test('without that, masks of the old triangles would lie on other faces', () => {
    const [before, now] = way === 'finer' ? [coarse, fine] : [fine, coarse];
    const part = treated(before);
    expect(part.coverage.mask).not.toEqual(readAgain(part, now).part.coverage.mask);
  });
});

test('faces in another order, each drawn as before: a count of triangles would have noticed nothing', () => {
  const part = treated(coarse);
  const { positions, cad } = coarse;
  const count = cad.faces.length;
  const order = Array.from({ length: count }, (_, i) => count - 1 - i);
  const triangles = order.flatMap((face) =>
    [...cad.faceOfTriangle.keys()].filter((t) => cad.faceOfTriangle[t] === face),
  );
  const turned: Reading = {
    positions: Float32Array.from(triangles.flatMap((t) => [...positions.subarray(9 * t, 9 * t + 9)])),
    cad: {
      ...cad,
      faces: order.map((face) => cad.faces[face]!),
      faceOfTriangle: Uint32Array.from(triangles, (t) => count - 1 - cad.faceOfTriangle[t]!),
    },
  };
  const again = readAgain(part, turned);
  expect(again.notice).toBeUndefined();
  const geometry = geometryOf(turned);
  const plain = { ...again.part, surface: { ...again.part.surface, threads: [] }, contacts: [] };
  expect(measurePart(plain, geometry).maskedM2 * 1e6).toBeCloseTo(120 * Math.PI, 6);
});

test('a face that is not there any more is told, and its mask lies on no other', () => {
  const plate = cut(kernel, box(kernel, 60, 40, 10), moved(kernel, cylinder(kernel, 5, 30), 15, 20, -5));
  const other = cut(kernel, plate, moved(kernel, cylinder(kernel, 4, 30), 45, 20, -5));
  const changed = read(writeStep(kernel, [other]), withTolerance(1, 0.5));
  const part = treated(coarse);
  const { part: now, notice } = readAgain(part, changed);
  expect(notice?.message).toContain('One face of “plate” that you had set is not found again');
  expect(now.coverage.mask).toEqual([]);
  const geometry = geometryOf(changed);
  expect(now.coverage.show).toEqual(sourceRunsOfFaces(geometry, [rowOf(geometry, 'cylinder', 4)]));
  expect(measurePart(now, geometry).threads[0]!.row).toBeUndefined();
});

test('half a face can not be found again by its face: told', () => {
  const part = treated(coarse);
  const [from, to] = part.coverage.mask;
  const half: Part = { ...part, coverage: { mask: [from!, to! - 1], contact: [], show: [] } };
  const { part: now, notice } = readAgain(half, fine);
  expect(notice?.code).toBe('faces-lost');
  expect(now.coverage.mask).toEqual([]);
});

test('jobs saved before faces were kept open as before: the guard counts, and the faces are kept from now on', () => {
  const { source, ...rest } = treated(coarse);
  if (source.kind !== 'file') throw new Error('no file');
  const { cadFaces: _, ...older } = source;
  const part = partSchema.parse({ ...rest, source: older });
  expect(readAgain(part, fine).notice?.code).toBe('read-otherwise');
  const same = readAgain(part, coarse);
  expect(same.notice).toBeUndefined();
  expect(same.part.source).toEqual(source);
  expect(same.part.coverage).toEqual(part.coverage);
});

test('a damaged list of faces is refused with the job', () => {
  const part = treated(coarse);
  if (part.source.kind !== 'file') throw new Error('no file');
  const cadFaces = { ...part.source.cadFaces!, areas: [1] };
  const parsed = jobSchema.shape.parts.safeParse([{ ...part, source: { ...part.source, cadFaces } }]);
  expect(parsed.success).toBe(false);
});
