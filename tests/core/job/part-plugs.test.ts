/** A masked bore gets a plug: nothing stands in it, nothing gets out through it. Judged by closed forms and by unions with real pegs. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { Manifold } from 'manifold-3d';
import { COVERAGE_BITS, coverageFlags } from '../../../core/faces/coverage-flags.ts';
import { faceId, faceRow } from '../../../core/faces/face-table.ts';
import { typedBuildUp } from '../../../core/finish/build-up.ts';
import { roundFeatures } from '../../../core/finish/round-features.ts';
import { closedOffBy } from '../../../core/job/closed-off.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { newPart } from '../../../core/job/default-job.ts';
import { planFits } from '../../../core/job/fit-plan.ts';
import { plugsOf } from '../../../core/job/part-plugs.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { sourceRunsOfFaces } from '../../../core/mesh/mesh-triangles.ts';
import { findTraps, type Pocket } from '../../../core/racking/find-traps.ts';
import { sealedVolumeOf } from '../../../core/job/sealed-volume.ts';
import { plugPart, trapsOf } from '../../../core/racking/plugged-traps.ts';
import { scoreAttitude } from '../../../core/racking/search-attitudes.ts';
import type { Vec3 } from '../../../core/racking/vec3.ts';
import { meshOf, seeded, soupOf, startManifold, trapMeshOf } from '../racking/solids.ts';

let kit: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kit = await startManifold();
});

const UP: Vec3 = [0, 0, 1];

/** The part with every bore masked whose diameter is listed. */
function partOf(solid: Manifold, maskedMm: readonly number[]) {
  const geometry = analysePart(soupOf(solid), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  const rounds = roundFeatures(geometry, 1e-3);
  const walls = rounds
    .filter(
      ({ shape, diameterM }) =>
        shape === 'hole' && maskedMm.some((mm) => Math.abs(1e3 * diameterM - mm) < 0.1 * mm),
    )
    .flatMap(({ faceIds }) => faceIds.map((id) => faceRow(id)!));
  const coverage = { mask: sourceRunsOfFaces(geometry, new Set(walls)), contact: [], show: [] };
  const flags = coverageFlags(geometry.triangleCount, coverage);
  const plugs = (of = rounds) => plugsOf(geometry, of, flags);
  const { indexed } = geometry.graph;
  const ready = plugPart(indexed, { ok: true, value: trapMeshOf(indexed) }, plugs());
  if (!ready.ok) throw new Error(ready.error.message);
  const traps = (up: Vec3) => trapsOf(ready.value, up);
  const closedOff = closedOffBy(geometry, traps(UP).closedOff, flags, 1e-3);
  return { geometry, rounds, flags, plugs, ready: ready.value, traps, closedOff };
}

const volumeOf = (pockets: readonly Pocket[]): number => pockets.reduce((sum, { volume }) => sum + volume, 0);

/** A bore 10 wide and 15 deep in the floor of a square well 30 wide and `well` deep; both open upwards. */
const wellWithBore = (well: number): Manifold =>
  kit.Manifold.cube([40, 40, 40], true)
    .subtract(kit.Manifold.cube([30, 30, 40], true).translate([0, 0, 40 - well]))
    .subtract(kit.Manifold.cylinder(40, 5, 5, 96).translate([0, 0, 20 - well - 15]));

/** A closed box with walls 3 thick and bores of 8 through the middle of its top, or of top and floor. */
const boxWithBores = (bores: 1 | 2): Manifold =>
  kit.Manifold.cube([60, 40, 30], true)
    .subtract(kit.Manifold.cube([54, 34, 24], true))
    .subtract(
      kit.Manifold.cylinder(bores === 2 ? 60 : 30, 4, 4, 64).translate([0, 0, bores === 2 ? -30 : 0]),
    );

describe('a masked blind bore', () => {
  it('holds nothing; bare, slit or too wide for a plug it holds what it did', () => {
    const bare = partOf(wellWithBore(0), []);
    const masked = partOf(wellWithBore(0), [10]);
    expect(bare.rounds).toHaveLength(1);
    // 96 chords are 0.07 % short of the circle.
    expect(volumeOf(bare.traps(UP).liquid) / (Math.PI * 25 * 15)).toBeCloseTo(1, 2);
    expect(volumeOf(masked.traps(UP).liquid)).toBe(0);
    expect([bare.traps(UP).plugCount, masked.traps(UP).plugCount]).toEqual([0, 1]);
    const [round] = masked.rounds;
    expect(masked.plugs([{ ...round!, slit: true }])).toBeNull();
    expect(masked.plugs([{ ...round!, diameterM: 0.06 }])).toBeNull();
  });

  it('has a bottom that no acid reaches, which is said while it is not masked', () => {
    const { closedOff, geometry } = partOf(wellWithBore(0), [10]);
    expect(closedOff!.areaM2 / (Math.PI * 25e-6)).toBeCloseTo(1, 2);
    const bottom = closedOff!.faces;
    const row = faceRow(bottom)!;
    expect(faceId(row)).toBe(bottom);
    const mask = sourceRunsOfFaces(geometry, new Set([row]));
    const flags = coverageFlags(geometry.triangleCount, { mask, contact: [], show: [] });
    const triangles = Uint32Array.from([...geometry.faces.faceOfTriangle.keys()]).filter(
      (t) => geometry.faces.faceOfTriangle[t] === row,
    );
    expect(closedOffBy(geometry, triangles, flags, 1e-3)).toBeNull();
  });

  it('leaves the well above it a trap, without its own volume', () => {
    const { traps } = partOf(wellWithBore(12), [10]);
    expect(volumeOf(traps(UP).liquid) / (30 * 30 * 12)).toBeCloseTo(1, 6);
  });

  it('counts nothing in the search for an attitude either', () => {
    const tilted: Vec3 = [0.1, 0, 1];
    const searched = ({ ready }: ReturnType<typeof partOf>): number =>
      scoreAttitude(ready.mesh, tilted, []).liquidVolume;
    // Tilted by a tenth the level lies against the lower rim: half the width times the slope is missing on average.
    expect(searched(partOf(wellWithBore(0), [])) / (Math.PI * 25 * (15 - 5 * 0.1))).toBeCloseTo(1, 2);
    expect(searched(partOf(wellWithBore(0), [10]))).toBe(0);
  });
});

describe('a plug in the only way out', () => {
  it('of a hollow shuts its air in: the volume of the hollow, that lifts the part', () => {
    const open = partOf(boxWithBores(2), []);
    const shut = partOf(boxWithBores(2), [8]);
    expect(open.traps(UP).shutVolume).toBe(0);
    expect(shut.traps(UP).shutVolume / (54 * 34 * 24)).toBeCloseTo(1, 6);
    // The bottom of a blind bore is under its plug: no hollow.
    expect(partOf(wellWithBore(0), [10]).traps(UP).shutVolume).toBeCloseTo(0, 6);
    const part = newPart('p', 'box.stl', 1, 'mm', true);
    const voids = [
      { anchor: 0, areaM2: 1, volumeM3: 2e-6, vented: false },
      { anchor: 9, areaM2: 1, volumeM3: 5e-6, vented: true },
    ];
    expect(sealedVolumeOf(part, { voids }, shut.traps(UP)) / (2e-6 + 54 * 34 * 24e-9)).toBeCloseTo(1, 6);
    expect(sealedVolumeOf(part, { voids }, null)).toBe(2e-6);
    const standing = { ...part, surface: { ...part.surface, immersedDepth: 10 } };
    expect(sealedVolumeOf(standing, { voids }, null)).toBe(0);
  });

  it('of a hollow with two bores shuts all of it in: no trap, but surface that no acid reaches', () => {
    const open = partOf(boxWithBores(2), []);
    expect(open.closedOff).toBeNull();
    const { traps, closedOff, geometry } = partOf(boxWithBores(2), [8]);
    expect(traps(UP).gas).toEqual([]);
    expect(traps(UP).liquid).toEqual([]);
    const inner = 2 * (54 * 34 + 54 * 24 + 34 * 24) - 2 * Math.PI * 16;
    // 64 chords are 0.16 % short of the circle, which is 2 % of this area.
    expect(closedOff!.areaM2 * 1e6).toBeCloseTo(inner, 0);
    expect(closedOff!.areaM2 * 1e6).toBeLessThan(geometry.area);
  });

  it('leaves nothing to lay out for what is masked behind it: not the hollow, not a bore that opens into it alone', () => {
    // A pocket of 12 drilled down into the floor from within, which only the top's bore leads to.
    const hollow = boxWithBores(1).subtract(kit.Manifold.cylinder(2, 6, 6, 64).translate([0, 0, -14]));
    const outer = partOf(hollow, [8]);
    expect(outer.plugs()!.count).toBe(1);
    const { closedOff, geometry, rounds } = outer;
    const part = newPart('p', 'box.stl', geometry.triangleCount, 'mm', true);
    const laidOut = (maskedMm: readonly number[], all: boolean): string[] => {
      const { flags, traps } = partOf(hollow, maskedMm);
      if (all) for (const t of closedOff!.triangles) flags[t] = COVERAGE_BITS.mask;
      const ground = { geometry, scale: 1e-3, rounds, widths: new Map<number, number>() };
      const behind = traps(UP).closedOff;
      return planFits(part, ground, flags, typedBuildUp(8e-6), 'metric', behind).masks.map(
        ({ item }) => item,
      );
    };
    expect(laidOut([8], false)).toEqual(['pull-through plug']);
    expect(laidOut([8], true)).toEqual(['pull-through plug']);
    expect(laidOut([8, 12], true)).toEqual(['pull-through plug']);
    // Without a plug in the way in, the inner one is a bore like any other.
    expect(laidOut([12], false)).toHaveLength(1);
  });

  it('of a drain hole makes a pocket where there was none', () => {
    const drained = kit.Manifold.cube([40, 40, 40], true)
      .subtract(kit.Manifold.cube([30, 30, 40], true).translate([0, 0, 5]))
      .subtract(kit.Manifold.cylinder(60, 4, 4, 64, true));
    expect(volumeOf(partOf(drained, []).traps(UP).liquid)).toBe(0);
    const { traps } = partOf(drained, [8]);
    expect(volumeOf(traps(UP).liquid) / (30 * 30 * 35)).toBeCloseTo(1, 6);
    // Every triangle it names is the part's own.
    const { geometry } = partOf(drained, [8]);
    for (const { triangles } of traps(UP).liquid) {
      for (const t of triangles) expect(t).toBeLessThan(geometry.triangleCount);
    }
  });
});

it('a box with some of its bores plugged traps what it does where those were never drilled, any way up', () => {
  const random = seeded(20261130);
  const { Manifold } = kit;
  for (let round = 0; round < 12; round++) {
    const [wall, open] = [3 + 4 * random(), random() < 0.5 ? 40 : 0];
    const inner = [50, 44, 40 - 2 * wall + open];
    const box = Manifold.cube([60, 54, 40], true).subtract(
      Manifold.cube(inner as [number, number, number], true).translate([0, 0, open / 2]),
    );
    // Each bore has a diameter of its own and goes through one wall, away from edges and from each other.
    const bores = [5, 7, 9, 11].map((mm, i) => {
      const bore = Manifold.cylinder(34, mm / 2, mm / 2, 40);
      const at = 12 * (random() - 0.5);
      if (i === 0) return bore.translate([at - 12, at, -45]);
      if (i === 1) return bore.translate([at + 12, at, -45]);
      return bore.rotate([90, 0, 0]).translate([i === 2 ? -12 : 12, i === 2 ? -17 : 47, at / 3]);
    });
    const plugged = [5, 7, 9, 11].filter(() => random() < 0.5);
    const drilled = (which: (mm: number) => boolean): Manifold =>
      bores.reduce((solid, bore, i) => (which([5, 7, 9, 11][i]!) ? solid.subtract(bore) : solid), box);
    const part = partOf(
      drilled(() => true),
      plugged,
    );
    expect(part.traps(UP).plugCount).toBe(plugged.length);
    const never = drilled((mm) => !plugged.includes(mm));
    const isShut = open === 0 && plugged.length === 4;
    for (let i = 0; i < 4; i++) {
      const up: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
      const mine = part.traps(up);
      const theirs = findTraps(trapMeshOf(meshOf(never)), up);
      // In 86400 mm³; coordinates are of single precision.
      expect(volumeOf(mine.liquid)).toBeCloseTo(volumeOf(theirs.liquid), 1);
      expect(volumeOf(mine.gas)).toBeCloseTo(volumeOf(theirs.gas), 1);
      expect(mine.liquid).toHaveLength(theirs.liquid.length);
      expect(theirs.sealedVoids).toHaveLength(isShut ? 1 : 0);
      expect(mine.closedOff.length > 0).toBe(isShut);
    }
  }
});
