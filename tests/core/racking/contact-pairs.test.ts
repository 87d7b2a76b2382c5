import { beforeAll, describe, expect, test } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { judgeContactPair, rankContactPairs } from '../../../core/racking/contact-pairs.ts';
import { findTraps } from '../../../core/racking/find-traps.ts';
import { prepareHanging } from '../../../core/racking/hang-part.ts';
import { trapFigures } from '../../../core/racking/hanging-figures.ts';
import type { Vec3 } from '../../../core/racking/vec3.ts';
import { soupOf, startManifold } from './solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});

test('two holes near the upper corners of a plate make the best pair: level, weight halved', () => {
  const hole = kernel.Manifold.cylinder(20, 2.5, 2.5, 32, true);
  const plate = kernel.Manifold.cube([120, 80, 5], true)
    .subtract(hole.translate([-52, 32, 0]))
    .subtract(hole.translate([52, 32, 0]))
    .subtract(hole.translate([0, -32, 0]));
  const geometry = analysePart(soupOf(plate), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  const hanging = prepareHanging(geometry, 1e-3);
  const up = [0, 1, 0] as const;
  const advice = hanging
    .adviser(new Uint8Array(geometry.triangleCount), {
      up,
      patchDiameterM: 2e-3,
      allowShown: false,
      allowMasked: false,
      most: 12,
    })
    .advise();
  const [best] = rankContactPairs(advice, hanging.centre, up, 144);
  for (const row of [best.first, best.second]) {
    expect(advice[row].kind).toBe('through hole');
    expect(advice[row].at[1]).toBeCloseTo(34.5, 0);
  }
  // The third hole's missing metal lifts the centre by a hair: tilt under a tenth of a degree, shares even by symmetry.
  expect(best.rest.tiltRad).toBeLessThan(2e-3);
  expect(best.rest.shares[0]).toBeCloseTo(0.5, 2);
  expect(best.reasons.some((reason) => reason.includes('50 % and 50 %'))).toBe(true);
});

test('figures of the traps carry the sums in SI, and doubt about the unit', () => {
  const tray = kernel.Manifold.cube([40, 30, 20], true).subtract(
    kernel.Manifold.cube([36, 26, 20], true).translate([0, 0, 2]),
  );
  const geometry = analysePart(soupOf(tray), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  const { trapMesh } = prepareHanging(geometry, 1e-3);
  if (!trapMesh.ok) throw new Error(trapMesh.error.message);
  const figures = trapFigures(findTraps(trapMesh.value, [0, 0, 1]), 1e-3, 'the unit is a guess');
  expect(figures.liquidVolumeM3.valueSi).toBeCloseTo(36 * 26 * 18 * 1e-9, 12);
  expect(figures.liquid[0].areaM2.valueSi).toBeCloseTo((36 * 26 + 2 * (36 + 26) * 18) * 1e-6, 9);
  expect(figures.liquid[0].depthM.valueSi).toBeCloseTo(0.018, 8);
  expect(figures.gasAreaM2.valueSi).toBe(0);
  expect(figures.gasVolumeM3.unconfirmed).toBe('the unit is a guess');
});

test('a plate lying flat with a bore near each end: both together, level, half of the weight each', () => {
  // A rib below pulls the centre of gravity under the bores; both mirror planes hold it in the middle between them.
  const bore = kernel.Manifold.cylinder(20, 3, 3, 64, true);
  const plate = kernel.Manifold.cube([200, 30, 10], true)
    .add(kernel.Manifold.cube([100, 10, 20], true).translate([0, 0, -14]))
    .subtract(bore.translate([90, 0, 0]))
    .subtract(bore.translate([-90, 0, 0]));
  const geometry = analysePart(soupOf(plate), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  const hanging = prepareHanging(geometry, 1e-3);
  const up = [0, 0, 1] as const;
  const options = { up, patchDiameterM: 2e-3, allowShown: false, allowMasked: false, most: 12 };
  const advice = hanging.adviser(new Uint8Array(geometry.triangleCount), options).advise();
  const ends = advice.filter(({ kind }) => kind === 'through hole').map(({ at }) => at);
  // A 64-sided bore of radius 3 at 90: its outer wall at 93, to the chord's 0.004.
  expect(ends.map(([x]) => Math.abs(x))).toEqual([expect.closeTo(93, 1), expect.closeTo(93, 1)]);
  ends.forEach(([, y]) => expect(Math.abs(y)).toBeLessThan(0.01));
  const [best] = rankContactPairs(advice, hanging.centre, up, 203);
  expect([best.first, best.second].map((row) => advice[row].kind)).toEqual(['through hole', 'through hole']);
  expect(best.rest.tiltRad).toBeLessThan(1e-2);
  expect(best.rest.shares[0]).toBeCloseTo(0.5, 3);
});

describe('two good places, as they hold together', () => {
  const place = 90;
  const judged = (a: Vec3, b: Vec3) => {
    const made = judgeContactPair(
      [
        { at: a, place },
        { at: b, place },
      ],
      [0, 0, 0],
      [0, 0, 1],
      100,
    );
    if (!made.ok) throw new Error(made.error.message);
    return made.value;
  };
  const best = judged([-30, 0, 20], [30, 0, 20]);

  test('even, apart and above: all that the places are worth', () => {
    expect(best.score).toBeCloseTo(place, 10);
    expect(best.reasons.join(' ')).toMatch(/50 % and 50 %.*hangs steady/);
  });

  // Levers by hand: pins 10 and 50 from the centre share 5 : 1, so 17 and 83 %.
  test.each([
    ['uneven', [-10, 0, 20], [50, 0, 20], /17 % and 83 % of the weight: nearly all hangs on one/],
    ['close together', [-4, 0, 20], [4, 0, 20], /close together, so the part can rock/],
    ['aside of the centre, so that it tilts', [-30, 15, 20], [30, 15, 20], /comes to rest 37° from/],
    ['hardly above the centre', [-30, 0, 1], [30, 0, 1], /a knock tips the part over/],
  ] as [string, Vec3, Vec3, RegExp][])('%s: much less, and said', (_, a, b, words) => {
    const pair = judged(a, b);
    expect(pair.score).toBeLessThan(0.65 * place);
    expect(pair.reasons.join(' ')).toMatch(words);
    expect(best.reasons.join(' ')).not.toMatch(words);
  });

  test('a slightly uneven pair is only a little worse', () => {
    const pair = judged([-27, 0, 20], [33, 0, 20]);
    expect(pair.score).toBeGreaterThan(0.9 * place);
    expect(pair.reasons.join(' ')).not.toMatch(/unevenly|nearly all/);
  });
});
