/**
 * Treatments of faces that fusing cuts in halves, or the bath's level cuts through. All areas by hand: rectangles, and
 * for the gusset a plate's top less the strip that stands on it.
 */
import { ShapeUtils, Vector2 } from 'three';
import { describe, expect, test } from 'vitest';
import { COVERAGE_BITS } from '../../../core/faces/coverage-flags.ts';
import { newPart } from '../../../core/job/default-job.ts';
import { partSchema, type Part } from '../../../core/job/job.ts';
import { partSurfaceSchema, type PartSurface } from '../../../core/job/job-surface.ts';
import { measurePart } from '../../../core/job/measure-part.ts';
import { preparePart } from '../../../core/job/prepare-part.ts';
import { coverageOn, paintedCoverage } from '../../../core/mesh/mesh-triangles.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { box, Soup } from '../../fixtures/shapes.ts';
import { solidKit } from '../../fixtures/solid-kit.ts';

const kit = await solidKit();
const cutPolygon = (contour: readonly { x: number; y: number }[]): number[][] =>
  ShapeUtils.triangulateShape(
    contour.map(({ x, y }) => new Vector2(x, y)),
    [],
  );
const partOf = (surface: Partial<PartSurface> = {}): Part => ({
  ...newPart('p', 'part.stl', 0, 'mm', true),
  surface: { ...partSurfaceSchema.parse({}), ...surface },
});
const prepared = (positions: Float32Array, part: Part): PartGeometry =>
  preparePart({ positions, bodies: [] }, part, { cutPolygon, kit }).geometry;

const { mask, contact, show } = COVERAGE_BITS;
const rowsWhere = ({ faces }: PartGeometry, areaMm2: number): number[] =>
  Array.from({ length: faces.count }, (_, row) => row).filter(
    (row) => Math.abs(faces.area[row]! - areaMm2) < 1e-3 * areaMm2,
  );
const painted = (part: Part, geometry: PartGeometry, rows: readonly number[], bits: number): Part => {
  const triangles: number[] = [];
  geometry.faces.faceOfTriangle.forEach((row, t) => {
    if (rows.includes(row)) triangles.push(t);
  });
  return { ...part, coverage: paintedCoverage(geometry, part.coverage, triangles, () => bits) };
};
const mm2 = (m2: number): number => m2 * 1e6;

/** A plate 80 × 80 × 6 with a wall 4 thick across the middle of its top: halves of 80 × 38. */
const GUSSET = new Soup().add(box(80, 80, 6, [-40, -40, 0])).add(box(80, 4, 30, [-40, -2, 6])).positions;

describe('a face cut in halves by a wall', () => {
  const fused = partOf({ fuseGap: 0 });
  const geometry = prepared(GUSSET, fused);
  const halves = rowsWhere(geometry, 80 * 38);

  test('one half is masked, the other stays coated', () => {
    expect(halves).toHaveLength(2);
    const [near, far] = halves;
    const part = painted(fused, geometry, [near!], mask);
    const measure = measurePart(part, geometry);
    expect(mm2(measure.maskedM2)).toBeCloseTo(80 * 38, 3);
    expect(measure.treatmentOfFace[near!]).toBe('mask');
    expect(measure.treatmentOfFace[far!]).toBe('coat');
    // The other half otherwise, then the first coated again: nothing of it is left.
    const both = painted(part, geometry, [far!], contact | show);
    const measured = measurePart(both, geometry);
    expect(mm2(measured.maskedM2)).toBeCloseTo(80 * 38, 3);
    expect(mm2(measured.contactM2)).toBeCloseTo(80 * 38, 3);
    expect(measured.showOfFace[far!]).toBe(true);
    const bare = painted(painted(both, geometry, [near!], 0), geometry, [far!], 0);
    expect(bare.coverage).toEqual({ mask: [], contact: [], show: [] });
  });

  test('masked both, they are one face of the file again, and stay masked unfused', () => {
    const part = painted(painted(fused, geometry, [halves[0]!], mask), geometry, [halves[1]!], mask);
    expect(part.coverage.pieces).toBeUndefined();
    const plain = partOf();
    const whole = measurePart({ ...part, surface: plain.surface }, prepared(GUSSET, plain));
    expect(mm2(whole.maskedM2)).toBeCloseTo(80 * 80, 3);
  });

  test('half a mask comes back after unfusing and fusing, after saving, and with a wider gap', () => {
    const part = painted(fused, geometry, [halves[0]!], mask);
    const unfused = { ...part, surface: partOf().surface };
    expect(measurePart(unfused, prepared(GUSSET, unfused)).maskedM2).toBe(0);
    const saved = partSchema.parse(JSON.parse(JSON.stringify(part)));
    expect(mm2(measurePart(saved, prepared(GUSSET, saved)).maskedM2)).toBeCloseTo(80 * 38, 3);
    const wider = { ...part, surface: { ...part.surface, fuseGap: 0.01 } };
    expect(mm2(measurePart(wider, prepared(GUSSET, wider)).maskedM2) / (80 * 38)).toBeCloseTo(1, 3);
  });

  test('what was said of the whole face before fusing holds for both halves', () => {
    const plain = partOf();
    const before = prepared(GUSSET, plain);
    const top = rowsWhere(before, 80 * 80).find((row) => before.faces.axis[3 * row + 2]! > 0.9)!;
    const part = { ...painted(plain, before, [top], mask), surface: fused.surface };
    const measure = measurePart(part, geometry);
    expect(mm2(measure.maskedM2)).toBeCloseTo(2 * 80 * 38, 3);
    // Coating one half again leaves the other masked.
    const one = measurePart(painted(part, geometry, [halves[1]!], 0), geometry);
    expect(mm2(one.maskedM2)).toBeCloseTo(80 * 38, 3);
    expect(one.treatmentOfFace[halves[0]!]).toBe('mask');
  });

  test('painted whole on the unfused part, the last word counts for both', () => {
    const part = painted(fused, geometry, [halves[0]!], mask);
    const plain = partOf();
    const before = prepared(GUSSET, plain);
    const top = rowsWhere(before, 80 * 80).find((row) => before.faces.axis[3 * row + 2]! > 0.9)!;
    const repainted = painted({ ...part, surface: plain.surface }, before, [top], contact);
    expect(repainted.coverage.pieces).toBeUndefined();
    const flags = coverageOn(geometry, repainted.coverage);
    const bits = new Set(
      [...geometry.faces.faceOfTriangle].map((row, t) => (halves.includes(row) ? flags[t]! : contact)),
    );
    expect([...bits]).toEqual([contact]);
  });
});

describe('a face cut by the level of the bath', () => {
  // A bar 20 × 20 × 100 standing 30 deep.
  const bar = box(20, 20, 100);
  const dipped = partOf({ immersedDepth: 30 });
  const geometry = prepared(bar, dipped);
  const sides = rowsWhere(geometry, 2000);

  test('masked, bare and coated count below it only, and add up', () => {
    const part = painted(painted(dipped, geometry, [sides[0]!], mask), geometry, [sides[1]!], contact);
    const measure = measurePart(part, geometry);
    expect(mm2(measure.maskedM2)).toBeCloseTo(20 * 30, 6);
    expect(mm2(measure.contactM2)).toBeCloseTo(20 * 30, 6);
    expect(mm2(measure.coatedM2)).toBeCloseTo(400 + 2 * 20 * 30, 6);
    expect(measure.totalM2).toBeCloseTo(measure.maskedM2 + measure.contactM2 + measure.coatedM2, 12);
    // Deeper, the same masks grow with what is wetted.
    const deeper = measurePart({ ...part, surface: { ...part.surface, immersedDepth: 60 } }, geometry);
    expect(mm2(deeper.maskedM2)).toBeCloseTo(20 * 60, 6);
  });

  test('fused and dipped: half a mask, cut by the level', () => {
    // The gusset stood on edge: 40 of 80 deep, x up, so that each half has 40 × 38 in the bath.
    const standing = {
      ...partOf({ fuseGap: 0, immersedDepth: 40 }),
      attitude: { up: [1, 0, 0] as [number, number, number], turnRad: 0 },
    };
    const mesh = prepared(GUSSET, standing);
    const [half] = rowsWhere(mesh, 80 * 38);
    const measure = measurePart(painted(standing, mesh, [half!], mask), mesh);
    expect(mm2(measure.maskedM2)).toBeCloseTo(40 * 38, 3);
  });
});
