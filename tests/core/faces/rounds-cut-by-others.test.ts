/**
 * Rounds that another body cuts or grows out of, joined as meshes. No closed form: the same solid drawn with 2048 facets is
 * within 2e-6 of round.
 */
import loadManifold, { type Manifold, type ManifoldToplevel } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { facetCorrection, type FacetCorrection } from '../../../core/faces/facet-correction.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';

let kit: ManifoldToplevel;
beforeAll(async () => {
  kit = await loadManifold();
  kit.setup();
});

const bar = (n: number, turned: number): Manifold =>
  kit.Manifold.cylinder(60, 15, 15, n, true).rotate([0, 0, turned]);
const across = (length: number, radius: number, n: number): Manifold =>
  kit.Manifold.cylinder(length, radius, radius, n, true).rotate([90, 0, 0]);
const block = (size: readonly [number, number, number], at: readonly [number, number, number]): Manifold =>
  kit.Manifold.cube([...size], true).translate([...at]);

const SHAPES: Record<string, (n: number, turned: number) => Manifold> = {
  'a cross bore of as many facets': (n, turned) => bar(n, turned).subtract(across(60, 5, n)),
  'a fine cross bore': (n, turned) => bar(n, turned).subtract(across(60, 5, 64)),
  'a cross bore at a slant and a keyway': (n, turned) =>
    bar(n, turned)
      .subtract(across(60, 5, n).rotate([0, 0, 10]))
      .subtract(block([6, 40, 20], [14, 0, 30])),
  'a block fused on its side': (n, turned) => bar(n, turned).add(block([20, 12, 20], [15, 0, 0])),
  'a keyway to its end': (n, turned) => bar(n, turned).subtract(block([6, 8, 40], [14, 0, 30])),
  'a slot across its end': (n, turned) => bar(n, turned).subtract(block([6, 40, 20], [0, 0, 30])),
  'another bar across': (n, turned) => bar(n, turned).add(across(80, 8, n)),
  'an end cut at a slant': (n, turned) => bar(n, turned).trimByPlane([0.5, 0.2, -0.84], -15),
};

function correct(solid: Manifold): FacetCorrection {
  const { triVerts, vertProperties, numProp } = solid.getMesh();
  const positions = Float32Array.from(
    Array.from(triVerts).flatMap((v) => [...vertProperties.subarray(v * numProp, v * numProp + 3)]),
  );
  return facetCorrection(analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD }));
}

describe.each(Object.keys(SHAPES))('a bar with %s', (name) => {
  it.each([0, 7.3])('turned by %d°: asked where it is coarse, and the range holds the truth', (turned) => {
    const make = SHAPES[name]!;
    const truth = make(2048, turned).surfaceArea();
    for (const n of [8, 9, 10, 11, 12, 16, 20, 24, 32]) {
      const { total, ambiguous } = correct(make(n, turned));
      expect(total.low, `${n} facets`).toBeLessThan(truth * (1 + 2e-6));
      expect(total.high, `${n} facets`).toBeGreaterThan(truth * (1 - 2e-6));
      if (n > 10) continue;
      const asked = ambiguous.find(({ facetCount, faces }) => facetCount === n && faces.length >= n);
      expect(asked, `${n} facets`).toBeDefined();
    }
  });
});
