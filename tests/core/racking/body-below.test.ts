import { beforeAll, describe, expect, test } from 'vitest';
import { surfaceArea } from '../../../core/mesh/surface-area.ts';
import { cutAtWaterline } from '../../../core/mesh/waterline.ts';
import { bodyBelow } from '../../../core/racking/body-below.ts';
import { distanceBody, type DistanceBody } from '../../../core/racking/body-distance.ts';
import { IDENTITY_ROTATION } from '../../../core/racking/pose.ts';
import { checkTank, type Neighbour, type TankPart } from '../../../core/racking/tank-clearance.ts';
import {
  USUAL_TANK_RULES,
  type CathodeSheet,
  type Placement,
  type Tank,
} from '../../../core/racking/tank.ts';
import type { Vec3 } from '../../../core/racking/vec3.ts';
import { meshOf, startManifold } from './solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});
const bodyOf = (solid: Parameters<typeof meshOf>[0], metresPerUnit = 1e-3): DistanceBody => {
  const { vertices, triangles } = meshOf(solid);
  return distanceBody(vertices, triangles, metresPerUnit);
};
const soupOf = ({ vertices, triangles }: DistanceBody): Float32Array =>
  Float32Array.from([...triangles].flatMap((v) => [...vertices.subarray(3 * v, 3 * v + 3)]));

describe('what of a body is under the level', () => {
  test('a bar 30 × 20 × 200 mm, 150 mm deep: four sides of 150 mm and the bottom', () => {
    const below = bodyBelow(bodyOf(kernel.Manifold.cube([30, 20, 200])), [0, 0, 2], 0.15);
    expect(surfaceArea(soupOf(below))).toBeCloseTo(2 * (0.03 + 0.02) * 0.15 + 0.03 * 0.02, 8);
    expect(Math.max(...below.vertices.filter((_, i) => i % 3 === 2))).toBeCloseTo(0.15, 9);
    // At its own bottom's height the bottom alone, which lies in the level.
    expect(() => bodyBelow(below, [0, 0, 1], 0)).toThrow(RangeError);
  });

  // The area is found there by ratios of depths, without cutting anything.
  test.each([
    [[0.3, -0.5, 1], 0.013],
    [[-1, 0.2, 0.1], 0.031],
    [[0, 1, 0], 0.0225],
  ] as const)('a ball and a tilted bar as the area’s own cut has them, up %j', (up, depthM) => {
    const solid = kernel.Manifold.sphere(20, 32).add(kernel.Manifold.cube([60, 11, 7]).rotate([10, 20, 30]));
    const whole = bodyOf(solid);
    const soup = soupOf(whole);
    const areas = Float64Array.from({ length: soup.length / 9 }, (_, t) =>
      surfaceArea(soup.subarray(9 * t, 9 * t + 9)),
    );
    const size = Math.hypot(...up);
    let lowest = Infinity;
    for (let i = 0; i < soup.length; i += 3) {
      lowest = Math.min(lowest, (soup[i] * up[0] + soup[i + 1] * up[1] + soup[i + 2] * up[2]) / size);
    }
    const point = up.map((x) => (x / size) * (lowest + depthM)) as unknown as Vec3;
    const { area } = cutAtWaterline(soup, areas, true, { up, point });
    const below = bodyBelow(whole, up, depthM);
    // Single-precision corners of some 0.05 m: 1e-7 of the area.
    expect(surfaceArea(soupOf(below)) / area).toBeCloseTo(1, 6);
    expect(area).toBeLessThan(0.95 * areas.reduce((sum, one) => sum + one, 0));
  });
});

const sheet = (id: string, wall: 'x-' | 'x+', heightM: number): CathodeSheet => ({
  id,
  material: 'lead',
  place: { on: 'wall', wall, alongM: 0 },
  widthM: 0.3,
  bottomM: 0.05,
  heightM,
  thicknessM: 0.002,
  standoffM: 0.003,
  backWorks: false,
});
const tankWith = (sheetM: number, barM = 0.6): Tank => ({
  name: 'box',
  vessel: { shape: 'box', lengthM: 0.6, widthM: 0.4, heightM: 0.45 },
  levelM: 0.38,
  cathodes: [sheet('left', 'x-', sheetM), sheet('right', 'x+', sheetM)],
  bars: [{ id: 'bar', along: 'x', acrossM: 0, fromM: -0.3, toM: 0.3, heightM: barM, role: 'work' }],
});
const RULES = { ...USUAL_TANK_RULES, cathodeRatioHigh: 100 };

/** A stem of 20 × 20 × 100 mm with a beam of 200 × 20 × 40 mm over it, 80 mm of the stem in the liquid. */
function tee(): Map<string, TankPart> {
  const stem = kernel.Manifold.cube([20, 20, 100]).translate([-10, -10, 0]);
  const beam = kernel.Manifold.cube([200, 20, 40]).translate([-100, -10, 100]);
  const body = bodyOf(stem.add(beam));
  return new Map([
    ['tee', { name: 'Tee', body, below: bodyBelow(body, [0, 0, 1], 0.08), coatedAreaM2: 0.0068 }],
  ]);
}
/** Its level at the liquid's: the lowest point at 300 mm, the beam from 400 to 440. */
const at = (id: string, x: number): Placement => ({
  id,
  partId: 'tee',
  pose: { rotation: IDENTITY_ROTATION, offsetM: [x, 0, 0.3] },
});

describe('a part that stands out of the liquid, in its tank, by hand', () => {
  test('is measured under its level, and asked for no liquid over it', () => {
    const { clearances, findings } = checkTank(tankWith(0.3), RULES, tee(), [at('a', 0)]);
    const distance = (to: Neighbour) => clearances.find((c) => c.to === to)?.distanceM.valueSi;
    expect(distance('floor')).toBeCloseTo(0.3, 8);
    expect(distance('wall')).toBeCloseTo(0.2 - 0.01, 8);
    // From the stem to the sheet; the beam comes as near as √(195² + 50²) = 201 mm, in the air.
    expect(distance('cathode')).toBeCloseTo(0.295 - 0.01, 8);
    expect(distance('surface')).toBeUndefined();
    expect(findings).toEqual([]);
  });

  test('with its stem too near the sheet it is told', () => {
    const { findings } = checkTank(tankWith(0.3), RULES, tee(), [at('a', 0.15)]);
    expect(findings.map(({ code }) => code)).toEqual(['near-cathode']);
    expect(findings[0]!.message).toContain('within 135 mm');
  });

  test('a beam in the air on a sheet that stands out as well shorts the supply all the same', () => {
    // The sheet's face at 295 mm, up to 450; the beam's end at 300.
    const { findings } = checkTank(tankWith(0.4), RULES, tee(), [at('a', 0.2)]);
    expect(findings.map(({ code }) => code)).toContain('short-circuit');
  });

  test('neighbours keep their distance in the liquid, and must not touch above it', () => {
    const pair = (x: number) => checkTank(tankWith(0.3), RULES, tee(), [at('a', -x / 2), at('b', x / 2)]);
    // The beams' ends 10 mm apart, the stems 190.
    expect(pair(0.21).findings).toEqual([]);
    expect(pair(0.21).clearances.find((c) => c.to === 'part')!.distanceM.valueSi).toBeCloseTo(0.19, 8);
    expect(pair(0.2).findings.map(({ code }) => code)).toContain('parts-touch');
  });

  test('higher than its bar it is told', () => {
    const codes = (barM: number) => checkTank(tankWith(0.3, barM), RULES, tee(), [at('a', 0)]).findings;
    expect(codes(0.44)).toEqual([]);
    expect(codes(0.42)).toMatchObject([
      { code: 'over-bar', level: 'check', message: 'Tee stands 20.0 mm higher than the bar it hangs from.' },
    ]);
  });

  test('the swing is that of all of it: the beam’s end reaches a sheet that its stem does not', () => {
    const { swings } = checkTank(tankWith(0.4), RULES, tee(), [at('a', 0.17)], 'metric', { swingRad: 0.1 });
    // 300 mm under the bar: 30 mm; from the beam's end at 270 to the sheet at 295 are 25.
    expect(swings[0]!.hits.map(({ to }) => to)).toContain('cathode');
    expect(swings[0]!.hits[0]!.awayM).toBeCloseTo(0.025, 6);
  });
});
