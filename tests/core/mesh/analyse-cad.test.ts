/** A part whose faces come from a CAD file: the exact areas rule, the triangles only draw. */
import { expect, test } from 'vitest';
import type { CadFace, CadFaces } from '../../../core/faces/cad-faces.ts';
import { areasByTreatment } from '../../../core/faces/areas-by-treatment.ts';
import { analysePart, resplit } from '../../../core/mesh/analyse-part.ts';
import { boxTriangles, plainArea } from '../../fixtures/model-bytes.ts';

const plane = (areaModelUnits2: number): CadFace => ({
  kind: 'plane',
  size: 0,
  ringRadius: 0,
  areaModelUnits2,
  axis: [0, 0, 1],
  point: [0, 0, 0],
});

/** A box 4 × 3 × 2, two triangles a side, with a face for each pair of triangles as `areas` says. */
const positions = Float32Array.from(boxTriangles(4, 3, 2).flat());
const cadOf = (areas: readonly number[], faceOfTriangle?: readonly number[]): CadFaces => ({
  faces: areas.map(plane),
  faceOfTriangle: Uint32Array.from(faceOfTriangle ?? Array.from({ length: 12 }, (_, t) => Math.floor(t / 2))),
  chordTolerance: 0.001,
});

test('areas of faces, of triangles and of treatments are the exact ones', () => {
  const areas = [12.5, 12, 8, 8, 6, 6.25];
  const part = analysePart(positions, [], { splitAngleRad: 0.6, cad: cadOf(areas) });
  expect(Array.from(part.faces.area)).toEqual(areas);
  expect(part.area).toBe(52.75);
  expect(part.triangleAreas[0]).toBeCloseTo(6.25, 12);
  const flags = new Uint8Array(12);
  const { total, byFace } = areasByTreatment(part.faces, part.triangleAreas, flags);
  expect(total).toBeCloseTo(52.75, 12);
  byFace.coated.forEach((area, row) => expect(area).toBeCloseTo(areas[row]!, 12));
  // The mesh itself is as it was.
  expect(plainArea(part.positions)).toBe(52);
  expect(part.volume).toBeCloseTo(24, 12);
});

test('the split is the CAD’s: flat neighbours stay apart, and borders are found between them', () => {
  // The first side is drawn as two faces that lie in one plane.
  const cad = cadOf([6, 6, 12, 8, 8, 6, 6], [0, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6]);
  const part = analysePart(positions, [], { splitAngleRad: 0.6, cad });
  expect(part.faces.count).toBe(7);
  const { a, b, length, turnRad } = part.faces.borders;
  const row = a.findIndex((face, i) => face === 0 && b[i] === 1);
  expect(length[row]).toBeCloseTo(5, 6);
  expect(turnRad[row]).toBeCloseTo(0, 6);
  expect(resplit(part, 3)).toBe(part);
});

test('a face whose triangles have collapsed keeps its area', () => {
  const flat = positions.slice();
  for (let k = 9; k < 18; k++) flat[k] = flat[9 + (k % 3)]!;
  const cad = cadOf([6, 7, 12, 8, 8, 6, 6], [0, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6]);
  const part = analysePart(flat, [], { splitAngleRad: 0.6, cad });
  expect(part.faces.area[1]).toBe(7);
  expect(part.triangleAreas[1]).toBe(7);
});

test.each([
  ['too few triangles', cadOf([1], [0, 0])],
  ['a face without triangles', cadOf([1, 2, 3, 4, 5, 6, 7])],
  ['faces out of order', cadOf([1, 2], [0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1])],
  ['an area that is none', cadOf([NaN, 2, 3, 4, 5, 6])],
  ['an area below zero', cadOf([-1, 2, 3, 4, 5, 6])],
])('%s is the caller’s mistake', (_what, cad) => {
  expect(() => analysePart(positions, [], { splitAngleRad: 0.6, cad })).toThrow(RangeError);
});
