/**
 * A pipe cut to sit on another, exported as two meshes: the facets of both keep them apart. Judge: OpenCascade’s adaptive integral over the surface of
 * the two united.
 */
import { ShapeUtils, Vector2 } from 'three';
import { beforeAll, expect, test } from 'vitest';
import { newPart } from '../../../core/job/default-job.ts';
import { facetDepth, nearBodiesGap } from '../../../core/job/near-bodies.ts';
import { preparePart } from '../../../core/job/prepare-part.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { cylinder as meshedCylinder, placed, Soup, tube } from '../../fixtures/shapes.ts';
import { solidKit } from '../../fixtures/solid-kit.ts';
import { cut, cylinder, fused, meshed, moved, startDrawing, surfaceOf, turnedOver } from '../../fixtures/write-step.ts'; // prettier-ignore

const kit = await solidKit();
let kernel: Awaited<ReturnType<typeof startDrawing>>;
beforeAll(async () => {
  kernel = await startDrawing();
});

const cutPolygon = (contour: readonly { x: number; y: number }[]): number[][] =>
  ShapeUtils.triangulateShape(
    contour.map(({ x, y }) => new Vector2(x, y)),
    [],
  );

function prepared(positions: Float32Array, fuseGap: number) {
  const plain = newPart('p', 'tee.stl', 0, 'mm', true);
  const part = { ...plain, surface: { ...plain.surface, fuseGap } };
  const { geometry, fuse } = preparePart({ positions, bodies: [] }, part, { cutPolygon, kit });
  return { geometry, fuse: fuse! };
}

const codes = (positions: Float32Array): string[] =>
  prepared(positions, 0).geometry.findings.map(({ code }) => code);

test('what the facets of a saddle keep apart is told, and counted as touching where that is accepted', () => {
  const main = cut(
    kernel,
    moved(kernel, cylinder(kernel, 15, 120), 0, 0, -60),
    moved(kernel, cylinder(kernel, 12, 140), 0, 0, -70),
  );
  const along = (radius: number) =>
    turnedOver(kernel, moved(kernel, cylinder(kernel, radius, 60), 0, 0, 0), [0, 1, 0], 90);
  const pipe = cut(kernel, along(10), along(8));
  const branch = cut(kernel, pipe, moved(kernel, cylinder(kernel, 15, 140), 0, 0, -70));
  const truth = surfaceOf(kernel, fused(kernel, main, branch));
  const positions = Float32Array.from([
    ...meshed(kernel, main, 0.1, 0.3),
    ...meshed(kernel, branch, 0.05, 0.2),
  ]);

  const asDrawn = prepared(positions, 0);
  const finding = asDrawn.geometry.findings.find(({ code }) => code === 'bodies-near')!;
  expect(finding.message).toMatch(
    /^Bodies that meet in curved faces are kept apart by their facets: 0\.\d+ % of the area/,
  );
  expect(finding.offers!.map(({ label }) => label)).toEqual(['Count it as touching']);
  expect(asDrawn.geometry.facets!.total.corrected / truth - 1).toBeGreaterThan(0.004);

  const touching = prepared(positions, nearBodiesGap(asDrawn.geometry.findings)!);
  const { corrected, low, high } = touching.geometry.facets!.total;
  expect(Math.abs(corrected / truth - 1)).toBeLessThan(0.002);
  expect(low).toBeLessThan(truth * 1.0005);
  expect(high).toBeGreaterThan(truth * 0.9995);
  expect(touching.geometry.findings.map(({ code }) => code)).not.toContain('bodies-near');
});

test('nothing is said of bodies whose facets meet, nor of a slit wider than facets are deep', () => {
  // One radius and one set of facets; the second stands in a bore 0.5 mm wider, on a floor.
  const post = placed(meshedCylinder(10, 40, 48), { shift: [0, 0, 5] });
  const floor = meshedCylinder(20, 5, 48);
  expect(codes(new Soup().add(floor).add(placed(tube(20, 10, 20, 48), { shift: [0, 0, 5] })).add(post).positions)).not.toContain('bodies-near'); // prettier-ignore
  expect(codes(new Soup().add(floor).add(placed(tube(20, 10.5, 20, 48), { shift: [0, 0, 5] })).add(post).positions)).not.toContain('bodies-near'); // prettier-ignore
});

test('facets of a cylinder are as deep as their sagitta r (1 − cos(π / n))', () => {
  const part = analysePart(meshedCylinder(10, 40, 24), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  expect(facetDepth(part) / (10 * (1 - Math.cos(Math.PI / 24)))).toBeCloseTo(1, 1);
});
