import { beforeAll, describe, expect, test } from 'vitest';
import {
  gasLift,
  massFigure,
  restUnderOne,
  restUnderTwo,
  solidMoments,
  swingEnvelope,
} from '../../../core/racking/balance.ts';
import { rotate, rotateBack, rotationForUp } from '../../../core/racking/pose.ts';
import { angleBetween, dot, length, subtract, unit, type Vec3 } from '../../../core/racking/vec3.ts';
import { meshOf, seeded, startManifold } from './solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});

const moments = (solid: Parameters<typeof meshOf>[0]) => {
  const found = solidMoments(meshOf(solid));
  if (!found.ok) throw new Error(found.error.message);
  return found.value;
};

describe('volume and centre of gravity', () => {
  test('closed forms: box, cone (centre at a quarter of its height), half ball (3/8 of its radius)', () => {
    const box = moments(kernel.Manifold.cube([20, 30, 40]).translate([100, -50, 7]));
    expect(box.volume).toBeCloseTo(24_000, 2);
    expect(subtract(box.centre, [110, -35, 27]).every((d) => Math.abs(d) < 1e-5)).toBe(true);
    const cone = moments(kernel.Manifold.cylinder(40, 10, 0, 64));
    expect(cone.centre[2]).toBeCloseTo(10, 5);
    // Area of the inscribed 64-gon: n/2 r² sin(2 pi/n).
    expect(cone.volume).toBeCloseTo((32 * 100 * Math.sin((2 * Math.PI) / 64) * 40) / 3, 2);
    const half = moments(kernel.Manifold.sphere(10, 256).trimByPlane([0, 0, 1], 0));
    // 256 facets around: short of the ball by about 1e-4.
    expect(half.centre[2] / 3.75).toBeCloseTo(1, 3);
    expect(half.volume / ((2 / 3) * Math.PI * 1000)).toBeCloseTo(1, 3);
  });

  test('the post of the published checks: 56 212.83 mm³, 151.77 g at 2.70 g/cm³', () => {
    // Hollow post 30/24 x 70 on plate 80 x 80 x 6; 720 facets lose 1.3e-5 of the ring.
    const ring = kernel.Manifold.cylinder(70, 15, 15, 720).subtract(
      kernel.Manifold.cylinder(80, 12, 12, 720),
    );
    const plate = kernel.Manifold.cube([80, 80, 6], true).translate([0, 0, -3]);
    const { volume } = moments(plate.add(ring));
    expect(volume).toBeCloseTo(56_212.83, 0);
    const source = { standing: 'published', text: 'open data sheet, 6061' } as const;
    expect(massFigure(volume * 1e-9, { kgPerM3: 2700, source }).valueSi).toBeCloseTo(0.15177, 5);
  });

  test('random solids against the reference kernel’s own volume', () => {
    const random = seeded(7);
    for (let i = 0; i < 6; i++) {
      const solid = kernel.Manifold.cube([30, 20, 10], true)
        .subtract(kernel.Manifold.sphere(5 + 5 * random(), 24).translate([10 * random(), 5 * random(), 3]))
        .rotate([360 * random(), 360 * random(), 360 * random()])
        .translate([500 * random(), 20, -300]);
      const { volume, centre } = moments(solid);
      // Single precision of coordinates of some hundreds: 3e-5 on a size of 10.
      expect(volume / solid.volume()).toBeCloseTo(1, 4);
      // Centre: a plane through it halves the first moment, so both halves balance (kernel cuts, levers by volume).
      const n = unit([random(), random(), random()]);
      const [a, b] = solid.splitByPlane([...n], dot(n, centre)).map(moments);
      const lever =
        a.volume * dot(n, subtract(a.centre, centre)) + b.volume * dot(n, subtract(b.centre, centre));
      expect(Math.abs(lever) / solid.volume()).toBeLessThan(1e-3);
    }
  });

  test('an inside-out mesh has no weight', () => {
    const mesh = meshOf(kernel.Manifold.cube([1, 1, 1]));
    const turned = solidMoments({ vertices: mesh.vertices, triangles: mesh.triangles.slice().reverse() });
    expect(!turned.ok && turned.error.code).toBe('no-volume');
  });
});

describe('coming to rest', () => {
  const height = (up: Vec3, p: Vec3): number => dot(unit(up), p);

  test('one hanger: the centre is lower than for any other attitude about the pin', () => {
    const pin: Vec3 = [3, 4, 10];
    const centre: Vec3 = [1, -1, 2];
    const rest = restUnderOne(pin, centre, [0, 0, 1], 20);
    if (!rest.ok) throw new Error(rest.error.message);
    const random = seeded(3);
    const lowest = height(rest.value.up, subtract(centre, pin));
    for (let i = 0; i < 200; i++) {
      const other: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
      expect(height(other, subtract(centre, pin))).toBeGreaterThanOrEqual(lowest - 1e-12);
    }
    // Beer & Johnston, Statics: tan of the tilt is the level offset over the depth of the centre.
    expect(Math.tan(rest.value.tiltRad)).toBeCloseTo(Math.hypot(2, 5) / 8, 10);
  });

  test('one hanger at the centre is refused', () => {
    const rest = restUnderOne([1, 1, 1], [1, 1, 1], [0, 0, 1], 10);
    expect(!rest.ok && rest.error.code).toBe('centre-at-pin');
  });

  test('two hangers: lowest of all turns about their line, and the loads balance', () => {
    const pins: [Vec3, Vec3] = [
      [-10, 2, 8],
      [14, -1, 11],
    ];
    const centre: Vec3 = [1, 0.5, 1];
    const wanted = unit([0.1, 0.2, 1]);
    const rest = restUnderTwo(pins, centre, wanted, 30);
    if (!rest.ok) throw new Error(rest.error.message);
    const { up, shares } = rest.value;
    const line = unit(subtract(pins[1], pins[0]));
    expect(dot(up, line)).toBeCloseTo(dot(wanted, line), 12);
    expect(length(up)).toBeCloseTo(1, 12);
    const lowest = height(up, subtract(centre, pins[0]));
    // Brute force: all attitudes with the same slope of the line.
    const toUp = rotationForUp(line);
    for (let a = 0; a < 360; a++) {
      const sine = dot(wanted, line);
      const cosine = Math.sqrt(1 - sine * sine);
      const turned = rotateBack(toUp, [
        cosine * Math.cos((a * Math.PI) / 180),
        cosine * Math.sin((a * Math.PI) / 180),
        sine,
      ]);
      expect(height(turned, subtract(centre, pins[0]))).toBeGreaterThanOrEqual(lowest - 1e-9);
    }
    // Moments about the centre of the two upward forces vanish along the level direction of the line.
    const tank = rotationForUp(up);
    const [p, q, g] = [...pins, centre].map((point) => rotate(tank, point));
    const moment = (k: 0 | 1): number => shares[0] * (p[k] - g[k]) + shares[1] * (q[k] - g[k]);
    expect(moment(0)).toBeCloseTo(0, 9);
    expect(moment(1)).toBeCloseTo(0, 9);
    expect(rest.value.tiltRad).toBeCloseTo(angleBetween(up, wanted), 12);
  });

  test.each([
    [
      'pins-together',
      [
        [0, 0, 5],
        [0, 0, 5],
      ],
      [0, 0, 0],
    ],
    [
      'pins-upright',
      [
        [0, 0, 5],
        [0, 0, 9],
      ],
      [1, 0, 0],
    ],
    [
      'centre-on-line',
      [
        [-5, 0, 0],
        [5, 0, 0],
      ],
      [0, 0, 0],
    ],
    [
      'hanger-unloaded',
      [
        [-5, 0, 5],
        [5, 0, 5],
      ],
      [7, 0, 0],
    ],
  ] as [string, [Vec3, Vec3], Vec3][])('%s', (code, pins, centre) => {
    const rest = restUnderTwo(pins, centre, [0, 0, 1], 10);
    expect(!rest.ok && rest.error.code).toBe(code);
  });
});

test('gas lift: 100 mL of gas in a bath of 1.12 lifts 1.098 N, a third of the weight left of 200 mL of metal', () => {
  // Archimedes: 0.1 L x 1.12 kg/L x 9.80665; weight 0.2 L x (2.70 - 1.12) kg/L.
  const lift = gasLift({ gasVolumeM3: 1e-4, metalVolumeM3: 2e-4, metalKgPerM3: 2700, bathKgPerM3: 1120 });
  expect(lift.liftN.valueSi).toBeCloseTo(1.0983, 4);
  expect(lift.shareOfWeight.valueSi).toBeCloseTo(0.112 / 0.316, 12);
  expect([lift.matters, lift.floats]).toEqual([true, false]);
  expect(
    gasLift({ gasVolumeM3: 3e-4, metalVolumeM3: 2e-4, metalKgPerM3: 2700, bathKgPerM3: 1120 }).floats,
  ).toBe(true);
  expect(
    gasLift({ gasVolumeM3: 1e-6, metalVolumeM3: 2e-4, metalKgPerM3: 2700, bathKgPerM3: 1120 }).matters,
  ).toBe(false);
});

test('sealed hollows lift as gas does, and are told from it', () => {
  // A closed box of 50 × 40 × 30 with walls of 3: 60 mL outside, 35.904 mL of hollow, 24.096 mL of metal. Archimedes.
  const bath = { metalVolumeM3: 24.096e-6, metalKgPerM3: 2700, bathKgPerM3: 1110 };
  const box = gasLift({ gasVolumeM3: 0, sealedVolumeM3: 35.904e-6, ...bath });
  expect(box.shareOfWeight.valueSi).toBeCloseTo((1110 * 35.904) / ((2700 - 1110) * 24.096), 12);
  expect([box.floats, box.by]).toEqual([true, 'hollows']);
  // It floats where all it displaces weighs more than its metal.
  expect(1110 * 60 > 2700 * 24.096).toBe(true);
  expect(gasLift({ gasVolumeM3: 1e-6, sealedVolumeM3: 1e-6, ...bath }).by).toBe('both');
  expect(gasLift({ gasVolumeM3: 1e-6, ...bath }).by).toBe('gas');
  expect(() => gasLift({ gasVolumeM3: 0, sealedVolumeM3: -1, ...bath })).toThrow(RangeError);
});

describe('swing', () => {
  const corners = (x: number, y: number, top: number, bottom: number): Float64Array =>
    Float64Array.from(
      [-1, 1].flatMap((i) => [-1, 1].flatMap((j) => [top, bottom].flatMap((z) => [i * x, j * y, z]))),
    );

  test('one hanger: a full circle, swung by the pendulum of its lowest corner', () => {
    const reach = swingEnvelope(corners(0.03, 0.04, 0.3, 0.1), [[0, 0, 0.6]], 0.1);
    expect(reach.restM).toBeCloseTo(0.05, 12);
    expect(reach.swungM).toBeCloseTo(0.05 * Math.cos(0.1) + 0.5 * Math.sin(0.1), 12);
    expect(reach.turns).toBe(true);
  });

  test('two hangers along x: only across', () => {
    const reach = swingEnvelope(
      corners(0.2, 0.04, 0.3, 0.1),
      [
        [-0.1, 0, 0.6],
        [0.1, 0, 0.6],
      ],
      0.1,
    );
    expect(reach.restM).toBeCloseTo(0.04, 12);
    expect(reach.swungM).toBeCloseTo(0.04 * Math.cos(0.1) + 0.5 * Math.sin(0.1), 12);
    expect(reach.turns).toBe(false);
  });
});
