/** A blind bore that is masked gets a plug, so what stood in it by the closed form π r² h is gone; nothing else is. */
import { beforeAll, expect, it } from 'vitest';
import { coverageFlags } from '../../../core/faces/coverage-flags.ts';
import { faceRow } from '../../../core/faces/face-table.ts';
import { roundFeatures } from '../../../core/finish/round-features.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/job/default-job.ts';
import { plugsOf, withoutPlugged } from '../../../core/job/plugged-pockets.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { sourceRunsOfFaces } from '../../../core/mesh/mesh-triangles.ts';
import { findTraps } from '../../../core/racking/find-traps.ts';
import { scoreAttitude } from '../../../core/racking/search-attitudes.ts';
import type { Vec3 } from '../../../core/racking/vec3.ts';
import { meshOf, soupOf, startManifold, trapMeshOf } from '../racking/solids.ts';

let kit: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kit = await startManifold();
});

/** A bore 10 wide and 15 deep in the floor of a square well 30 wide and `well` deep; both open upwards. */
function wellWithBore(well: number) {
  const { Manifold } = kit;
  const solid = Manifold.cube([40, 40, 40], true)
    .subtract(Manifold.cube([30, 30, 40], true).translate([0, 0, 40 - well]))
    .subtract(Manifold.cylinder(40, 5, 5, 96).translate([0, 0, 20 - well - 15]));
  const geometry = analysePart(soupOf(solid), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  const rounds = roundFeatures(geometry, 1e-3);
  const wall = new Set(rounds.flatMap(({ faceIds }) => faceIds.map((id) => faceRow(id)!)));
  const runs = (rows: ReadonlySet<number>) => sourceRunsOfFaces(geometry, rows);
  const traps = findTraps(trapMeshOf(meshOf(solid)), [0, 0, 1]);
  /** Liquid that the search counts for this way up, mL. */
  const searched = (masked: ReadonlySet<number>, up: Vec3) => {
    const flags = coverageFlags(geometry.triangleCount, { mask: runs(masked), contact: [], show: [] });
    const plugs = plugsOf(geometry, rounds, flags, 1e-3);
    return scoreAttitude(trapMeshOf(meshOf(solid)), up, [], plugs).liquidVolume / 1e3;
  };
  const held = (masked: ReadonlySet<number>, of = rounds) => {
    const coverage = { mask: runs(masked), contact: [], show: [] };
    const flags = coverageFlags(geometry.triangleCount, coverage);
    const left = withoutPlugged(traps, plugsOf(geometry, of, flags, 1e-3));
    return {
      mL: left.traps.liquid.reduce((sum, { volume }) => sum + volume, 0) / 1e3,
      plugged: left.plugged,
    };
  };
  return { rounds, wall, held, searched };
}

it('a masked blind bore holds nothing; bare, slit or too wide for a plug it holds what it did', () => {
  const { rounds, wall, held } = wellWithBore(0);
  expect(rounds).toHaveLength(1);
  // 96 chords are 0.07 % short of the circle.
  expect(held(new Set()).mL / ((Math.PI * 25 * 15) / 1e3)).toBeCloseTo(1, 2);
  expect(held(wall)).toEqual({ mL: 0, plugged: 1 });
  expect(held(wall, [{ ...rounds[0]!, slit: true }])).toMatchObject({ plugged: 0 });
  expect(held(wall, [{ ...rounds[0]!, diameterM: 0.06 }])).toMatchObject({ plugged: 0 });
});

it('the search for an attitude counts no plugged bore, and an open one as it did', () => {
  const { wall, searched } = wellWithBore(0);
  const tilted: Vec3 = [0.1, 0, 1];
  // Tilted by a tenth the bore's level lies against its lower rim: half its width times the slope is missing on average.
  const left = Math.PI * 25 * (15 - 5 * 0.1);
  expect((searched(new Set(), tilted) * 1e3) / left).toBeCloseTo(1, 2);
  expect(searched(wall, tilted)).toBe(0);
  expect(searched(wall, [0, 0, 1])).toBe(0);
  const deep = wellWithBore(12);
  expect(deep.searched(deep.wall, [0, 0, 1])).toBeCloseTo(deep.held(deep.wall).mL, 9);
});

it('a well that a plugged bore only opens into stays a trap', () => {
  const { wall, held } = wellWithBore(12);
  const whole = (30 * 30 * 12 + Math.PI * 25 * 15) / 1e3;
  expect(held(wall).mL / whole).toBeCloseTo(1, 2);
});
