/** The level against closed forms and against manifold's own cut by a plane. */
import fc from 'fast-check';
import loadManifold, { type Manifold, type ManifoldToplevel } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { measureTriangles } from '../../../core/mesh/measure-triangles.ts';
import { cutAtWaterline, type Wetted } from '../../../core/mesh/waterline.ts';
import { box, cylinder, placed, quartered, sphere } from '../../fixtures/shapes.ts';

let kit: ManifoldToplevel;
beforeAll(async () => {
  kit = await loadManifold();
  kit.setup();
});

type Vec = readonly [number, number, number];
const cut = (positions: Float32Array, up: Vec, point: Vec, closed = true): Wetted =>
  cutAtWaterline(positions, measureTriangles(positions, 0).areas, closed, { up, point });

describe('closed forms', () => {
  it('box 20 × 30 × 40, level at 10: floor, and a quarter of the walls', () => {
    const wet = cut(box(20, 30, 40), [0, 0, 3], [7, -5, 10]);
    expect(wet.area).toBeCloseTo(600 + 100 * 10, 9);
    expect(wet.cutLength).toBeCloseTo(100, 9);
    expect(wet.volume).toBeCloseTo(6000, 9);
  });

  it('box cut aslant through four upright edges: a prism with a leaning lid', () => {
    // Level z = 10 + x / 2 over 0 … 20: mean height 15; lid edges √(20² + 10²) twice and 30 twice.
    const wet = cut(box(20, 30, 40), [-1, 0, 2], [0, 0, 10]);
    expect(wet.volume).toBeCloseTo(20 * 30 * 15, 8);
    expect(wet.area).toBeCloseTo(600 + 30 * 10 + 30 * 20 + 2 * 20 * 15, 8);
    expect(wet.cutLength).toBeCloseTo(2 * Math.hypot(20, 10) + 60, 8);
  });

  it('sphere: a zone’s area is 2 π r h (Archimedes), up to its facets', () => {
    const wet = cut(sphere(20, 512, 256), [0, 0, 1], [0, 0, -8]);
    // 512 × 256 facets are 1e-4 short of the sphere.
    expect(wet.area / (2 * Math.PI * 20 * 12)).toBeCloseTo(1, 3);
    expect(wet.volume! / ((Math.PI * 12 * 12 * (60 - 12)) / 3)).toBeCloseTo(1, 3);
    expect(wet.cutLength / (2 * Math.PI * Math.sqrt(400 - 64))).toBeCloseTo(1, 3);
  });

  it('square bar on its edge, half in: two of four sides and half of each end', () => {
    const wet = cut(
      placed(cylinder(10, 50, 4), { turn: [Math.SQRT1_2, 0, 0, Math.SQRT1_2] }),
      [0, 0, 1],
      [0, 0, 0],
    );
    expect(wet.area).toBeCloseTo(2 * Math.hypot(10, 10) * 50 + 2 * 100, 4);
    expect(wet.volume).toBeCloseTo(100 * 50, 3);
  });
});

describe('edge cases', () => {
  const shape = box(10, 10, 10);
  it('all in, all out, and just touching', () => {
    expect(cut(shape, [0, 0, 1], [0, 0, 11])).toMatchObject({ area: 600, cutLength: 0 });
    expect(cut(shape, [0, 0, 1], [0, 0, 11]).volume).toBeCloseTo(1000, 9);
    expect(cut(shape, [0, 0, 1], [0, 0, -1])).toMatchObject({ area: 0, cutLength: 0, volume: 0 });
    // The top in the level: wetted, and its four edges are the cut, once each.
    expect(cut(shape, [0, 0, 1], [0, 0, 10]).area).toBeCloseTo(600, 9);
    expect(cut(shape, [0, 0, 1], [0, 0, 10]).cutLength).toBeCloseTo(40, 9);
    // The floor in the level: wetted too, but no body below it.
    expect(cut(shape, [0, 0, 1], [0, 0, 0])).toMatchObject({ area: 100, volume: 0 });
  });

  it('corners that lie in the level are cut once', () => {
    const halved = quartered(shape);
    const wet = cut(halved, [0, 0, 1], [0, 0, 5]);
    expect(wet.area).toBeCloseTo(300, 9);
    expect(wet.cutLength).toBeCloseTo(40, 9);
    expect(wet.volume).toBeCloseTo(500, 9);
  });

  it('no volume for an open mesh; shares times areas make the sum; refuses nonsense', () => {
    const open = shape.subarray(18);
    const wet = cut(open, [0, 1, 1], [5, 5, 4], false);
    expect(wet.volume).toBeNull();
    expect(wet.areaOfTriangle.reduce((sum, area) => sum + area, 0)).toBeCloseTo(wet.area, 12);
    expect(() => cut(shape, [0, 0, 0], [0, 0, 0])).toThrow(RangeError);
    expect(() => cut(shape, [0, 0, 1], [NaN, 0, 0])).toThrow(RangeError);
    expect(() =>
      cutAtWaterline(shape, new Float64Array(3), true, { up: [0, 0, 1], point: [0, 0, 0] }),
    ).toThrow(RangeError);
  });
});

describe('manifold-3d', () => {
  const soupOf = (solid: Manifold): Float32Array => {
    const mesh = solid.getMesh();
    return Float32Array.from(
      Array.from(mesh.triVerts).flatMap((vertex) => [
        ...mesh.vertProperties.subarray(vertex * mesh.numProp, vertex * mesh.numProp + 3),
      ]),
    );
  };

  it('cuts a drilled block by the same plane: volume below, and area less the lid', () => {
    const solid = kit.Manifold.cube([40, 30, 20], true)
      .subtract(kit.Manifold.cylinder(30, 6, 4, 40, true))
      .subtract(kit.Manifold.cylinder(50, 5, 5, 32, true).rotate([0, 90, 0]).translate([0, 8, 3]))
      .add(kit.Manifold.sphere(9, 36).translate([18, -10, 8]));
    const positions = soupOf(solid);
    const number = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        number,
        number,
        number,
        fc.double({ min: -18, max: 18, noNaN: true }),
        (x, y, z, offset) => {
          const size = Math.hypot(x, y, z);
          fc.pre(size > 0.1);
          const up: Vec = [x / size, y / size, z / size];
          const wet = cut(positions, up, [up[0] * offset, up[1] * offset, up[2] * offset]);
          const [above, below] = solid.splitByPlane([...up], offset);
          // Each half has the lid once: what the halves have beyond the whole is two lids.
          const lid = (above.surfaceArea() + below.surfaceArea() - solid.surfaceArea()) / 2;
          // Corners are float32 here and rounded anew by the cut there: 1e-6 of 40 mm over some 10 000 mm².
          expect(Math.abs(wet.volume! - below.volume())).toBeLessThan(1e-5 * solid.volume());
          expect(Math.abs(wet.area - (below.surfaceArea() - lid))).toBeLessThan(1e-5 * solid.surfaceArea());
          const trimmed = solid.trimByPlane([-up[0], -up[1], -up[2]], -offset);
          expect(Math.abs(wet.volume! - trimmed.volume())).toBeLessThan(1e-5 * solid.volume());
        },
      ),
      { numRuns: 60, seed: 7 },
    );
  });

  it('has the cut line’s length, as the outline of the section', () => {
    const solid = kit.Manifold.cylinder(30, 12, 9, 48).subtract(
      kit.Manifold.cylinder(40, 4, 4, 32).translate([2, 0, -1]),
    );
    const wet = cut(soupOf(solid), [0, 0, 1], [0, 0, 11.25]);
    const section = solid.slice(11.25);
    const outline = section.toPolygons().reduce(
      (sum, polygon) =>
        sum +
        polygon.reduce((length, [x, y], i) => {
          const [u, v] = polygon[(i + 1) % polygon.length]!;
          return length + Math.hypot(u - x, v - y);
        }, 0),
      0,
    );
    expect(wet.cutLength / outline).toBeCloseTo(1, 5);
  });
});
