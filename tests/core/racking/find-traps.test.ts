import { createRequire } from 'node:module';
import { beforeAll, describe, expect, test } from 'vitest';
import { findTraps, type Traps } from '../../../core/racking/find-traps.ts';
import { prepareTrapMesh } from '../../../core/racking/trap-mesh.ts';
import type { Vec3 } from '../../../core/racking/vec3.ts';
import { floodGrid } from './flood-grid.ts';
import { meshOf, seeded, startManifold, trapMeshOf } from './solids.ts';

type Kernel = Awaited<ReturnType<typeof startManifold>>;
let kernel: Kernel;
beforeAll(async () => {
  kernel = await startManifold();
});

const UP: Vec3 = [0, 0, 1];
const DOWN: Vec3 = [0, 0, -1];
const total = (pockets: Traps['gas']): number => pockets.reduce((sum, pocket) => sum + pocket.volume, 0);
/** Single precision in the file's coordinates: 6e-8 of 50 mm on every wall. */
const FILE = 2e-6;

/** Regular n-gon inscribed in a circle: area over the circle's (check of the facets, not of the method). */
const facetArea = (n: number): number => Math.sin((2 * Math.PI) / n) / ((2 * Math.PI) / n);

describe('closed forms', () => {
  test('a blind hole facing down holds its own volume of gas, walls and end are never coated', () => {
    const n = 48;
    const hole = kernel.Manifold.cylinder(30, 5, 5, n);
    const block = kernel.Manifold.cube([40, 40, 50], true).translate([0, 0, 25]);
    const mesh = trapMeshOf(meshOf(block.subtract(hole)));
    const traps = findTraps(mesh, UP);
    const cross = Math.PI * 25 * facetArea(n);
    const wall = 2 * n * 5 * Math.sin(Math.PI / n) * 30;
    expect(traps.gas).toHaveLength(1);
    expect(traps.gas[0].volume / (cross * 30)).toBeCloseTo(1, 5);
    expect(traps.gas[0].area / (wall + cross)).toBeCloseTo(1, 5);
    expect(traps.gas[0].openingArea / cross).toBeCloseTo(1, 5);
    expect(traps.gas[0].depth).toBeCloseTo(30, 4);
    expect(traps.gas[0].level).toBeCloseTo(0, 4);
    expect(traps.liquid).toHaveLength(0);
    const turned = findTraps(mesh, DOWN);
    expect(turned.gas).toHaveLength(0);
    expect(turned.liquid).toHaveLength(1);
    expect(turned.liquid[0].volume / (cross * 30)).toBeCloseTo(1, 5);
    expect(turned.liquid[0].level).toBeCloseTo(0, 4);
  });

  test('a through hole holds nothing, in whichever direction it points', () => {
    const block = kernel.Manifold.cube([40, 40, 50], true);
    const mesh = trapMeshOf(meshOf(block.subtract(kernel.Manifold.cylinder(60, 5, 5, 48, true))));
    for (const up of [UP, DOWN, [1, 0, 0], [0, -1, 0], [1, 2, 3], [-3, 0.2, 0.1]] as Vec3[]) {
      const traps = findTraps(mesh, up);
      expect(total(traps.gas)).toBeLessThan(FILE * 4000);
      expect(total(traps.liquid)).toBeLessThan(FILE * 4000);
    }
  });

  test('two blind holes in one face are two pockets', () => {
    const hole = kernel.Manifold.cylinder(20, 4, 4, 24);
    const block = kernel.Manifold.cube([60, 30, 40], true).translate([0, 0, 20]);
    const part = block
      .subtract(hole.translate([-15, 0, 0]))
      .subtract(hole.scale([1, 1, 0.5]).translate([15, 0, 0]));
    const traps = findTraps(trapMeshOf(meshOf(part)), UP);
    expect(traps.gas.map((pocket) => Math.round(pocket.depth))).toEqual([20, 10]);
    expect(traps.gas[0].volume / traps.gas[1].volume).toBeCloseTo(2, 4);
  });

  // Weisstein, "Cylindrical Wedge" (ungula), MathWorld: a cup of radius r, depth L, tilted by a: the liquid surface
  // cuts the whole side while L tan(a) stays under 2r, leaving V = pi r2 (L - r tan a); beyond that it is the ungula
  // of height h over a segment: V = h/(3b) [a(3r2 - a2) + 3 r2 (b - r) phi], here with the surface through the rim.
  test.each([10, 20, 30])('a cup tilted by %i degrees keeps pi r² (L − r tan a)', (degrees) => {
    const n = 256;
    const [r, inside] = [10, 30];
    const cup = kernel.Manifold.cylinder(inside + 3, r + 2, r + 2, n).subtract(
      kernel.Manifold.cylinder(inside + 1, r, r, n).translate([0, 0, 3]),
    );
    const a = (degrees * Math.PI) / 180;
    // Tilted about a corner of the polygon, so that the lowest point of the rim is at the full radius.
    const traps = findTraps(trapMeshOf(meshOf(cup)), [Math.sin(a), 0, Math.cos(a)]);
    const closed = Math.PI * r * r * (inside - r * Math.tan(a)) * facetArea(n);
    expect(traps.liquid).toHaveLength(1);
    expect(traps.liquid[0].volume / closed).toBeCloseTo(1, 4);
    expect(traps.gas.length).toBe(0);
  });

  test('a cup tilted so far that its floor runs half dry keeps the ungula 2/3 r² h', () => {
    const n = 512;
    const [r, inside] = [10, 30];
    const cup = kernel.Manifold.cylinder(inside + 3, r + 2, r + 2, n).subtract(
      kernel.Manifold.cylinder(inside + 1, r, r, n).translate([0, 0, 3]),
    );
    const a = Math.atan(inside / r);
    const traps = findTraps(trapMeshOf(meshOf(cup)), [Math.sin(a), 0, Math.cos(a)]);
    // 512 facets: the half disc's first moment is short by about theta²/8 = 2e-5, the sides likewise.
    expect(traps.liquid[0].volume / ((2 / 3) * r * r * inside)).toBeCloseTo(1, 3);
  });

  test('hemispherical cup and the same turned over', () => {
    const ball = kernel.Manifold.sphere(10, 64);
    const block = kernel.Manifold.cube([30, 30, 15], true).translate([0, 0, -7.5]);
    const cup = block.subtract(ball);
    // The reference kernel's own volume of what was cut out.
    const cut = block.intersect(ball).volume();
    expect(cut / ((2 / 3) * Math.PI * 1000)).toBeCloseTo(1, 1);
    const mesh = trapMeshOf(meshOf(cup));
    expect(findTraps(mesh, UP).liquid[0].volume / cut).toBeCloseTo(1, 5);
    expect(findTraps(mesh, UP).gas).toHaveLength(0);
    expect(findTraps(mesh, DOWN).gas[0].volume / cut).toBeCloseTo(1, 5);
    expect(findTraps(mesh, DOWN).liquid).toHaveLength(0);
    // Tilted by b a spherical cup keeps the cap of height r (1 − sin b): V = pi h² (3r − h)/3 (closed form).
    const b = Math.PI / 6;
    const h = 10 * (1 - Math.sin(b));
    const tilted = findTraps(mesh, [Math.sin(b), 0, Math.cos(b)]);
    // Facets of the 64-gon sphere lose about 1 %, of a shallower cap a little more.
    expect(tilted.liquid[0].volume / ((Math.PI * h * h * (30 - h)) / 3)).toBeGreaterThan(0.97);
    expect(tilted.liquid[0].volume / ((Math.PI * h * h * (30 - h)) / 3)).toBeLessThan(1.001);
  });

  test('an undercut traps the part of the T-slot above its mouth', () => {
    const block = kernel.Manifold.cube([40, 40, 30], true).translate([0, 0, 15]);
    const mouth = kernel.Manifold.cube([6, 20, 10], true).translate([0, 0, 5]);
    const slot = kernel.Manifold.cube([16, 20, 6], true).translate([0, 0, 13]);
    const mesh = trapMeshOf(meshOf(block.subtract(mouth).subtract(slot)));
    expect(total(findTraps(mesh, UP).gas)).toBeCloseTo(6 * 20 * 10 + 16 * 20 * 6, 2);
    // Turned over, it is a cup with two arms: everything again.
    expect(total(findTraps(mesh, DOWN).liquid)).toBeCloseTo(6 * 20 * 10 + 16 * 20 * 6, 2);
    // On its side the mouth is 6 high in a slot 16 high: one arm of 5 keeps gas, the other liquid.
    const side = findTraps(mesh, [1, 0, 0]);
    expect(total(side.gas)).toBeCloseTo(5 * 20 * 6, 2);
    expect(total(side.liquid)).toBeCloseTo(5 * 20 * 6, 2);
  });

  test('nested: a cup inside an upturned cup stays dry behind the gas', () => {
    const bell = kernel.Manifold.cube([40, 40, 40], true)
      .translate([0, 0, 20])
      .subtract(kernel.Manifold.cube([36, 36, 38], true).translate([0, 0, 19]));
    // A cup on a stalk that hangs from the bell's ceiling, its bottom 10 below the bell's lip.
    const cup = kernel.Manifold.cube([20, 20, 20], true)
      .subtract(kernel.Manifold.cube([16, 16, 20], true).translate([0, 0, 2]))
      .translate([0, 0, 0]);
    const stalk = kernel.Manifold.cube([2, 2, 46], true).translate([9, 9, 16]);
    const mesh = trapMeshOf(meshOf(bell.add(cup).add(stalk)));
    const traps = findTraps(mesh, UP);
    expect(traps.gas).toHaveLength(1);
    const belowLip = 16 * 16 * 8;
    expect(traps.gas[0].shelteredVolume).toBeCloseTo(belowLip, 2);
    const metalInBell = 20 * 20 * 10 - 16 * 16 * 10 + 2 * 2 * 28;
    expect(traps.gas[0].volume).toBeCloseTo(36 * 36 * 38 - metalInBell + belowLip, 1);
    expect(traps.gas[0].shelteredArea).toBeCloseTo(16 * 16 + 4 * 16 * 8, 2);
    // Filled on purpose, the cup would hold up to its rim.
    expect(total(traps.liquid)).toBeCloseTo(16 * 16 * 18, 1);
  });

  test('a hollow without a way in is neither gas nor liquid', () => {
    const shell = kernel.Manifold.cube([20, 20, 20], true).subtract(kernel.Manifold.cube([10, 8, 6], true));
    const traps = findTraps(trapMeshOf(meshOf(shell)), [1, 2, 3]);
    expect(traps.gas).toHaveLength(0);
    expect(traps.liquid).toHaveLength(0);
    expect(traps.sealedVoids).toHaveLength(1);
    expect(traps.sealedVoids[0].volume).toBeCloseTo(480, 3);
    expect(traps.sealedVoids[0].area).toBeCloseTo(2 * (80 + 60 + 48), 3);
  });

  test('a ball under a roof does not make a pocket; last drip is its lowest point', () => {
    const ball = kernel.Manifold.sphere(5, 32);
    const roof = kernel.Manifold.cube([30, 30, 2], true).translate([0, 0, 12]);
    const traps = findTraps(trapMeshOf(meshOf(ball.add(roof))), UP);
    expect(traps.gas).toHaveLength(0);
    expect(traps.liquid).toHaveLength(0);
    expect(traps.lastDripAt[2]).toBeCloseTo(-5, 4);
  });

  test('a part far from its file’s zero traps the same', () => {
    const cup = kernel.Manifold.cube([20, 20, 20], true).subtract(
      kernel.Manifold.cube([16, 16, 20], true).translate([0, 0, 2]),
    );
    const traps = findTraps(trapMeshOf(meshOf(cup.translate([4096, -2048, 1024]))), UP);
    expect(total(traps.liquid)).toBeCloseTo(16 * 16 * 18, 1);
    expect(traps.liquid[0].level).toBeCloseTo(1034, 3);
    expect(traps.liquid[0].deepestAt[2]).toBeCloseTo(1016, 3);
  });
});

describe('random parts', () => {
  /** A block, with pockets, slots, balls and bores cut at any angle, and bits stuck on. */
  function randomPart(seed: number) {
    const random = seeded(seed);
    const between = (low: number, high: number): number => low + (high - low) * random();
    let part = kernel.Manifold.cube([40, 36, 32], true);
    for (let i = 0; i < 3; i++) {
      part = part.add(
        kernel.Manifold.sphere(between(5, 12), 16).translate([
          between(-22, 22),
          between(-20, 20),
          between(-18, 18),
        ]),
      );
    }
    for (let i = 0; i < 9; i++) {
      const kind = Math.floor(random() * 4);
      const tool =
        kind === 0
          ? kernel.Manifold.cylinder(between(10, 60), between(2, 7), between(2, 7), 12, true)
          : kind === 1
            ? kernel.Manifold.sphere(between(4, 10), 16)
            : kind === 2
              ? kernel.Manifold.cube([between(4, 24), between(4, 24), between(4, 24)], true)
              : kernel.Manifold.cylinder(between(8, 20), between(5, 9), between(5, 9), 5, true);
      part = part.subtract(
        tool
          .rotate([between(0, 360), between(0, 360), between(0, 360)])
          .translate([between(-20, 20), between(-18, 18), between(-16, 16)]),
      );
    }
    // Loose crumbs would hang in the air; keep the largest piece.
    return part.decompose().sort((a, b) => b.volume() - a.volume())[0];
  }

  test.each([1, 2, 3, 4, 5, 6, 7, 8])('part %i against flooding a grid', (seed) => {
    const mesh = meshOf(randomPart(seed));
    const prepared = trapMeshOf(mesh);
    const random = seeded(seed + 100);
    for (let turn = 0; turn < 2; turn++) {
      const up: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
      const exact = findTraps(prepared, up);
      const rough = floodGrid(mesh, up, 110);
      // A cube is in or out by its middle: the error is at most about half a cube over the pockets' walls and level,
      // half of which cancels; a narrow lip may be met half a cube early or late over the whole opening.
      for (const kind of ['gas', 'liquid'] as const) {
        const walls = exact[kind].reduce((sum, pocket) => sum + pocket.area + 2 * pocket.openingArea, 0);
        const swept =
          total(exact[kind]) - (kind === 'gas' ? exact.gas.reduce((s, p) => s + p.shelteredVolume, 0) : 0);
        expect(Math.abs(swept - rough[kind])).toBeLessThan(0.35 * rough.cell * walls + 20 * rough.cell ** 3);
      }
      const sheltered = exact.gas.reduce((sum, pocket) => sum + pocket.shelteredVolume, 0);
      const around = exact.gas.reduce((sum, pocket) => sum + pocket.shelteredArea, 0);
      expect(Math.abs(sheltered - rough.sheltered)).toBeLessThan(
        0.5 * rough.cell * around + 20 * rough.cell ** 3,
      );
    }
  });

  // Parts 54, 79 and 89 have openings finer than any grid's cube; the reference kernel cuts them exactly.
  test.each([9, 10, 11, 54, 79, 89])(
    'part %i against the reference kernel’s pieces of the space around it',
    (seed) => {
      const part = randomPart(seed);
      const random = seeded(seed + 100);
      const space = kernel.Manifold.cube([200, 200, 200], true).subtract(part);
      const { up, liquid } = findTraps(trapMeshOf(meshOf(part)), [
        random() - 0.5,
        random() - 0.5,
        random() - 0.5,
      ]);
      const enclosed = (level: number): number[] =>
        space
          .trimByPlane([-up[0], -up[1], -up[2]], -level)
          .decompose()
          .map((piece) => piece.volume())
          .filter((volume) => volume < 100_000);
      for (const cup of liquid.filter((pocket) => pocket.volume > 1)) {
        const step = 1e-3;
        // Shaving 1 µm off the top takes no more than the opening times that.
        const near = (volume: number): boolean =>
          Math.abs(volume - cup.volume) < 2 * step * cup.openingArea + 1e-2;
        expect(enclosed(cup.level - step).some(near)).toBe(true);
        expect(enclosed(cup.level + step).some(near)).toBe(false);
      }
      // At any level, what is enclosed lies in cups that are open above that level.
      for (const level of [-15, -10, -5, 0, 5, 10, 15]) {
        const pieces = enclosed(level).reduce((sum, volume) => sum + volume, 0);
        const cups = liquid.filter((cup) => cup.level > level && cup.level - cup.depth < level);
        expect(pieces).toBeLessThanOrEqual(cups.reduce((sum, cup) => sum + cup.volume, 0) + 1e-2);
        if (cups.length > 0) expect(pieces).toBeGreaterThan(0);
      }
    },
  );
});

test('a scanned body against flooding a grid', () => {
  // `bunny` on the registry: 3 674 triangles, closed, public domain. Upright it keeps a bubble
  // under its hollow base, other ways up next to nothing.
  const bunny = createRequire(import.meta.url)('bunny') as { positions: number[][]; cells: number[][] };
  const mesh = {
    vertices: Float32Array.from(bunny.positions.flat()),
    triangles: Uint32Array.from(bunny.cells.flat()),
  };
  const prepared = trapMeshOf(mesh);
  for (const up of [
    [0, 1, 0],
    [0.3, -1, 0.2],
    [1, 0.1, -0.4],
  ] as Vec3[]) {
    const exact = findTraps(prepared, up);
    const rough = floodGrid(mesh, up, 120);
    if (up[1] === 1) expect(total(exact.gas)).toBeGreaterThan(0.5);
    for (const kind of ['gas', 'liquid'] as const) {
      const walls = exact[kind].reduce((sum, pocket) => sum + pocket.area + 2 * pocket.openingArea, 0);
      // As above: half a cube over walls and opening at most.
      expect(Math.abs(total(exact[kind]) - rough[kind])).toBeLessThan(
        0.35 * rough.cell * walls + 20 * rough.cell ** 3,
      );
    }
  }
});

test('far from its file’s zero a flat ceiling turned to any angle still makes no pockets of rounding', () => {
  const plate = kernel.Manifold.cube([60, 40, 5], true).refine(12).translate([20_000, -8000, 3000]);
  const mesh = trapMeshOf(meshOf(plate));
  for (const up of [UP, [0.01, 0.02, 1], [0.5, -0.3, 0.7]] as Vec3[]) {
    const traps = findTraps(mesh, up);
    expect(traps.gas.reduce((sum, pocket) => sum + pocket.area, 0)).toBe(0);
    expect(traps.liquid.reduce((sum, pocket) => sum + pocket.area, 0)).toBe(0);
  }
});

test('an open mesh is said, not guessed', () => {
  const mesh = meshOf(kernel.Manifold.cube([1, 1, 1]));
  const holed = { vertices: mesh.vertices, triangles: mesh.triangles.slice(3) };
  const prepared = prepareTrapMesh(holed);
  expect(prepared.ok).toBe(false);
  if (!prepared.ok) {
    expect(prepared.error.code).toBe('open-mesh');
    expect(prepared.error.message).toContain('3 open edges');
  }
  const inverted = { vertices: mesh.vertices, triangles: mesh.triangles.slice().reverse() };
  const inside = prepareTrapMesh(inverted);
  expect(!inside.ok && inside.error.code).toBe('inside-out');
});
