/** A blind bore that is masked gets a plug, so what stood in it by the closed form π r² h is gone; nothing else is. */
import { beforeAll, expect, it } from 'vitest';
import { coverageFlags } from '../../../core/faces/coverage-flags.ts';
import { faceRow } from '../../../core/faces/face-table.ts';
import { roundFeatures } from '../../../core/finish/round-features.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/job/default-job.ts';
import { withoutPlugged } from '../../../core/job/plugged-pockets.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { sourceRunsOfFaces } from '../../../core/mesh/mesh-triangles.ts';
import { findTraps } from '../../../core/racking/find-traps.ts';
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
  const held = (masked: ReadonlySet<number>, of = rounds) => {
    const coverage = { mask: runs(masked), contact: [], show: [] };
    const left = withoutPlugged(traps, geometry, of, coverageFlags(geometry.triangleCount, coverage), 1e-3);
    return {
      mL: left.traps.liquid.reduce((sum, { volume }) => sum + volume, 0) / 1e3,
      plugged: left.plugged,
    };
  };
  return { rounds, wall, held };
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

it('a well that a plugged bore only opens into stays a trap', () => {
  const { wall, held } = wellWithBore(12);
  const whole = (30 * 30 * 12 + Math.PI * 25 * 15) / 1e3;
  expect(held(wall).mL / whole).toBeCloseTo(1, 2);
});
