import { beforeAll, describe, expect, test } from 'vitest';
import { distanceBody } from '../../../core/racking/body-distance.ts';
import { cathodeAreaM2, cathodeShape, raisedLevelM } from '../../../core/racking/cathode-shape.ts';
import { IDENTITY_ROTATION } from '../../../core/racking/pose.ts';
import { checkTank, type Neighbour, type TankPart } from '../../../core/racking/tank-clearance.ts';
import {
  USUAL_TANK_RULES,
  type CathodeSheet,
  type Placement,
  type Tank,
} from '../../../core/racking/tank.ts';
import { meshOf, startManifold } from './solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});

const sheet = (id: string, wall: 'x-' | 'x+' | 'y-' | 'y+'): CathodeSheet => ({
  id,
  material: 'lead',
  place: { on: 'wall', wall, alongM: 0 },
  widthM: 0.3,
  bottomM: 0.05,
  heightM: 0.3,
  thicknessM: 0.002,
  standoffM: 0.003,
  backWorks: false,
});
const box: Tank = {
  name: 'box',
  vessel: { shape: 'box', lengthM: 0.6, widthM: 0.4, heightM: 0.45 },
  levelM: 0.38,
  cathodes: [sheet('left', 'x-'), sheet('right', 'x+')],
  bars: [],
};

function brick(widthMm: number, coatedAreaM2 = 0.05): Map<string, TankPart> {
  const mesh = meshOf(kernel.Manifold.cube([widthMm, 60, 80], true));
  return new Map([
    ['brick', { name: 'Brick', body: distanceBody(mesh.vertices, mesh.triangles, 1e-3), coatedAreaM2 }],
  ]);
}
const at = (id: string, x: number, y = 0, z = 0.2): Placement => ({
  id,
  partId: 'brick',
  pose: { rotation: IDENTITY_ROTATION, offsetM: [x, y, z] },
});

describe('a brick in a box', () => {
  test('distances in closed form', () => {
    const { clearances, findings, cathodeRatio } = checkTank(box, USUAL_TANK_RULES, brick(100, 0.3), [
      at('a', 0.03),
    ]);
    const distance = (to: Neighbour): number => clearances.find((c) => c.to === to)!.distanceM.valueSi;
    // Single-precision corners in mm: 1e-9 m.
    expect(distance('wall')).toBeCloseTo(0.2 - 0.03, 8);
    expect(distance('floor')).toBeCloseTo(0.16, 8);
    expect(distance('surface')).toBeCloseTo(0.38 - 0.24, 8);
    expect(distance('cathode')).toBeCloseTo(0.3 - 0.005 - 0.08, 8);
    expect(clearances.find((c) => c.to === 'cathode')!.toId).toBe('right');
    expect(findings).toEqual([]);
    // Two sheets 0.3 wide, wet from 0.05 to 0.35.
    expect(cathodeRatio!.valueSi).toBeCloseTo((2 * 0.3 * 0.3) / 0.3, 10);
  });

  test.each([
    ['short-circuit', at('a', 0.25), 'stop'],
    ['near-cathode', at('a', 0.2), 'check'],
    ['through-wall', at('a', 0, 0.19), 'stop'],
    ['near-wall', at('a', 0, 0.15), 'check'],
    ['through-floor', at('a', 0, 0, 0.03), 'stop'],
    ['near-floor', at('a', 0, 0, 0.07), 'check'],
    ['out-of-liquid', at('a', 0, 0, 0.36), 'stop'],
    ['near-surface', at('a', 0, 0, 0.32), 'check'],
  ])('%s', (code, placement, level) => {
    const { findings } = checkTank(box, { ...USUAL_TANK_RULES, cathodeRatioHigh: 10 }, brick(100), [
      placement,
    ]);
    const found = findings.find((finding) => finding.code === code);
    expect(found?.level).toBe(level);
    expect(found?.placementIds).toEqual(['a']);
    expect(found?.message).toMatch(/^Brick /);
  });

  test('two bricks: each sees the other; touching stops', () => {
    const rules = { ...USUAL_TANK_RULES, cathodeRatioHigh: 10 };
    const near = checkTank(box, rules, brick(100), [at('a', -0.06), at('b', 0.06)]);
    const gaps = near.clearances.filter((c) => c.to === 'part').map((c) => c.distanceM.valueSi);
    expect(gaps).toHaveLength(2);
    for (const gap of gaps) expect(gap).toBeCloseTo(0.02, 8);
    expect(near.findings.filter((f) => f.code === 'near-part')).toHaveLength(2);
    const touching = checkTank(box, rules, brick(100), [at('a', -0.05), at('b', 0.05)]);
    expect(touching.findings.some((f) => f.code === 'parts-touch' && f.level === 'stop')).toBe(true);
  });

  test('too little cathode is said against the user’s own range', () => {
    const small = checkTank(box, USUAL_TANK_RULES, brick(100, 1.2), [at('a', 0)]);
    expect(small.cathodeRatio!.valueSi).toBeCloseTo(0.15, 10);
    expect(small.findings.map((f) => f.code)).toContain('cathode-small');
    const allowed = checkTank(box, { ...USUAL_TANK_RULES, cathodeRatioLow: 0.1 }, brick(100, 1.2), [
      at('a', 0),
    ]);
    expect(allowed.findings.map((f) => f.code)).not.toContain('cathode-small');
    // 0.18 m² of cathode over 0.03 m² of part is 6 : 1.
    const large = checkTank(box, USUAL_TANK_RULES, brick(100, 0.03), [at('a', 0)]);
    expect(large.findings).toMatchObject([{ code: 'cathode-large', level: 'check' }]);
    expect(large.findings[0]!.message).toMatch(/is 6 : 1, above your 1 : 1/);
    // 2 : 1 does little.
    const little = checkTank(box, USUAL_TANK_RULES, brick(100, 0.09), [at('a', 0)]);
    expect(little.findings).toMatchObject([{ code: 'cathode-large', level: 'note' }]);
    const bare = checkTank({ ...box, cathodes: [] }, USUAL_TANK_RULES, brick(100), [at('a', 0)]);
    expect(bare.findings.map((f) => f.code)).toEqual(['no-cathode']);
  });
});

describe('a round tub', () => {
  const ring: CathodeSheet = {
    id: 'ring',
    material: 'aluminium',
    place: { on: 'round', angleRad: Math.PI / 2 },
    widthM: 0.35,
    bottomM: 0.02,
    heightM: 0.25,
    thicknessM: 0.003,
    standoffM: 0.007,
    backWorks: true,
  };
  const tub: Tank = {
    name: 'tub',
    vessel: { shape: 'round', diameterM: 0.4, heightM: 0.35 },
    levelM: 0.3,
    cathodes: [ring],
    bars: [],
  };

  test('wall is nearest at a corner, the curved sheet at its flats', () => {
    const { clearances } = checkTank(tub, USUAL_TANK_RULES, brick(40), [at('a', 0, 0.05, 0.15)]);
    const wall = clearances.find((c) => c.to === 'wall')!;
    expect(wall.distanceM.valueSi).toBeCloseTo(0.2 - Math.hypot(0.02, 0.08), 8);
    expect(Math.hypot(wall.onOther[0], wall.onOther[1])).toBeCloseTo(0.2, 10);
    // Front at radius 0.19: from the corner to the arc, 2-degree flats at most 0.03 mm inside it.
    const toArc = 0.19 - Math.hypot(0.02, 0.08);
    const found = clearances.find((c) => c.to === 'cathode')!.distanceM.valueSi;
    expect(found).toBeLessThanOrEqual(toArc + 1e-9);
    expect(found).toBeGreaterThan(toArc - 3e-5);
  });

  test('sheet area and shape', () => {
    expect(cathodeAreaM2(ring, 0.3)).toBeCloseTo(2 * 0.35 * 0.25, 12);
    expect(cathodeAreaM2(ring, 0.12)).toBeCloseTo(2 * 0.35 * 0.1, 12);
    expect(cathodeAreaM2(ring, 0.01)).toBe(0);
    // The drawn sheet is closed, right way round, and has width x height x thickness of metal, less its flats.
    const shape = cathodeShape(tub, ring);
    const solid = new kernel.Manifold(
      new kernel.Mesh({
        numProp: 3,
        vertProperties: Float32Array.from(shape.vertices),
        triVerts: shape.triangles,
      }),
    );
    const arc = 0.35 / 0.19;
    expect(solid.volume() / (((0.193 ** 2 - 0.19 ** 2) / 2) * arc * 0.25)).toBeCloseTo(1, 3);
    const flat = cathodeShape(box, sheet('left', 'x-'));
    const slab = new kernel.Manifold(
      new kernel.Mesh({
        numProp: 3,
        vertProperties: Float32Array.from(flat.vertices),
        triVerts: flat.triangles,
      }),
    );
    expect(Math.abs(slab.volume())).toBeCloseTo(0.3 * 0.3 * 0.002, 8);
  });

  test('a sheet that does not suit the vessel is a caller’s bug', () => {
    expect(() => cathodeShape(tub, sheet('x', 'x-'))).toThrow(RangeError);
    expect(() => cathodeShape(box, ring)).toThrow(RangeError);
  });

  test('metal raises the level by its volume over the surface', () => {
    expect(raisedLevelM(tub, 1e-3)).toBeCloseTo(0.3 + 1e-3 / (Math.PI * 0.04), 12);
  });
});
