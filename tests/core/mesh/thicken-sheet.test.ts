/**
 * Sheets drawn without thickness. Judges: closed forms of flat and folded sheet; Steiner's formula for parallel surfaces (do Carmo,
 * Differential Geometry of Curves and Surfaces, 3-5 exercise 11): A(+h) + A(−h) = 2A + 2h²∫K; solids of manifold-3d.
 */
import { describe, expect, test } from 'vitest';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { asSource, backSource, rimSource } from '../../../core/mesh/source-triangles.ts';
import { surfaceArea } from '../../../core/mesh/surface-area.ts';
import { thickenSheet } from '../../../core/mesh/thicken-sheet.ts';
import { weld } from '../../../core/mesh/weld.ts';
import { box, Soup, sphere } from '../../fixtures/shapes.ts';
import { soupOf, startManifold } from '../racking/solids.ts';

type Point = readonly [number, number, number];

const triangles = (...corners: readonly Point[]): Float32Array => Float32Array.from(corners.flat());
const quad = (a: Point, b: Point, c: Point, d: Point): Float32Array => triangles(a, b, c, a, c, d);
const soup = (...parts: Float32Array[]): Float32Array =>
  parts.reduce((all, part) => all.add(part), new Soup()).positions;
const thick = (positions: Float32Array, by: number) => {
  const mesh = asSource(positions);
  const done = thickenSheet(mesh, by, mesh.sourceTriangle.length);
  return { ...done, geometry: analysePart(done.positions, [], { splitAngleRad: 0.61 }) };
};

/** A strip of quads along a line in the x-z plane, `wide` along y. */
const along = (line: readonly (readonly [number, number])[], wide: number): Float32Array =>
  soup(
    ...line.slice(1).map(([x, z], i) => {
      const [fromX, fromZ] = line[i]!;
      return quad([fromX, 0, fromZ], [x, 0, z], [x, wide, z], [fromX, wide, fromZ]);
    }),
  );

test('a flat plate counts both sides and its edges', () => {
  const { geometry } = thick(along([[0, 0], [80, 0]], 50), 2); // prettier-ignore
  expect(geometry.closed).toBe(true);
  expect(geometry.area).toBeCloseTo(2 * 80 * 50 + 2 * (80 + 50) * 2, 3);
  expect(geometry.volume).toBeCloseTo(80 * 50 * 2, 2);
  expect(geometry.findings).toEqual([]);
  expect(geometry.faces.count).toBe(6);
});

test('a plate with a hole is the solid that was drilled', async () => {
  const kit = await startManifold();
  const solid = kit.Manifold.cube([60, 40, 3]).subtract(
    kit.Manifold.cylinder(10, 8, 8, 48).translate([25, 20, -2]),
  );
  const whole = soupOf(solid);
  // Its upper side alone, 1.5 mm lower: the surface half way through.
  const top: number[] = [];
  for (let o = 0; o < whole.length; o += 9) {
    if ([2, 5, 8].every((k) => whole[o + k] === 3))
      top.push(...whole.slice(o, o + 9).map((x, k) => (k % 3 === 2 ? 1.5 : x)));
  }
  const { geometry } = thick(Float32Array.from(top), 3);
  expect(geometry.closed).toBe(true);
  expect(geometry.area / surfaceArea(whole)).toBeCloseTo(1, 6);
  expect(geometry.volume / solid.volume()).toBeCloseTo(1, 6);
  expect(geometry.faces.count).toBe(7);
});

describe('folds are mitred', () => {
  test.each([30, 90, 120])('by %s degrees', (degrees) => {
    const turn = (degrees * Math.PI) / 180;
    const line: [number, number][] = [[0, 0], [40, 0], [40 + 30 * Math.cos(turn), 30 * Math.sin(turn)]]; // prettier-ignore
    const { geometry } = thick(along(line, 25), 2);
    expect(geometry.closed).toBe(true);
    // What one side of the middle gains at the fold the other loses, and so do the two ends of the profile.
    expect(geometry.area).toBeCloseTo(2 * 70 * 25 + 2 * 70 * 2 + 2 * 2 * 25, 2);
    expect(geometry.volume).toBeCloseTo(70 * 2 * 25, 2);
  });

  test('so is the corner of a tray of three folds, to the solid it would be', () => {
    // Floor and four walls, drawn along the middle of 2 mm metal.
    const tray = box(40, 30, 15).filter((_, i, all) => {
      const t = 9 * Math.floor(i / 9);
      return ![2, 5, 8].every((k) => all[t + k] === 15);
    });
    const { geometry } = thick(tray, 2);
    expect(geometry.closed).toBe(true);
    const outer = { x: 42, y: 32 };
    const inner = { x: 38, y: 28 };
    const area =
      outer.x * outer.y +
      2 * (outer.x + outer.y) * 16 + // outside
      inner.x * inner.y +
      2 * (inner.x + inner.y) * 14 + // inside
      (outer.x * outer.y - inner.x * inner.y); // rim
    expect(geometry.area).toBeCloseTo(area, 1);
    expect(geometry.volume).toBeCloseTo(42 * 32 * 16 - 38 * 28 * 14, 1);
  });
});

test('a half ball is what Steiner’s formula says of its two sides', () => {
  const ball = sphere(20, 96, 48);
  const half = ball.filter((_, i) => [2, 5, 8].every((k) => ball[9 * Math.floor(i / 9) + k]! >= -1e-4));
  const drawn = surfaceArea(half);
  const { geometry } = thick(half, 3);
  expect(geometry.closed).toBe(true);
  const sides = 2 * drawn + 2 * 1.5 ** 2 * 2 * Math.PI;
  const rim = Math.PI * (21.5 ** 2 - 18.5 ** 2);
  // 96 chords: a thousandth of the small terms.
  expect(geometry.area / (sides + rim)).toBeCloseTo(1, 3);
  expect(geometry.volume / ((2 / 3) * Math.PI * (21.5 ** 3 - 18.5 ** 3))).toBeCloseTo(1, 2);
});

test('what comes has numbers of its own, so that a mask on the front is not one on the back', () => {
  const plate = along([[0, 0], [80, 0]], 50); // prettier-ignore
  const { sourceTriangle } = thick(plate, 2);
  expect([...sourceTriangle.slice(0, 4)]).toEqual([0, 1, backSource(2, 0), backSource(2, 1)]);
  expect(new Set(sourceTriangle).size).toBe(4 + 4);
  expect(sourceTriangle[4]).toBe(rimSource(2, 0, 0));
});

test('only what is open with two sides is changed: a closed body, a T of three sheets and a turned flat stay', () => {
  const closed = box(10, 10, 10);
  expect(thick(closed, 1).positions).toBe(closed);
  const [a, b, c]: Point[] = [[0, 0, 0], [0, 10, 0], [10, 10, 0]]; // prettier-ignore
  const crossing = soup(triangles(a, b, c), triangles(b, a, [-10, 0, 0]), triangles(a, b, [0, 0, 10]));
  expect(thick(crossing, 1).positions).toBe(crossing);
  const turned = soup(triangles(a, b, c), triangles([10, 0, 0], c, a));
  expect(thick(turned, 1).positions).toBe(turned);
  const both = soup(closed, along([[20, 0], [60, 0]], 30)); // prettier-ignore
  const { positions, geometry } = thick(both, 2);
  expect([...positions.slice(0, closed.length)]).toEqual([...closed]);
  expect(geometry.area).toBeCloseTo(600 + 2 * 40 * 30 + 2 * 70 * 2, 3);
  expect(() => thick(both, 0)).toThrow(RangeError);
});

test('a sharp fold does not run away', () => {
  const line: [number, number][] = [[0, 0], [40, 0], [0.2, 1]]; // prettier-ignore
  const { positions } = thick(along(line, 25), 2);
  const { vertices } = weld(positions);
  for (let i = 0; i < vertices.length; i += 3) expect(Math.abs(vertices[i]! - 20)).toBeLessThan(20 + 4.01);
});
