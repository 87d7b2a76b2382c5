import { beforeAll, describe, expect, test } from 'vitest';
import { COVERAGE_BITS } from '../../../core/faces/coverage-flags.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { createAdviser, type AdviserOptions } from '../../../core/racking/advise-contacts.ts';
import { contactGround } from '../../../core/racking/contact-ground.ts';
import { contactPatches } from '../../../core/racking/contact-patch.ts';
import { findRoundPlaces } from '../../../core/racking/round-places.ts';
import { dot, subtract, type Vec3 } from '../../../core/racking/vec3.ts';
import { soupOf, startManifold } from './solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});

const analyse = (solid: Parameters<typeof soupOf>[0]): PartGeometry =>
  analysePart(soupOf(solid), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });

/** Plate 80 x 60 x 6 standing on its long edge (y up), a 6 mm through hole near the top, a 5 mm blind hole in the top edge, a boss. */
const plate = () =>
  kernel.Manifold.cube([80, 60, 6], true)
    .subtract(kernel.Manifold.cylinder(20, 3, 3, 48, true).translate([0, 24, 0]))
    .subtract(kernel.Manifold.cylinder(12, 2.5, 2.5, 48).rotate([-90, 0, 0]).translate([20, 18.01, 0]))
    .add(kernel.Manifold.cylinder(12, 5, 5, 48).translate([-25, 0, 2.9]));

const options = (over: Partial<AdviserOptions> = {}): AdviserOptions => ({
  metresPerUnit: 1e-3,
  up: [0, 1, 0],
  currentA: 4,
  centre: [0, 0, 0],
  patchDiameterM: 3e-3,
  allowShown: false,
  allowMasked: false,
  most: 10,
  ...over,
});

const distanceToPlane = (geometry: PartGeometry, triangle: number, at: Vec3): number => {
  const v = 3 * geometry.graph.indexed.triangles[3 * triangle];
  const corner = geometry.graph.indexed.vertices.subarray(v, v + 3);
  const n = geometry.graph.normals.subarray(3 * triangle, 3 * triangle + 3);
  return Math.abs(dot([n[0], n[1], n[2]], subtract(at, [corner[0], corner[1], corner[2]])));
};

describe('round places', () => {
  test('a through hole, a blind hole and a boss, with their sizes and open ends', () => {
    const geometry = analyse(plate());
    const found = findRoundPlaces(geometry);
    const through = found.find((place) => place.inward && Math.abs(place.radius - 3) < 0.01)!;
    expect(through.ends).toEqual(['open', 'open']);
    expect(through.depth).toBeCloseTo(6, 3);
    expect(through.middle[1]).toBeCloseTo(24, 2);
    const blind = found.find((place) => place.inward && Math.abs(place.radius - 2.5) < 0.01)!;
    expect([...blind.ends!].sort()).toEqual(['closed', 'open']);
    expect(blind.depth).toBeCloseTo(30 - 18.01, 2);
    const boss = found.find((place) => !place.inward)!;
    expect(boss.ends).toBeNull();
    expect(boss.radius).toBeCloseTo(5, 2);
    expect(found).toHaveLength(3);
  });

  test('a fillet is no hole', () => {
    const slot = kernel.Manifold.cube([30, 30, 30], true).subtract(
      kernel.Manifold.cylinder(40, 8, 8, 64, true).translate([15, 15, 0]),
    );
    const geometry = analyse(slot);
    expect(findRoundPlaces(geometry)).toEqual([]);
  });
});

describe('adviser', () => {
  test('holes lead; every place lies on the surface, is scored, ranked and explained', () => {
    const geometry = analyse(plate());
    const advice = createAdviser(
      contactGround(geometry),
      new Uint8Array(geometry.triangleCount),
      options(),
    ).advise();
    expect(advice.length).toBeGreaterThan(4);
    expect(
      advice
        .slice(0, 2)
        .map((a) => a.kind)
        .sort(),
    ).toEqual(['blind hole', 'through hole']);
    expect(new Set(advice.map((a) => a.kind))).toContain('opposed flats');
    for (const [i, a] of advice.entries()) {
      // Single precision of tens of millimetres.
      expect(distanceToPlane(geometry, a.triangle, a.at)).toBeLessThan(1e-4);
      expect(a.score).toBeGreaterThan(0);
      expect(a.score).toBeLessThanOrEqual(100);
      if (i > 0) expect(a.score).toBeLessThanOrEqual(advice[i - 1].score);
      expect(a.reasons.length).toBeGreaterThanOrEqual(5);
      for (const reason of a.reasons) expect(reason).toMatch(/\.$/);
    }
    // A wire through the hole carries at its upper wall.
    const through = advice.find((a) => a.kind === 'through hole')!;
    expect(through.at[1]).toBeCloseTo(27, 1);
    expect(through.parts.balance).toBeGreaterThan(0.9);
    // One point lets it swing: even straight above the centre no more than 60 % of what the place is worth.
    for (const a of advice) {
      expect(a.score).toBeLessThanOrEqual(0.6 * a.place + 1e-9);
      expect(a.reasons.some((r) => r.includes('One point alone lets'))).toBe(true);
      expect(a.placeReasons.some((r) => r.includes('One point alone'))).toBe(false);
    }
    // The plate's two sides are 6 mm apart.
    expect(advice.some((a) => a.reasons.some((r) => r.includes('6.0 mm apart')))).toBe(true);
  });

  test('the only hole into a hollow is no place to clamp; with a second one it is a hole as others are', () => {
    const box = kernel.Manifold.cube([50, 40, 30], true).subtract(kernel.Manifold.cube([44, 34, 24], true));
    const drill = (x: number) => kernel.Manifold.cylinder(10, 2, 2, 48).translate([x, 0, 10]);
    const inHole = (holes: readonly number[], most = 100) => {
      const geometry = analyse(holes.reduce((left, x) => left.subtract(drill(x)), box));
      const adviser = createAdviser(
        contactGround(geometry),
        new Uint8Array(geometry.triangleCount),
        options({ up: [0, 0, 1], most }),
      );
      return adviser.advise().filter(({ kind }) => kind === 'through hole');
    };
    const [vent] = inHole([0]);
    expect(vent.isVent).toBe(true);
    expect(vent.parts.grip).toBeLessThan(0.2);
    expect(vent.placeReasons.join(' ')).toMatch(/4\.0 mm and the only way into a hollow/);
    expect(inHole([0], 8)).toEqual([]);
    for (const one of inHole([-10, 10])) {
      expect(one.isVent).toBe(false);
      expect(one.parts.grip).toBe(1);
    }
  });

  test('a long tube is held at its ends, and no bolt is said to go through it', () => {
    const tube = kernel.Manifold.cylinder(1000, 6, 6, 64).subtract(
      kernel.Manifold.cylinder(1002, 5, 5, 64).translate([0, 0, -1]),
    );
    const geometry = analyse(tube);
    const advice = createAdviser(
      contactGround(geometry),
      new Uint8Array(geometry.triangleCount),
      options({ up: [0, 0, 1], centre: [0, 0, 500], most: 8 }),
    ).advise();
    const bores = advice.filter(({ kind }) => kind === 'through hole');
    // One and a half diameters of 10 from either end.
    expect(bores.map(({ at }) => Math.round(at[2])).sort((a, b) => a - b)).toEqual([15, 985]);
    for (const { placeReasons } of bores) {
      expect(placeReasons.join(' ')).toMatch(/10 mm right through, 1000 mm long: no bolt is/);
    }
    const [best] = advice;
    expect(best.at[2]).toBeGreaterThan(980);
    expect(best.parts.balance).toBeGreaterThan(0.9);
  });

  test('no bolt goes into a hole of 0.4 mm', () => {
    const pin = kernel.Manifold.cylinder(2, 0.6, 0.6, 48).subtract(
      kernel.Manifold.cylinder(4, 0.2, 0.2, 48, true).rotate([0, 90, 0]).translate([0, 0, 1.5]),
    );
    const geometry = analyse(pin);
    const [hole] = createAdviser(
      contactGround(geometry),
      new Uint8Array(geometry.triangleCount),
      options({ up: [0, 0, 1], centre: [0, 0, 1], currentA: 1e-3 }),
    )
      .advise()
      .filter(({ kind }) => kind === 'through hole');
    expect(hole.placeReasons.join(' ')).toMatch(/0\.40 mm, too narrow for a bolt/);
    expect(hole.narrowM! / 4e-4).toBeCloseTo(1, 2);
  });

  test('never on show or masked faces, with the whole pad, unless asked', () => {
    const geometry = analyse(plate());
    const flags = new Uint8Array(geometry.triangleCount);
    for (let t = 0; t < flags.length; t++) {
      if (geometry.graph.normals[3 * t + 2] > 0.99) flags[t] |= COVERAGE_BITS.show;
      if (geometry.graph.normals[3 * t] > 0.99) flags[t] |= COVERAGE_BITS.mask;
    }
    const advice = createAdviser(contactGround(geometry), flags, options({ most: 40 })).advise();
    expect(advice.length).toBeGreaterThan(3);
    const patches = contactPatches(
      geometry,
      flags,
      advice.map((a) => ({ at: a.at, triangle: a.triangle, radius: 1.5 })),
    );
    for (const [i, a] of advice.entries()) {
      expect(a.onShown || a.onMasked).toBe(false);
      expect(patches[i].shown).toBeLessThan(1e-5);
      expect(patches[i].masked).toBeLessThan(1e-5);
    }
    const all = new Uint8Array(geometry.triangleCount).fill(COVERAGE_BITS.show);
    expect(createAdviser(contactGround(geometry), all, options()).advise()).toEqual([]);
    const asked = createAdviser(contactGround(geometry), all, options({ allowShown: true })).advise();
    expect(asked.length).toBeGreaterThan(0);
    expect(asked[0].reasons[0]).toMatch(/to be seen/);
  });

  test('more current wants more area', () => {
    const geometry = analyse(plate());
    const flags = new Uint8Array(geometry.triangleCount);
    const at = (currentA: number) =>
      createAdviser(contactGround(geometry), flags, options({ currentA }))
        .advise()
        .find((a) => a.kind === 'opposed flats')!;
    expect(at(1).parts.area).toBe(1);
    expect(at(60).parts.area).toBeLessThan(0.5);
    // 0.93 A/mm² of aluminium cross-section (finishing guidebook, racks): about 1.1 mm² for each ampere.
    expect(at(1).reasons.join(' ')).toContain('the 1.1 mm² for 1.00 A');
    expect(at(60).reasons.some((r) => r.includes('use more contacts'))).toBe(true);
  });

  test('turned over, the same hole hangs below the centre of gravity', () => {
    const geometry = analyse(plate());
    const flags = new Uint8Array(geometry.triangleCount);
    const advice = createAdviser(
      contactGround(geometry),
      flags,
      options({ up: [0, -1, 0], most: 40 }),
    ).advise();
    const through = advice.find((a) => a.kind === 'through hole')!;
    expect(through.parts.balance).toBe(0);
    expect(through.reasons.some((r) => r.includes('turns over'))).toBe(true);
  });

  test('the user’s own pins get the same critique', () => {
    const geometry = analyse(plate());
    const flags = new Uint8Array(geometry.triangleCount);
    const adviser = createAdviser(contactGround(geometry), flags, options());
    const advice = adviser.advise();
    const same = adviser.critique(advice.map(({ at, triangle }) => ({ at, triangle })));
    same.forEach((own, i) => {
      expect(own.kind).toBe(advice[i].kind);
      expect(own.score).toBeCloseTo(advice[i].score, 6);
      expect(own.reasons).toEqual(advice[i].reasons);
    });
    // As one of several it answers for its place alone.
    const [shared] = adviser.critique([{ at: advice[0].at, triangle: advice[0].triangle }], true);
    expect(shared.score).toBeCloseTo(advice[0].place, 6);
    expect(shared.reasons).toEqual(advice[0].placeReasons);
    // In inches where the shop works in them: 6 mm are 0.24 in.
    const inches = createAdviser(contactGround(geometry), flags, options({ system: 'us' })).advise();
    expect(inches.flatMap((a) => a.reasons).join(' ')).toMatch(/0\.24 in/);
    expect(inches.flatMap((a) => a.reasons).join(' ')).not.toMatch(/ mm/);
    // On a thick block nothing lies opposite within a jaw's reach.
    const block = analyse(kernel.Manifold.cube([80, 80, 80], true));
    const top = [...Array(block.triangleCount).keys()].find((t) => block.graph.normals[3 * t + 2] > 0.9)!;
    const [pin] = createAdviser(
      contactGround(block),
      new Uint8Array(block.triangleCount),
      options({ up: [0, 0, 1] }),
    ).critique([{ at: [0, 0, 40], triangle: top }]);
    expect(pin.kind).toBe('one side only');
    expect(pin.score).toBeLessThan(50);
    expect(pin.reasons.some((r) => r.includes('slip off'))).toBe(true);
    expect(() => adviser.critique([{ at: [0, 0, 0], triangle: 1e9 }])).toThrow(RangeError);
  });

  test('a clamp is proposed only where both jaws get to: near an edge, not in the middle of a wide plate or inside a slit', () => {
    const wide = analyse(kernel.Manifold.cube([200, 200, 5], true));
    const flags = new Uint8Array(wide.triangleCount);
    const adviser = createAdviser(contactGround(wide), flags, options({ up: [0, 1, 0], most: 40 }));
    const top = [...Array(wide.triangleCount).keys()].filter((t) => wide.graph.normals[3 * t + 2] > 0.9);
    const [middle, edge] = adviser.critique([
      { at: [0, 0, 2.5], triangle: top[0] },
      { at: [0, 90, 2.5], triangle: top[0] },
    ]);
    expect([middle.kind, edge.kind]).toEqual(['one side only', 'opposed flats']);
    for (const advice of adviser.advise()) {
      // Jaws 40 mm deep: on the large faces within that of an edge.
      if (Math.abs(advice.at[2]) > 2) {
        expect(Math.max(Math.abs(advice.at[0]), Math.abs(advice.at[1]))).toBeGreaterThan(60 - 1e-6);
      }
    }
    // Two plates 2 mm apart, joined at the bottom: no jaw of 4 mm goes between.
    const slit = analyse(
      kernel.Manifold.cube([40, 30, 12], true).subtract(
        kernel.Manifold.cube([60, 26, 2], true).translate([0, 4, 0]),
      ),
    );
    const inside = [...Array(slit.triangleCount).keys()].find(
      (t) => slit.graph.normals[3 * t + 2] > 0.9 && distanceToPlane(slit, t, [0, 5, -1]) < 1e-4,
    )!;
    const [between] = createAdviser(
      contactGround(slit),
      new Uint8Array(slit.triangleCount),
      options(),
    ).critique([{ at: [0, 5, -1], triangle: inside }]);
    expect(between.kind).toBe('one side only');
  });

  test('a clamp near the edge beats one that must reach far in, and its back needs the open, not a drilled hole', () => {
    const strip = analyse(kernel.Manifold.cube([200, 70, 6], true));
    const upper = (geometry: PartGeometry): number =>
      [...Array(geometry.triangleCount).keys()].find((t) => geometry.graph.normals[3 * t + 2] > 0.9)!;
    const judge = (geometry: PartGeometry, pins: Vec3[]) =>
      createAdviser(contactGround(geometry), new Uint8Array(geometry.triangleCount), options()).critique(
        pins.map((at) => ({ at, triangle: upper(geometry) })),
      );
    const [edge, deep] = judge(strip, [
      [0, 30, 3],
      [0, 0, 3],
    ]);
    expect(edge.parts.grip).toBeCloseTo(0.85, 9);
    // 35 mm in: the strip is 70 mm wide.
    expect(deep.placeReasons.join(' ')).toMatch(/reach 35 mm in from the edge/);
    expect(deep.parts.grip).toBeLessThan(0.5 * edge.parts.grip);
    // A hole of 8 mm drilled along the middle of a block 100 mm wide and 20 mm high ends the metal there for no clamp.
    const drilled = analyse(
      kernel.Manifold.cube([200, 100, 20], true).subtract(
        kernel.Manifold.cylinder(200, 4, 4, 48, true).rotate([0, 90, 0]),
      ),
    );
    expect(judge(drilled, [[0, 7, 10]])[0]!.kind).toBe('one side only');
  });

  test('a tube too wide for a ring clamp is held by its rim', () => {
    // 2 in tube with a wall of 0.1 in, 5 in long, standing.
    const tube = analyse(
      kernel.Manifold.cylinder(127, 25.4, 25.4, 64, true).subtract(
        kernel.Manifold.cylinder(140, 22.86, 22.86, 64, true),
      ),
    );
    const advice = createAdviser(
      contactGround(tube),
      new Uint8Array(tube.triangleCount),
      options({ up: [0, 0, 1] }),
    ).advise();
    expect(advice[0]!.kind).toBe('opposed flats');
    // Within the jaws' usual reach of the upper rim, and 2.5 mm between them.
    expect(advice[0]!.at[2]).toBeGreaterThan(63.5 - 12);
    expect(advice[0]!.placeReasons.join(' ')).toMatch(/2\.5 mm apart/);
  });

  test('a hidden recess is preferred to an open side, all else being equal', () => {
    // A box with a slot: its walls inside the slot are out of sight.
    const part = kernel.Manifold.cube([60, 40, 30], true).subtract(
      kernel.Manifold.cube([50, 6, 25], true).translate([0, 0, 5]),
    );
    const geometry = analyse(part);
    const [inside, outside] = createAdviser(
      contactGround(geometry),
      new Uint8Array(geometry.triangleCount),
      options({ up: [0, 0, 1] }),
    ).critique(
      (
        [
          [0, -1, 0, [0, 3, 5]],
          [0, 1, 0, [0, 20, 5]],
        ] as [number, number, number, Vec3][]
      ).map(([nx, ny, nz, at]) => ({
        at,
        triangle: [...Array(geometry.triangleCount).keys()].find((t) => {
          const n = geometry.graph.normals.subarray(3 * t, 3 * t + 3);
          return dot([n[0], n[1], n[2]], [nx, ny, nz]) > 0.99 && distanceToPlane(geometry, t, at) < 1e-4;
        })!,
      })),
    );
    expect(inside.parts.sight).toBeGreaterThan(0.5);
    expect(outside.parts.sight).toBe(0);
    expect(inside.parts.grip).toBeCloseTo(outside.parts.grip, 6);
  });
});

describe('a part that stands out of the bath', () => {
  /** A bar 200 tall with two alike pairs of flats cut into it, at 40 and at 160. */
  const bar = () =>
    [40, 160].reduce(
      (solid, z) =>
        solid.subtract(kernel.Manifold.cylinder(40, 3, 3, 48, true).rotate([90, 0, 0]).translate([0, 0, z])),
      kernel.Manifold.cube([20, 8, 200]).translate([-10, -4, 0]),
    );
  const best = (level: number | undefined) => {
    const geometry = analyse(bar());
    const flags = new Uint8Array(geometry.triangleCount);
    const hung = options({ up: [0, 0, 1], centre: [0, 0, 100], level });
    return createAdviser(contactGround(geometry), flags, hung).advise();
  };

  test('is best held above the level, which is said; a place at the level is warned of', () => {
    const holes = (level: number | undefined) =>
      [40, 160].map((z) =>
        best(level).find(({ kind, at }) => kind === 'through hole' && Math.abs(at[2] - z) < 5)!,
      );
    const [low, high] = holes(undefined);
    expect(high!.place).toBeCloseTo(low!.place, 6);
    const [under, over] = holes(120);
    expect(under!.place).toBeCloseTo(low!.place, 6);
    expect(over!.place).toBeGreaterThan(high!.place + 3);
    expect([high!.parts.sight < 1, over!.parts.sight]).toEqual([true, 1]);
    expect(over!.placeReasons.join()).toContain('Above the level of the bath');
    expect(under!.placeReasons.join()).not.toContain('level');
    expect(best(120)[0]!.at[2]).toBeGreaterThan(125);
    // With the level at it, it is no proposal any more, and a pin there is told why.
    const geometry = analyse(bar());
    const hung = options({ up: [0, 0, 1], centre: [0, 0, 100], level: 158 });
    const adviser = createAdviser(contactGround(geometry), new Uint8Array(geometry.triangleCount), hung);
    const [creeping] = adviser.critique([{ at: over!.at, triangle: over!.triangle }], true);
    expect(creeping!.reasons.join()).toContain('acid creeps up');
    expect(creeping!.place).toBeLessThan(high!.place);
    for (const { at } of adviser.advise()) expect(Math.abs(at[2] - 158)).toBeGreaterThan(4);
  });
});
