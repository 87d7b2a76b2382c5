/**
 * Flats milled along a round bar, so shallow that they meet it by less than faces are split at. Judged by the closed
 * form of a circle less its segments: chord 2 r sin φ, segment r² (φ − sin φ cos φ), φ half the angle that the flat spans.
 */
import manifoldModule from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { facetCorrection } from '../../../core/faces/facet-correction.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { arc, extruded, placed } from '../../fixtures/shapes.ts';

const PI = Math.PI;
const R = 10;
const LENGTH = 40;
const analyse = (positions: Float32Array): PartGeometry =>
  analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });

/** Area of a bar with `flats` flats of half-angle φ round it. */
function exact(flats: number, phi: number): number {
  const round = 2 * PI - 2 * flats * phi;
  const wall = (round * R + flats * 2 * R * Math.sin(phi)) * LENGTH;
  const end = PI * R * R - flats * R * R * (phi - Math.sin(phi) * Math.cos(phi));
  return wall + 2 * end;
}

/** The same, every arc drawn with even chords of at most 360°/n, as CAD programs do. */
function drawn(n: number, flats: number, phi: number): Float32Array {
  const outline: [number, number][] = [];
  for (let i = 0; i < flats; i++) {
    const from = (2 * PI * i) / flats + phi;
    const to = (2 * PI * (i + 1)) / flats - phi;
    outline.push(...arc(0, 0, R, from, to, Math.ceil(((to - from) * n) / (2 * PI))));
  }
  return extruded(outline, LENGTH);
}

describe.each([16, 20, 24, 32, 48, 64, 128])('%d facets round', (n) => {
  describe.each([1, 2, 3])('%d flats', (flats) => {
    it.each([4, 6, 8, 10, 14, 18, 22])('half-angle %d°', (degrees) => {
      const phi = (degrees * PI) / 180;
      const truth = exact(flats, phi);
      const part = analyse(placed(drawn(n, flats, phi), { turn: [0.3, 0.4, 0.5, Math.sqrt(0.5)] }));
      const { total } = facetCorrection(part);
      // 1e-6: corners are rounded to 32 bits.
      expect(total.low).toBeLessThan(truth * (1 + 1e-6));
      expect(total.high).toBeGreaterThan(truth * (1 - 1e-6));
      // Narrower than a facet it is one of many.
      if (degrees > 1.1 * (180 / n)) {
        expect(Math.abs((total.corrected - truth) / (part.area - truth))).toBeLessThan(0.1);
      }
    });
  });
});

it('a round of which one corner was left out: its wide facet may be a flat, and the range holds both', () => {
  const corners = arc(0, 0, R, 0, 2 * PI, 32).slice(1, -1);
  const { total } = facetCorrection(analyse(extruded(corners, LENGTH)));
  expect(total.low).toBeLessThan(exact(1, PI / 16));
  expect(total.high).toBeGreaterThan(exact(0, 0));
});

describe('cut out of a mesh', () => {
  let wasm: Awaited<ReturnType<typeof manifoldModule>>;
  beforeAll(async () => {
    wasm = await manifoldModule();
    wasm.setup();
  });

  describe.each([16, 24, 32, 64])('%d facets round', (n) => {
    it.each([6, 10, 14, 18, 22])('half-angle %d°', (degrees) => {
      const phi = (degrees * PI) / 180;
      const { Manifold } = wasm;
      const bar = Manifold.cylinder(LENGTH, R, R, n);
      const cutter = Manifold.cube([R, 4 * R, 4 * LENGTH]).translate([R * Math.cos(phi), -2 * R, -LENGTH]);
      for (const turned of [0, 0.3, 0.5, 0.8]) {
        const body = bar.subtract(cutter.rotate([0, 0, (turned * 360) / n]));
        const mesh = body.getMesh();
        const positions = new Float32Array(3 * mesh.triVerts.length);
        mesh.triVerts.forEach((v, corner) => {
          for (let k = 0; k < 3; k++) positions[3 * corner + k] = mesh.vertProperties[v * mesh.numProp + k];
        });
        const truth = exact(1, phi);
        const part = analyse(positions);
        const { total } = facetCorrection(part);
        // Where a cut runs through a facet of the round, its line is known no better than to a few hundredths of the raw error.
        const slack = 0.02 * Math.abs(part.area - truth) + 1e-6 * truth;
        expect(total.low, `turned by ${turned} of a facet`).toBeLessThan(truth + slack);
        expect(total.high, `turned by ${turned} of a facet`).toBeGreaterThan(truth - slack);
      }
    });
  });
});
