import { ShapeUtils, Vector2 } from 'three';
import { describe, expect, test } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { DEFAULT_PROCESS, newPart } from '../../../core/job/default-job.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import type { Part } from '../../../core/job/job.ts';
import { partSurfaceSchema, type PartSurface } from '../../../core/job/job-surface.ts';
import { hangerAreaM2, loadItems } from '../../../core/job/load-items.ts';
import { measurePart, measureTyped } from '../../../core/job/measure-part.ts';
import { preparePart } from '../../../core/job/prepare-part.ts';
import { changedCoverage, coverageOn, pinsOn, triangleFrom } from '../../../core/mesh/mesh-triangles.ts';
import { COVERAGE_BITS } from '../../../core/faces/coverage-flags.ts';
import { box, cylinder, placed, Soup, tube } from '../../fixtures/shapes.ts';
import { solidKit } from '../../fixtures/solid-kit.ts';
import { valueOf } from '../value-of.ts';

const kit = await solidKit();
const soup = (...parts: Float32Array[]): Float32Array =>
  parts.reduce((all, part) => all.add(part), new Soup()).positions;
const partOf = (surface: Partial<PartSurface> = {}, change: Partial<Part> = {}): Part => ({
  ...newPart('p', 'part.stl', 0, 'mm', true),
  ...change,
  surface: { ...partSurfaceSchema.parse({}), ...surface },
});
const cutPolygon = (contour: readonly { x: number; y: number }[]): number[][] =>
  ShapeUtils.triangulateShape(
    contour.map(({ x, y }) => new Vector2(x, y)),
    [],
  );
const prepared = (positions: Float32Array, part: Part) =>
  preparePart({ positions, bodies: [] }, part, { cutPolygon, kit }).geometry;
const measured = (positions: Float32Array, part: Part) => measurePart(part, prepared(positions, part));

test('a clamp pad on a round face covers its true surface', () => {
  // 24 facets round: the lateral factor (θ/2)/sin(θ/2) = 1.002862. The pad is small against the cylinder, so all of it is on the wall.
  const bar = cylinder(12.7, 100, 24);
  const angle = Math.PI / 24;
  const r = 12.7 * Math.cos(angle);
  const at: [number, number, number] = [r * Math.cos(angle), r * Math.sin(angle), 50];
  const geometry = prepared(bar, partOf());
  const facing = Array.from({ length: geometry.triangleCount }, (_, t) => t).filter((t) => {
    const [x, y] = [geometry.graph.normals[3 * t]!, geometry.graph.normals[3 * t + 1]!];
    return x * Math.cos(angle) + y * Math.sin(angle) > 1 - 1e-6;
  });
  const pad = (surface: Partial<PartSurface>): number => {
    const contacts = [{ id: 'c', at, triangle: facing[0]!, patchDiameterM: 0.004, hanger: FIRST_HANGER }];
    return measurePart(partOf(surface, { contacts }), geometry).contacts[0]!.patchM2;
  };
  // Within the tenth of the raw error that is promised of the correction.
  expect(Math.abs(pad({}) / pad({ facets: 'as meshed' }) - 1.002862)).toBeLessThan(0.1 * 0.002862);
});

test('what fills a gap can be masked, and stays so when the repair is done again', () => {
  const open = box(10, 10, 10).subarray(18);
  const fill = partOf({ repairs: [{ kind: 'fill', size: 11 }] });
  const geometry = prepared(open, fill);
  expect(geometry).toMatchObject({ closed: true, area: 600 });
  const lid = [geometry.triangleCount - 2, geometry.triangleCount - 1];
  const masked: Part = {
    ...fill,
    coverage: changedCoverage(geometry, fill.coverage, lid, () => COVERAGE_BITS.mask),
  };
  expect(measurePart(masked, prepared(open, masked)).maskedM2 * 1e6).toBeCloseTo(100, 9);
  // Taken back, the gap is open and nothing of the rest is masked; done again, it is masked as before.
  const undone: Part = { ...masked, surface: partOf().surface };
  expect(measurePart(undone, prepared(open, undone)).maskedM2).toBe(0);
  const again: Part = { ...undone, surface: fill.surface };
  expect(measurePart(again, prepared(open, again)).maskedM2 * 1e6).toBeCloseTo(100, 9);
});

describe('facets', () => {
  test.each([16, 24, 48])(
    'a bar of %i sides: true area within a tenth of what the facets lose, and in its range',
    (sides) => {
      // Section 13: d 25.4, L 100 is 8993.060 mm².
      const bar = cylinder(12.7, 100, sides);
      const trueMm2 = 2 * Math.PI * 12.7 * (12.7 + 100);
      const { totalM2, totalLowM2, totalHighM2, meshM2 } = measured(bar, partOf());
      expect(trueMm2).toBeCloseTo(8993.06, 2);
      expect(Math.abs(totalM2 * 1e6 - trueMm2)).toBeLessThan(0.1 * (trueMm2 - meshM2 * 1e6));
      expect(totalLowM2 * 1e6).toBeLessThanOrEqual(trueMm2);
      expect(totalHighM2 * 1e6).toBeGreaterThanOrEqual(trueMm2 * (1 - 1e-9));
      const asMeshed = measured(bar, partOf({ facets: 'as meshed' }));
      expect(asMeshed.totalM2).toBeCloseTo(asMeshed.meshM2, 15);
      expect(asMeshed.totalHighM2).toBe(asMeshed.totalM2);
    },
  );

  test('where the mesh cannot tell, both areas are there, and the answer decides', () => {
    // A prism of 16 sides: a coarse round, or 16 flats.
    const bar = cylinder(12.7, 100, 16);
    const geometry = prepared(bar, partOf());
    const asked = measurePart(partOf(), geometry).questions;
    expect(asked).toHaveLength(1);
    expect(asked[0]!.roundM2).toBeGreaterThan(asked[0]!.flatM2);
    const wall = geometry.faces.firstTriangle[asked[0]!.row]!;
    const flat = measured(bar, partOf({ facetAnswers: [{ triangle: wall, is: 'flat' }] }));
    expect(flat.questions).toEqual([]);
    expect(flat.totalM2).toBeCloseTo(flat.meshM2, 12);
    expect(
      measured(bar, partOf({ facetAnswers: [{ triangle: wall, is: 'round' }] })).totalM2,
    ).toBeGreaterThan(flat.totalM2);
  });

  test('the range goes on to amps and thickness', () => {
    const part = partOf();
    const plan = valueOf(
      planRun(loadItems([part], { p: measured(cylinder(12.7, 100, 16), part) }), DEFAULT_PROCESS),
    );
    const { lowSi, highSi, valueSi } = plan.loadCurrentA;
    expect(lowSi).toBeLessThan(valueSi);
    expect(highSi).toBeGreaterThan(valueSi);
    expect(plan.thicknessM.lowSi! / plan.thicknessM.valueSi).toBeCloseTo(valueSi / highSi!, 9);
  });
});

test('a threaded bore counts with its thread: 1.625 of the cylinder at the pitch diameter, seen from the drill', () => {
  // Block 30 × 30 × 12 with a bore of 5.026 (minor diameter of M6: 6 − 1.0825 × 1 is 4.917; drill 5.0) right through.
  const drilled = kit.Manifold.difference([
    kit.Manifold.cube([30, 30, 12]),
    kit.Manifold.cylinder(14, 2.5, 2.5, 96).translate([15, 15, -1]),
  ]).getMesh();
  const positions = Float32Array.from(
    { length: 3 * drilled.triVerts.length },
    (_, i) => drilled.vertProperties[drilled.triVerts[(i / 3) | 0]! * drilled.numProp + (i % 3)]!,
  );
  const plain = measured(positions, partOf());
  const geometry = prepared(positions, partOf());
  const bore = geometry.faces.inward.indexOf(1);
  const triangle = geometry.faces.firstTriangle[bore]!;
  const tapped = measured(positions, partOf({ threads: [{ triangle, designation: 'M6x1' }] }));
  // Check value: 1.625 at the pitch diameter 6 − 0.6495 = 5.3505. That takes the whole profile at one radius; the
  // middle of its flanks lies 2 % further out, and the helix adds 0.2 %.
  const expected = 1.625 * Math.PI * 5.3505 * 12;
  expect(Math.abs((tapped.areaOfFaceM2[bore]! * 1e6) / expected - 1)).toBeLessThan(0.02);
  expect(tapped.totalM2 - plain.totalM2).toBeCloseTo(
    tapped.areaOfFaceM2[bore]! - plain.areaOfFaceM2[bore]!,
    9,
  );
  expect(tapped.totalLowM2).toBeLessThan(tapped.totalM2);
  const wrong = measured(positions, partOf({ threads: [{ triangle, designation: 'M20' }] }));
  expect(wrong.threads[0]!.area).toMatchObject({ ok: false, error: { code: 'thread-no-fit' } });
  expect(wrong.totalM2).toBe(plain.totalM2);
});

describe('voids', () => {
  const over = (positions: Float32Array): Float32Array => {
    const out = positions.slice();
    for (let t = 0; t < out.length; t += 9) {
      out.set(positions.subarray(t + 6, t + 9), t + 3);
      out.set(positions.subarray(t + 3, t + 6), t + 6);
    }
    return out;
  };
  const hollow = soup(box(10, 10, 10), over(box(4, 4, 4, [3, 3, 3])));

  test('do not count, and count once they are said to be vented', () => {
    const sealed = measured(hollow, partOf());
    expect(sealed.totalM2 * 1e6).toBeCloseTo(600, 6);
    expect(sealed.coatedM2 * 1e6).toBeCloseTo(600, 6);
    expect(sealed.sealedM2 * 1e6).toBeCloseTo(96, 6);
    expect(sealed.voids[0]).toMatchObject({ vented: false, anchor: 12 });
    const vented = measured(hollow, partOf({ ventedVoids: [12] }));
    expect(vented.totalM2 * 1e6).toBeCloseTo(696, 6);
    expect(vented.sealedM2).toBe(0);
    expect(vented.voids[0]!.vented).toBe(true);
  });
});

describe('the level of the bath', () => {
  const bar = box(20, 20, 100);
  test('takes what is under it, triangles cut: a square bar to a third', () => {
    const dipped = measured(bar, partOf({ immersedDepth: 30 }));
    expect(dipped.totalM2 * 1e6).toBeCloseTo(400 + 4 * 20 * 30, 6);
    expect(dipped.aboveM2 * 1e6).toBeCloseTo(400 + 4 * 20 * 70, 6);
    const deep = measured(bar, partOf({ immersedDepth: 500 }));
    expect(deep.aboveM2).toBe(0);
    expect(deep.totalM2 * 1e6).toBeCloseTo(8800, 6);
  });

  test('goes with the way it hangs, and a clamp above it takes nothing off', () => {
    const lying = partOf({ immersedDepth: 5 }, { attitude: { up: [2, 0, 0], turnRad: 0 } });
    expect(measured(bar, lying).totalM2 * 1e6).toBeCloseTo(2000 + 2 * 5 * 100 + 2 * 5 * 20, 6);
    const contacts: Part['contacts'] = [
      { id: 'c', at: [10, 10, 100], triangle: 2, patchDiameterM: 0.003, hanger: FIRST_HANGER },
    ];
    const clamped = measured(bar, partOf({ immersedDepth: 30 }, { contacts }));
    expect(clamped.coatedM2 * 1e6).toBeCloseTo(400 + 2400, 6);
  });
});

test('masks and pins outlive repairs and fusing, and their undo', () => {
  const plate = box(40, 40, 5);
  const post = placed(tube(8, 5, 30, 32), { shift: [20, 20, 5] });
  const positions = soup(box(0.05, 0.05, 0.05, [90, 0, 0]), plate, post);
  const plainPart = partOf();
  const before = prepared(positions, plainPart);
  // Mask the underside (12 and 13 of the file), pin on a side of the plate.
  const coverage = changedCoverage(before, plainPart.coverage, [12, 13], (bits) => bits | COVERAGE_BITS.mask);
  expect(coverage.mask).toEqual([12, 14]);
  const contacts: Part['contacts'] = [
    { id: 'c', at: [20, 0, 2.5], triangle: 16, patchDiameterM: 0.002, hanger: FIRST_HANGER },
  ];
  const wishes: Partial<PartSurface> = { repairs: [{ kind: 'drop', triangles: [0, 12] }], fuseGap: 0 };
  const part = partOf(wishes, { coverage, contacts });
  const geometry = prepared(positions, part);
  const after = measurePart(part, geometry);
  expect(after.maskedM2 * 1e6).toBeCloseTo(1600, 3);
  expect(after.contacts[0]!.patchM2 * 1e6).toBeCloseTo(Math.PI, 3);
  const [pin] = pinsOn(geometry, contacts);
  expect(geometry.sourceTriangle![pin!.triangle]).toBe(16);
  expect(triangleFrom(geometry, 3)).toBeUndefined();
  // Painting on the fused mesh changes the file's triangles, and keeps what was said of dropped ones.
  const speck = { ...coverage, mask: [0, 2, 12, 14] };
  const repainted = changedCoverage(geometry, speck, [pin!.triangle], (bits) => bits | COVERAGE_BITS.contact);
  expect(repainted).toEqual({ mask: [0, 2, 12, 14], contact: [16, 17], show: [] });
  // Undo: the same words on the file's own mesh.
  const undone = partOf({}, { coverage, contacts });
  expect(measured(positions, undone).maskedM2 * 1e6).toBeCloseTo(1600, 3);
  expect(coverageOn(before, coverage)[12]).toBe(COVERAGE_BITS.mask);
});

describe('the load', () => {
  test('aluminium wires below the level take current, titanium none', () => {
    const hanger = { ...FIRST_HANGER, diameterM: 0.003, wetLengthM: 0.1, count: 2 };
    const at = { id: 'c', at: [0, 0, 0] as [number, number, number], triangle: 0, patchDiameterM: 0.003 };
    const aluminium = { contacts: [{ ...at, hanger: { ...hanger, material: 'Al 5356' as const } }] };
    // 2 wires: π d l each and one end.
    expect(hangerAreaM2(aluminium) * 1e6).toBeCloseTo(2 * (Math.PI * 3 * 100 + (Math.PI * 9) / 4), 6);
    expect(hangerAreaM2({ contacts: [{ ...at, hanger }] })).toBe(0);
    const part = partOf({}, { ...aluminium, quantity: 3 });
    const measure = measureTyped(0.01);
    const plan = valueOf(planRun(loadItems([part], { p: measure }), DEFAULT_PROCESS));
    expect(plan.areaM2.valueSi).toBeCloseTo(3 * (0.01 + hangerAreaM2(aluminium)), 9);
    expect(plan.areaM2.inputs.some(({ label }) => label.startsWith('aluminium wire'))).toBe(true);
  });

  test('a typed area is marked on every figure that rests on it', () => {
    const part = { ...partOf(), source: { kind: 'typed' as const, areaM2: 0.02 } };
    const plan = valueOf(planRun(loadItems([part], { p: measureTyped(0.02) }), DEFAULT_PROCESS));
    for (const figure of [plan.areaM2, plan.currentA, plan.chargeC])
      expect(figure.unconfirmed).toContain('typed');
    expect(plan.areaM2.valueSi).toBeCloseTo(0.02, 12);
  });
});
