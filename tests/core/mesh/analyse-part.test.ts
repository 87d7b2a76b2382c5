import fc from 'fast-check';
import manifoldModule from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { analysePart, resplit } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { surfaceArea } from '../../../core/mesh/surface-area.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import {
  box,
  cylinder,
  extruded,
  frustum,
  placed,
  quartered,
  Soup,
  sphere,
  torus,
  tube,
} from '../../fixtures/shapes.ts';
import { bunnyPositions, stlPositions } from '../../fixtures/stl-positions.ts';

const analyse = (positions: Float32Array): PartGeometry =>
  analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });

/** Corners are rounded to float32, 6e-8 of their size; areas and volumes follow within a few of that. */
const FLOAT32 = 1e-6;
const near = (actual: number, expected: number, relative: number): void =>
  expect(Math.abs(actual / expected - 1), `${actual} against ${expected}`).toBeLessThan(relative);

describe('closed forms, facets counted exactly', () => {
  // Handbook geometry (Bronshtein and Semendyayev, Handbook of Mathematics, 3.3): true areas and volumes.
  for (const n of [8, 12, 16, 24, 32, 48, 64]) {
    const theta = (2 * Math.PI) / n;
    // An inscribed n-gon: side/arc = sin(θ/2)/(θ/2), area/disc = sin θ/θ.
    const side = Math.sin(theta / 2) / (theta / 2);
    const disc = Math.sin(theta) / theta;

    it(`cylinder d 25.4, L 100 with ${n} sides`, () => {
      const part = analyse(cylinder(12.7, 100, n));
      near(part.area, Math.PI * 25.4 * 100 * side + ((2 * Math.PI * 25.4 ** 2) / 4) * disc, FLOAT32);
      near(part.volume, ((Math.PI * 25.4 ** 2) / 4) * 100 * disc, FLOAT32);
      expect(part.closed).toBe(true);
      expect(part.findings).toEqual([]);
    });

    it(`tube 25/20, L 100 with ${n} sides`, () => {
      const part = analyse(tube(12.5, 10, 100, n));
      near(part.area, Math.PI * 45 * 100 * side + 2 * (Math.PI / 4) * (25 ** 2 - 20 ** 2) * disc, FLOAT32);
      near(part.volume, (Math.PI / 4) * (25 ** 2 - 20 ** 2) * 100 * disc, FLOAT32);
      expect(part.topology.eulerCharacteristic).toBe(0);
    });

    it(`cone frustum 20/12, h 30 with ${n} sides`, () => {
      const part = analyse(frustum(20, 12, 30, n));
      // Facets are trapezoids: chords by the slant in their middle, where the radius is r cos(θ/2).
      const slant = Math.hypot(30, 8 * Math.cos(theta / 2));
      const lateral = (n * (2 * Math.sin(theta / 2) * (20 + 12)) * slant) / 2;
      near(part.area, lateral + Math.PI * (20 ** 2 + 12 ** 2) * disc, FLOAT32);
      near(part.volume, ((Math.PI * 30) / 3) * (20 ** 2 + 20 * 12 + 12 ** 2) * disc, FLOAT32);
    });

    it(`cone r 20, h 30 with ${n} sides`, () => {
      const part = analyse(frustum(20, 0, 30, n));
      const slant = Math.hypot(30, 20 * Math.cos(theta / 2));
      near(part.area, (n * 2 * 20 * Math.sin(theta / 2) * slant) / 2 + Math.PI * 400 * disc, FLOAT32);
    });

    it(`torus R 30, r 8 with ${n} × ${n} sides`, () => {
      const part = analyse(torus(30, 8, n, n));
      let area = 0;
      let volume = 0;
      for (let i = 0; i < n; i++) {
        const [a, b] = [i * theta, (i + 1) * theta];
        const [ra, rb] = [30 + 8 * Math.cos(a), 30 + 8 * Math.cos(b)];
        const [za, zb] = [8 * Math.sin(a), 8 * Math.sin(b)];
        area += n * Math.sin(theta / 2) * (ra + rb) * Math.hypot(zb - za, (rb - ra) * Math.cos(theta / 2));
        volume += ((n * Math.sin(theta)) / 6) * (zb - za) * (ra * ra + ra * rb + rb * rb);
      }
      near(part.area, area, FLOAT32);
      near(part.volume, volume, FLOAT32);
      expect(part.topology.eulerCharacteristic).toBe(0);
    });
  }

  it('agrees with the true areas and volumes of the table within their facet error', () => {
    // Facet error of an inscribed polygon with n sides: 1 − sin(θ/2)/(θ/2) ≈ θ²/24 along, θ²/6 across the disc.
    const n = 256;
    const across = ((2 * Math.PI) / n) ** 2 / 6;
    const rows: [Float32Array, number, number][] = [
      [cylinder(12.7, 100, n), 8993.06, 50670.75],
      [tube(12.5, 10, 100, n), 14490.6, 17671.46],
      [sphere(20, n, n / 2), 5026.548, 33510.32],
      [frustum(20, 12, 30, n), 4830.347, 24630.09],
      [torus(30, 8, n, n), 9474.82, 37899.28],
    ];
    for (const [positions, area, volume] of rows) {
      const part = analyse(positions);
      // Twice the disc's error bounds surfaces curved both ways; never above the truth by more than the last digit.
      near(part.area, area, 2.5 * across);
      near(part.volume, volume, 2.5 * across);
      expect(part.area).toBeLessThan(area + 0.01);
    }
  });

  it('hexagon bar AF 17, L 40', () => {
    const corners = Array.from({ length: 6 }, (_, i): [number, number] => {
      const angle = (i * Math.PI) / 3;
      const radius = 17 / Math.sqrt(3);
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
    const part = analyse(extruded(corners, 40));
    near(part.area, 2856.152, FLOAT32);
    near(part.volume, 10011.25, FLOAT32);
    expect(part.faces.count).toBe(8);
  });

  it('the facet error falls with the square of the number of sides', () => {
    const error = (n: number): number => 4 * Math.PI * 400 - analyse(sphere(20, n, n / 2)).area;
    for (const n of [16, 32, 64]) near(error(n) / error(2 * n), 4, 0.03);
  });
});

describe('two bodies drawn as one part', () => {
  it('finds a post standing on a plate, and the surface hidden between', () => {
    // Hollow post 30/24 × 70 on a plate 80 × 80 × 6: raw sum 27104.16, true 26595.22 (post + plate − 2 contact rings).
    const n = 256;
    const post = placed(tube(15, 12, 70, n), { shift: [40, 40, 6] });
    const part = analyse(new Soup().add(box(80, 80, 6)).add(post).positions);
    // Facet error of the post's rings and walls: θ²/6 and θ²/24 of them.
    near(part.area, 27104.16, 1e-4);
    expect(part.topology.shellCount).toBe(2);
    expect(part.findings.map((finding) => finding.code)).toEqual(['bodies-meet']);
  });

  it('tells bodies that stand apart from those that meet', () => {
    const part = analyse(new Soup().add(box(10, 10, 10)).add(box(10, 10, 10, [10.01, 0, 0])).positions);
    const codes = (findings: typeof part.findings): string[] => findings.map(({ code }) => code);
    expect(codes(part.findings)).toEqual(['bodies-apart']);
    expect(part.apart.map((piece) => piece.length)).toEqual([12, 12]);
    // A pin in a bore with 0.1 clearance: the boxes overlap, the surfaces do not.
    const pin = placed(cylinder(9.9, 100, 64), { shift: [0, 0, 0] });
    const pinned = analyse(new Soup().add(tube(12.5, 10, 100, 64)).add(pin).positions);
    expect(codes(pinned.findings)).toEqual(['bodies-apart']);
  });
});

describe('manifold-3d as second opinion', () => {
  let wasm: Awaited<ReturnType<typeof manifoldModule>>;
  beforeAll(async () => {
    wasm = await manifoldModule();
    wasm.setup();
  });

  it('agrees on bodies cut and joined by it, and on their shells and handles', () => {
    const { Manifold } = wasm;
    const plate = Manifold.cube([60, 40, 8], true);
    const drilled = plate
      .subtract(Manifold.cylinder(20, 5, 5, 48, true))
      .subtract(Manifold.cylinder(20, 3, 3, 32, true).translate([20, 10, 0]));
    const bodies = [
      drilled,
      plate.add(Manifold.sphere(9, 64).translate([15, 0, 4])),
      Manifold.cube([30, 30, 30], true).subtract(Manifold.sphere(18, 96)),
      drilled.rotate([20, 35, 50]).translate([100, -40, 7]),
    ];
    for (const body of bodies) {
      const positions = soupOf(body.getMesh());
      const part = analyse(positions);
      // Both sum the same float32 corners.
      near(part.area, body.surfaceArea(), 1e-6);
      near(part.volume, body.volume(), 1e-6);
      expect(part.closed).toBe(true);
      expect(part.topology.eulerCharacteristic).toBe(2 - 2 * body.genus());
    }
  });

  it('agrees on the bunny', () => {
    const part = analyse(bunnyPositions());
    const mesh = new wasm.Mesh({
      numProp: 3,
      vertProperties: part.graph.indexed.vertices,
      triVerts: part.graph.indexed.triangles,
    });
    const body = new wasm.Manifold(mesh);
    expect(part.closed).toBe(true);
    near(part.area, body.surfaceArea(), 1e-6);
    near(part.volume, body.volume(), 1e-6);
  });

  function soupOf(mesh: {
    vertProperties: Float32Array;
    triVerts: Uint32Array;
    numProp: number;
  }): Float32Array {
    const out = new Float32Array(3 * mesh.triVerts.length);
    mesh.triVerts.forEach((vertex, corner) => {
      for (let k = 0; k < 3; k++) out[3 * corner + k] = mesh.vertProperties[vertex * mesh.numProp + k];
    });
    return out;
  }
});

describe('meshes of others', () => {
  it('counts the open edges of the large bunny', () => {
    const part = analyse(stlPositions('stl-models/objects/bunny.bin.stl'));
    expect(part.triangleCount).toBe(69451);
    // The scan's known holes: 223 edges with one side.
    expect(part.topology.openEdges).toBe(223);
    expect(part.topology.crowdedEdges).toBe(0);
    expect(part.closed).toBe(false);
    expect(part.findings.map((finding) => finding.code)).toEqual(['open-edges']);
    // One face must hold nearly all of a smooth animal.
    expect(Math.max(...part.faces.triangleCount)).toBeGreaterThan(0.95 * part.triangleCount);
  });

  it('knows the gearwheel as closed with one bore', () => {
    const part = analyse(stlPositions('stl-models/objects/gearwheel.bin.stl'));
    expect(part.triangleCount).toBe(2444);
    expect(part.closed).toBe(true);
    expect(part.topology.eulerCharacteristic).toBe(0);
    expect(part.findings).toEqual([]);
  });

  it('knows cube and tetrahedron', () => {
    const cube = analyse(stlPositions('stl-models/polytopes/unitCube.binary.stl'));
    near(cube.area, 6, FLOAT32);
    near(Math.abs(cube.volume), 1, FLOAT32);
    expect(cube.faces.count).toBe(6);
    const solid = analyse(stlPositions('stl-models/polytopes/tetrahedron.bin.stl'));
    expect(solid.faces.count).toBe(4);
    expect(solid.topology.eulerCharacteristic).toBe(2);
  });
});

describe('properties', () => {
  const shapes = [
    cylinder(12.7, 40, 24),
    tube(12.5, 10, 30, 16),
    torus(30, 8, 20, 12),
    stlPositions('stl-models/objects/gearwheel.bin.stl'),
  ];
  const shape = fc.integer({ min: 0, max: shapes.length - 1 });
  /** The gearwheel's tooth flanks lie on the limit of being split: rounding decides there, and its faces are not compared. */
  const GEAR = 3;
  const unit = fc
    .tuple(...[0, 1, 2, 3].map(() => fc.double({ min: -1, max: 1, noNaN: true })))
    .filter((q) => Math.hypot(...q) > 0.1)
    .map((q) => q.map((x) => x / Math.hypot(...q)));

  it('areas of triangles and of faces sum to the whole, and every triangle has a face', () => {
    for (const positions of shapes) {
      const part = analyse(positions);
      const byTriangle = part.triangleAreas.reduce((sum, area) => sum + area, 0);
      const byFace = part.faces.area.reduce((sum, area) => sum + area, 0);
      // Only the order of the same float64 sum differs.
      near(byTriangle, part.area, 1e-12);
      near(byFace, part.area, 1e-12);
      near(surfaceArea(positions), part.area, 1e-12);
      expect(part.faces.triangleCount.reduce((sum, n) => sum + n, 0)).toBe(part.triangleCount);
      part.faces.firstTriangle.forEach((triangle, row) => {
        expect(part.faces.faceOfTriangle[triangle]).toBe(row);
        expect(part.faces.faceOfTriangle.indexOf(row)).toBe(triangle);
      });
    }
  });

  it('turning and shifting leave area, volume and faces; scale s gives s² and s³', () => {
    fc.assert(
      fc.property(
        shape,
        unit,
        fc.tuple(...[0, 1, 2].map(() => fc.double({ min: -50, max: 50, noNaN: true }))),
        fc.double({ min: 0.1, max: 30, noNaN: true }),
        (index, turn, shift, scale) => {
          const positions = shapes[index];
          const before = analyse(positions);
          const after = analyse(placed(positions, { turn, shift: shift as [number, number, number], scale }));
          // Rounding moves corners by up to 6e-8 of the place (up to 50 off, size from 3): 1e-5 of the area at most.
          near(after.area, before.area * scale ** 2, 1e-5);
          near(after.volume, before.volume * scale ** 3, 1e-4);
          expect(after.closed).toBe(before.closed);
          if (index === GEAR) return;
          expect(after.faces.count).toBe(before.faces.count);
          expect([...after.faces.kind]).toEqual([...before.faces.kind]);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('the order of the triangles changes neither area nor the set of faces', () => {
    fc.assert(
      fc.property(shape, fc.infiniteStream(fc.nat()), (index, random) => {
        const positions = shapes[index];
        const before = analyse(positions);
        const order = Array.from({ length: before.triangleCount }, (_, t) => t);
        for (let i = order.length - 1; i > 0; i--) {
          const j = (random.next().value as number) % (i + 1);
          [order[i], order[j]] = [order[j], order[i]];
        }
        const shuffled = new Float32Array(positions.length);
        order.forEach((from, to) => shuffled.set(positions.subarray(9 * from, 9 * from + 9), 9 * to));
        const after = analyse(shuffled);
        near(after.area, before.area, 1e-12);
        expect(after.faces.count).toBe(before.faces.count);
        // Same grouping: each new face maps onto exactly one old one.
        const pairs = new Set(
          order.map((from, to) => `${before.faces.faceOfTriangle[from]} ${after.faces.faceOfTriangle[to]}`),
        );
        expect(pairs.size).toBe(before.faces.count);
      }),
      { numRuns: 10 },
    );
  });

  it('the same file gives the same ids, and a finer mesh of the same surface the same faces', () => {
    for (const positions of shapes.slice(0, 3)) {
      const once = analyse(positions);
      const again = analyse(positions.slice());
      expect(again.faces).toEqual(once.faces);
      const finer = analyse(quartered(positions));
      expect(finer.faces.count).toBe(once.faces.count);
      near(finer.area, once.area, 1e-6);
    }
  });
});

describe('resplit', () => {
  it('equals an analysis at the new angle', () => {
    const positions = cylinder(10, 30, 12);
    const part = analyse(positions);
    expect(part.faces.count).toBe(3);
    const finer = resplit(part, (20 * Math.PI) / 180);
    expect(finer.faces.count).toBe(14);
    expect(finer.faces).toEqual(analysePart(positions, [], { splitAngleRad: (20 * Math.PI) / 180 }).faces);
    expect(resplit(finer, DEFAULT_SPLIT_ANGLE_RAD).faces).toEqual(part.faces);
  });
});

describe('arguments and progress', () => {
  it('refuses what a reader must not let through', () => {
    expect(() => analyse(new Float32Array(0))).toThrow(RangeError);
    expect(() => analyse(new Float32Array(12))).toThrow(RangeError);
    expect(() => analyse(Float32Array.of(0, 0, 0, 1, 0, NaN, 0, 1, 0))).toThrow(RangeError);
    expect(() => analyse(Float32Array.of(0, 0, 0, 1, 0, Infinity, 0, 1, 0))).toThrow(RangeError);
    expect(() => analysePart(box(1, 1, 1), [], { splitAngleRad: 0 })).toThrow(RangeError);
  });

  it('reports progress that never falls and ends at 1', () => {
    const seen: number[] = [];
    analysePart(box(1, 1, 1), [], { splitAngleRad: 0.5 }, (fraction) => seen.push(fraction));
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(seen[0]).toBe(0);
    expect(seen.at(-1)).toBe(1);
  });
});
