import type loadManifold from 'manifold-3d';
import { describe, expect, it } from 'vitest';
import { placeBores } from '../../../core/field/bore-places.ts';
import { cathodeLayouts, densitySpread, movedSheets } from '../../../core/field/cathode-layouts.ts';
import { hangerRods } from '../../../core/field/hanger-rods.ts';
import { innerCathodeIn } from '../../../core/field/inner-cathode.ts';
import { splitTriangles } from '../../../core/field/split-triangles.ts';
import type { SurfaceDensity } from '../../../core/field/surface-density.ts';
import { usualTank } from '../../../core/job/usual-tank.ts';
import { tankSchema } from '../../../core/job/job-tank.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { IDENTITY_ROTATION } from '../../../core/racking/pose.ts';
import type { Tank } from '../../../core/racking/tank.ts';
import { solidKit } from '../../fixtures/solid-kit.ts';

const { tank } = usualTank({ alongM: 0.2, acrossM: 0.05, heightM: 0.1, middleM: [0, 0, 0] });
const tub: Tank = {
  ...tank,
  vessel: { shape: 'round', diameterM: 0.5, heightM: 0.4 },
  levelM: 0.3,
  cathodes: [],
};

describe('cathode layouts', () => {
  it('are tanks that the job accepts, one sheet a wall named', () => {
    for (const vessel of [tank, tub]) {
      const layouts = cathodeLayouts(vessel);
      expect(new Set(layouts.map(({ name }) => name)).size).toBe(layouts.length);
      for (const layout of layouts) expect(tankSchema.safeParse(layout.tank).success).toBe(true);
    }
    const walls = cathodeLayouts(tank).map(({ tank: { cathodes } }) => cathodes.length);
    expect(walls).toEqual([1, 1, 1, 1, 2, 2, 4]);
  });

  it('leave a sheet that hangs there as it is', () => {
    const own = { ...tank, cathodes: tank.cathodes.map((sheet) => ({ ...sheet, widthM: 0.123 })) };
    const both = cathodeLayouts(own).find(({ id }) => id === 'y')!;
    expect(both.tank.cathodes).toEqual(own.cathodes);
  });

  it('sheets go off the wall as far as there is room, and back to it', () => {
    expect(movedSheets(tank, 0.05).cathodes.map(({ standoffM }) => standoffM)).toEqual([0.05, 0.05]);
    expect(movedSheets(movedSheets(tank, 0.05), -1).cathodes).toEqual(tank.cathodes);
    expect(tankSchema.safeParse(movedSheets(tank, 5)).success).toBe(true);
    expect(() => movedSheets(tank, NaN)).toThrow(RangeError);
  });
});

describe('spread', () => {
  const of = (densities: readonly number[], shares: readonly number[]): SurfaceDensity => ({
    triangleAPerM2: new Float32Array(),
    conductingM2: new Float64Array(),
    areaM2: 2,
    currentA: 2 * densities.reduce((sum, j, i) => sum + j * (shares[i]! - (shares[i - 1] ?? 0)), 0),
    leastAPerM2: densities[0]!,
    mostAPerM2: densities.at(-1)!,
    dryM2: 0,
    sortedAPerM2: Float64Array.from(densities),
    areaShare: Float64Array.from(shares),
  });

  it('half at 1 and half at 3 is a half; even is none', () => {
    expect(densitySpread(of([1, 3], [0.5, 1]))).toBeCloseTo(0.5, 12);
    expect(densitySpread(of([2], [1]))).toBe(0);
    // A straight ramp from 0 to 2 about 1: 1/√3, here in 1000 steps.
    const ramp = Array.from({ length: 1000 }, (_, i) => (2 * (i + 0.5)) / 1000);
    const shares = Array.from({ length: 1000 }, (_, i) => (i + 1) / 1000);
    expect(densitySpread(of(ramp, shares))).toBeCloseTo(1 / Math.sqrt(3), 5);
  });
});

describe('holes', () => {
  const plate = async () => {
    const kit = await solidKit();
    const { Manifold } = kit as unknown as Awaited<ReturnType<typeof loadManifold>>;
    const mesh = Manifold.cube([80, 40, 30], false)
      .subtract(Manifold.cylinder(40, 6, 6, 64).translate([20, 20, -5]))
      .subtract(Manifold.cylinder(18, 4, 4, 64).translate([60, 20, 12]))
      .getMesh();
    const positions = new Float32Array(
      [...mesh.triVerts].flatMap((v) => [...mesh.vertProperties.subarray(3 * v, 3 * v + 3)]),
    );
    return analysePart(
      positions,
      [{ name: 'plate', firstTriangle: 0, triangleCount: positions.length / 9 }],
      { splitAngleRad: 0.6 },
    );
  };

  it('know where they begin, which way they go and how far', async () => {
    const [through, blind] = placeBores(await plate(), 1e-3);
    expect(through).toMatchObject({ through: true });
    expect(through!.depthM).toBeCloseTo(0.03, 3);
    expect(through!.length).toBeCloseTo(30, 4);
    expect(Math.hypot(through!.mouth[0] - 20, through!.mouth[1] - 20)).toBeLessThan(0.01);
    // Blind from the top (z = 30) down to z = 12.
    expect(blind!.through).toBe(false);
    expect(blind!.mouth[2]).toBeCloseTo(30, 4);
    expect(blind!.inward[2]).toBeCloseTo(-1, 6);
    expect(blind!.length).toBeCloseTo(18, 4);
  });

  it('take a rod along their axis that touches nothing', async () => {
    const [through, blind] = placeBores(await plate(), 1e-3);
    const pose = { rotation: IDENTITY_ROTATION, offsetM: [0.1, 0, 0.2] as const };
    const long = innerCathodeIn(through!, 1e-3, pose);
    expect(Math.abs(long.toM[2] - long.fromM[2])).toBeCloseTo(0.03 + 2 * 0.02, 4);
    expect(long.fromM[0]).toBeCloseTo(0.12, 4);
    expect(long.diameterM).toBeLessThan(0.5 * 0.012);
    const short = innerCathodeIn(blind!, 1e-3, pose);
    // A radius above the floor at z = 0.212.
    expect(Math.min(short.fromM[2], short.toM[2])).toBeCloseTo(0.212 + 0.004, 4);
  });
});

describe('hanger wires', () => {
  const box = { low: [0, 0, 0.1], high: [0.1, 0.1, 0.2] } as const;
  const rod = { atM: [0.05, 0.05, 0.2], facing: [0, 0, 1], diameterM: 0.002, count: 1 } as const;
  const highest = (body: Float64Array): number => Math.max(...body.filter((_, i) => i % 3 === 2));

  it('go straight up through the level where nothing is above', () => {
    const bodies = hangerRods(rod, 0.3, () => false, box);
    expect(bodies).toHaveLength(1);
    expect(highest(bodies[0]!)).toBeGreaterThan(0.3);
  });

  it('go round a part that is above, outside of its box', () => {
    const under = { ...rod, atM: [0.03, 0.05, 0.1], facing: [0, 0, -1] } as const;
    const [aside, up] = hangerRods(under, 0.3, () => true, box);
    expect(aside).toBeDefined();
    const outside = [...up!].filter((_, i) => i % 3 === 0).every((x) => x < 0);
    expect(outside).toBe(true);
    expect(highest(up!)).toBeGreaterThan(0.3);
  });

  it('are not in the bath where the contact is above the level', () => {
    expect(hangerRods(rod, 0.15, () => false, box)).toEqual([]);
  });
});

describe('triangles made smaller', () => {
  it('leave a closed surface closed: every side has one partner the other way, corner on corner', () => {
    const corner = (i: number): number[] => [i & 1 ? 1 : 0, i & 2 ? 0.37 : 0, i & 4 ? 0.041 : 0];
    const quads = [
      [0, 2, 3, 1],
      [4, 5, 7, 6],
      [0, 1, 5, 4],
      [2, 6, 7, 3],
      [0, 4, 6, 2],
      [1, 3, 7, 5],
    ];
    const box = quads.flatMap(([p, q, r, s]) => [p!, q!, r!, p!, r!, s!].flatMap(corner));
    const { positions, source } = splitTriangles(box, 0.05, 50_000);
    expect(source.length).toBeGreaterThan(500);
    const sides = new Map<string, number>();
    for (let t = 0; t < source.length; t++) {
      for (let e = 0; e < 3; e++) {
        const key = (c: number): string => [...positions.subarray(9 * t + 3 * c, 9 * t + 3 * c + 3)].join();
        const [a, b] = [key(e), key((e + 1) % 3)];
        sides.set(`${a} ${b}`, (sides.get(`${a} ${b}`) ?? 0) + 1);
      }
    }
    for (const [side, count] of sides) {
      expect(count).toBe(1);
      expect(sides.has(side.split(' ').reverse().join(' '))).toBe(true);
    }
    expect(source.every((t, i) => i === 0 || t >= source[i - 1]!)).toBe(true);
  });
});
