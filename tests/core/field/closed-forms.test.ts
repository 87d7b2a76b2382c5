import { describe, expect, test } from 'vitest';
import { voltageAt } from '../../../core/field/electrode-law.ts';
import { filmLaw } from '../../../core/field/film-law.ts';
import { gradedAxis } from '../../../core/field/graded-axis.ts';
import {
  anode,
  KAPPA,
  linear,
  meanDensity,
  octantLines,
  solveOnLines,
  vesselCathode,
} from './reference-problem.ts';
import { box, cylinder, even, revolved, sphere, spheroid } from './shapes.ts';

/**
 * Resistances in closed form. Where a problem has no surface layer (primary distribution), a thin one is given, the
 * potential it takes is subtracted to first order, and the tolerance is that of the edge on that grid.
 */
const THIN = 2e-5;

const expectWithin = (value: number, expected: number, share: number) =>
  expect(Math.abs(value / expected - 1)).toBeLessThan(share);

describe('parallel plates', () => {
  const lines = { x: even(0, 0.112, 14), y: even(0, 0.1, 4), z: even(0, 0.1, 4) };
  const bounds = { minM: [0, 0, 0], maxM: [0.112, 0.1, 0.1] } as const;
  // 100 mm of liquid, 1 dm²: d/(κA) = 0.16667 Ω. The plates' faces lie between grid lines, behind and before middles.
  const plates = (slope: number) => [
    anode(box([-1, -1, -1], [0.0077, 1, 1]), slope),
    { ...vesselCathode(box([0.1077, -1, -1], [1, 1, 1]), slope), holdsBath: false },
  ];

  test('between bare plates and between polarised ones, V/j = d/κ + 2b', () => {
    // A field without curvature is exact but for the float32 of the conductances.
    expect(solveOnLines(bounds, plates(1e-4), lines).resistanceOhm).toBeCloseTo(
      0.1 / KAPPA / 0.01 + 2e-4 / 0.01,
      6,
    );
    expect(solveOnLines(bounds, plates(0.04), lines).resistanceOhm).toBeCloseTo(
      0.1 / KAPPA / 0.01 + 0.08 / 0.01,
      6,
    );
    expect(solveOnLines(bounds, plates(0), lines).resistanceOhm).toBeCloseTo(0.166667, 6);
  });
});

describe('throwing power, Field’s index', () => {
  // A trough with a sheet that works on both sides and a plate on either end, five times as far on one as on the other.
  // (κ⁻¹·d₁ + b)·j₁ = (κ⁻¹·d₂ + b)·j₂, so the metal ratio is M = (d₂/κ + b) / (d₁/κ + b): 5 without polarisation, 2 with
  // b = 3·d₁/κ, and the index 100·(L − M)/(L + M − 2) is 0 and 60 % (Field, from memory).
  const near = 0.02;
  const far = 0.1;
  const lines = { x: even(-0.0004, 0.1524, 191), y: even(0, 0.02, 2), z: even(0, 0.02, 2) };
  const bounds = { minM: [-0.0004, 0, 0], maxM: [0.1524, 0.02, 0.02] } as const;
  const index = (slope: number): number => {
    const plate = (fromM: number, toM: number) => anode(box([fromM, -1, -1], [toM, 1, 1]), slope);
    const sheet = {
      ...vesselCathode(box([0.01 + near, -1, -1], [0.01 + near + 0.02, 1, 1]), 0),
      holdsBath: false,
    };
    const solved = solveOnLines(
      bounds,
      [plate(-1, 0.01), plate(0.01 + near + 0.02 + far, 1), sheet],
      lines,
      0.1,
    );
    const metal = meanDensity(solved, (x) => x < 0.02) / meanDensity(solved, (x) => x > 0.1);
    return (100 * (far / near - metal)) / (far / near + metal - 2);
  };

  test('nothing throws without polarisation; 60 % where the metal ratio is 2', () => {
    expect(index(0)).toBeCloseTo(0, 2);
    expect(index((3 * near) / KAPPA)).toBeCloseTo(60, 2);
  });
});

describe('curved surfaces, second order', () => {
  const order = (errors: readonly number[]) => {
    const [a, b, c] = errors.map(Math.abs);
    return [Math.log2(a / b), Math.log2(b / c)];
  };

  test('concentric spheres', () => {
    const [a, b, slope] = [0.01, 0.02, 1e-4];
    const bodies = [anode(sphere(a, 400), slope), vesselCathode(sphere(b, 400), slope)];
    const exact =
      (1 / a - 1 / b) / (4 * Math.PI * KAPPA) + slope / (4 * Math.PI * a * a) + slope / (4 * Math.PI * b * b);
    const errors = [10, 20, 40].map((n) => {
      const line = even(0, 1.02 * b, n);
      const bounds = { minM: [0, 0, 0], maxM: [1.02 * b, 1.02 * b, 1.02 * b] } as const;
      return solveOnLines(bounds, bodies, { x: line, y: line, z: line }, 1 / 8).resistanceOhm / 8 / exact - 1;
    });
    for (const observed of order(errors)) expect(observed).toBeGreaterThan(1.7);
    expect(Math.abs(errors[2])).toBeLessThan(3e-4);
  });

  test('coaxial cylinders', () => {
    const [a, b, slope] = [0.01, 0.025, 1e-4];
    const bodies = [anode(cylinder(a, -1, 1, 720), slope), vesselCathode(cylinder(b, -1, 1, 720), slope)];
    const lengthM = 0.01;
    const aroundM2 = 2 * Math.PI * a * lengthM;
    const exact =
      Math.log(b / a) / (2 * Math.PI * KAPPA * lengthM) +
      slope / (2 * Math.PI * a * lengthM) +
      slope / (2 * Math.PI * b * lengthM);
    // How the grid happens to lie to the circle scatters a single error by half; three placements are averaged.
    const runs = [32, 64, 128].map((n) => {
      let squares = 0;
      let spread = 0;
      for (const room of [1.01, 1.03, 1.05]) {
        const line = even(0, room * b, n);
        const bounds = { minM: [0, 0, 0], maxM: [room * b, room * b, lengthM] } as const;
        const solved = solveOnLines(bounds, bodies, { x: line, y: line, z: even(0, lengthM, 2) }, 1 / 4);
        squares += (solved.resistanceOhm / 4 / exact - 1) ** 2 / 3;
        const { anodes } = solved.cut.system;
        solved.solution.state.anodeAPerM2.forEach((j, p) => {
          spread += ((j * aroundM2 - 1) ** 2 * anodes.areaM2[p]) / (aroundM2 / 4) / 3;
        });
      }
      return { resistance: Math.sqrt(squares), density: Math.sqrt(spread) };
    });
    for (const observed of order(runs.map(({ resistance }) => resistance)))
      expect(observed).toBeGreaterThan(1.7);
    for (const observed of order(runs.map(({ density }) => density))) expect(observed).toBeGreaterThan(1.7);
    expect(runs[2].resistance).toBeLessThan(3e-5);
  });

  test('with the film’s own law the voltage is U(j) + I·R, the density being the same all round', () => {
    const [a, b, current] = [0.01, 0.02, 0.2];
    const film = filmLaw().law;
    const bodies = [{ ...anode(sphere(a, 200), 0), law: film }, vesselCathode(sphere(b, 200), 5e-4)];
    const line = even(0, 1.02 * b, 24);
    const bounds = { minM: [0, 0, 0], maxM: [1.02 * b, 1.02 * b, 1.02 * b] } as const;
    const solved = solveOnLines(bounds, bodies, { x: line, y: line, z: line }, current / 8);
    const ohm = (1 / a - 1 / b) / (4 * Math.PI * KAPPA) + 5e-4 / (4 * Math.PI * b * b);
    const exact = voltageAt(film, current / (4 * Math.PI * a * a)) + current * ohm;
    // 14 V of film by a power law, 0.02 V of bath: the surface of 200 facets is 1e-4 too large.
    expectWithin((solved.resistanceOhm * current) / 8, exact, 1e-4);
    expect(solved.solution.newtonSteps).toBeGreaterThan(1);
  });

  test('a sphere with a film in a sphere carries the same density everywhere', () => {
    // Film-dominated (κb = 2.4 m): what is left is the scatter of the cut cells.
    const bodies = [anode(sphere(0.01, 200), 0.04), vesselCathode(sphere(0.02, 200), 5e-4)];
    const line = even(0, 0.0204, 20);
    const bounds = { minM: [0, 0, 0], maxM: [0.0204, 0.0204, 0.0204] } as const;
    const solved = solveOnLines(bounds, bodies, { x: line, y: line, z: line }, 1 / 8);
    const densities = solved.solution.state.anodeAPerM2;
    const mean = meanDensity(solved, () => true);
    for (const j of densities) expect(Math.abs(j / mean - 1)).toBeLessThan(1e-4);
  });
});

describe('resistances of handbooks at full size', () => {
  test('coaxial cylinders 10 and 100 mm, 100 mm long: 0.061078 Ω', () => {
    const bodies = [anode(cylinder(0.01, -1, 1, 720), 1e-4), vesselCathode(cylinder(0.1, -1, 1, 720), 1e-4)];
    const line = gradedAxis({
      lowM: 0,
      highM: 0.102,
      fineLowM: 0,
      fineHighM: 0.014,
      spacingM: 0.001,
      growth: 1.12,
    });
    const lines = { x: line, y: line, z: even(0, 0.1, 2) };
    const bounds = { minM: [0, 0, 0], maxM: [0.102, 0.102, 0.1] } as const;
    const solved = solveOnLines(bounds, bodies, lines, 1 / 4);
    // Ten cells a radius: second-order error of a few 1e-3.
    expectWithin(solved.bathOhm / 4, 0.061078, 3e-3);
  });

  test('sphere of 10 mm: 0.119366 Ω to a sphere of 100 mm, 0.132629 Ω in an endless bath', () => {
    const to = (b: number) => {
      const bodies = [anode(sphere(0.01, 200), 1e-4), vesselCathode(sphere(b, 200), 1e-4)];
      const out = 1.01 * b;
      const bounds = { minM: [0, 0, 0], maxM: [out, out, out] } as const;
      return solveOnLines(bounds, bodies, octantLines(0.012, out, 0.001), 1 / 8).bathOhm / 8;
    };
    const [near, far] = [to(0.05), to(0.1)];
    // Ten cells a radius.
    expectWithin(far, 0.119366, 4e-3);
    // A sphere's resistance falls short of the endless bath's by 1/(4πκb): a straight line in 1/b, carried to 0.
    expectWithin(2 * far - near, 0.132629, 4e-3);
  });

  test('disc of 10 mm in an insulating plane: 0.416667 Ω in an endless bath', () => {
    const r0 = 0.01;
    const c = 0.05;
    // Between the disc and a spheroid confocal with it the potential is exact: R = atan(c/r₀)/(2πκr₀).
    const vessel = vesselCathode(spheroid(Math.hypot(c, r0), c, 240), 1e-5);
    const floor = revolved(
      [
        [0, 0],
        [r0, 0],
        [1, 0],
        [1, -1],
        [0, -1],
      ],
      240,
    );
    const insulated = new Uint8Array(floor.length / 9).fill(1).fill(0, 0, 240);
    const beyond = 0.416667 - Math.atan(c / r0) / (2 * Math.PI * KAPPA * r0);
    const out = 1.03 * c;
    const solve = (spacing: number) => {
      const flat = gradedAxis({
        lowM: 0,
        highM: out,
        fineLowM: 0,
        fineHighM: 1.2 * r0,
        spacingM: spacing,
        growth: 1.15,
      });
      const up = gradedAxis({
        lowM: -spacing,
        highM: out,
        fineLowM: -spacing,
        fineHighM: 4 * spacing,
        spacingM: spacing,
        growth: 1.15,
      });
      return solveOnLines(
        { minM: [0, 0, -spacing], maxM: [out, out, out] },
        [anode(floor, 1e-8, { insulated }), vessel],
        { x: flat, y: flat, z: up },
        1 / 4,
      );
    };
    const [rough, solved] = [solve(r0 / 12), solve(r0 / 24)];
    const [first, second] = [rough, solved].map(({ bathOhm }) => bathOhm / 4 + beyond);
    // The rim's endless density makes it first order: a few percent, gone when carried to a spacing of 0.
    expectWithin(second, 0.416667, 0.025);
    expectWithin(2 * second - first, 0.416667, 0.005);
    const average = 1 / (Math.PI * r0 ** 2);
    const at = (low: number, high: number) =>
      meanDensity(solved, (x, y) => Math.hypot(x, y) >= low * r0 && Math.hypot(x, y) <= high * r0) / average;
    // j/j_av = 0.5/√(1 − (r/r₀)²), its mean over a ring.
    const ring = (low: number, high: number) =>
      (Math.sqrt(1 - low ** 2) - Math.sqrt(1 - high ** 2)) / (high ** 2 - low ** 2);
    expectWithin(at(0, 0.3), ring(0, 0.3), 0.04);
    expectWithin(at(0.6, 0.8), ring(0.6, 0.8), 0.04);
    expectWithin(at(0.82, 0.9), ring(0.82, 0.9), 0.04);
  });

  test('cube of 20 mm: 0.100373 Ω in an endless bath (capacitance 0.660678 of its edge)', () => {
    const s = 0.02;
    const b = 0.08;
    const out = 1.01 * b;
    const solved = solveOnLines(
      { minM: [0, 0, 0], maxM: [out, out, out] },
      [
        anode(box([-s / 2, -s / 2, -s / 2], [s / 2, s / 2, s / 2]), THIN / 2),
        vesselCathode(sphere(b, 200), 1e-5),
      ],
      octantLines(0.0115, out, 0.0005),
      1 / 8,
    );
    // By symmetry the first term the sphere disturbs is of order (s/b)⁵.
    // Edges and corners carry endless density: first order, 20 cells a half edge.
    expectWithin(solved.bathOhm / 8 + 1 / (4 * Math.PI * KAPPA * b), 0.100373, 0.01);
  });

  test('prolate spheroid 50 and 5 mm: 0.079798 Ω in an endless bath', () => {
    const [p, q] = [0.05, 0.005];
    const f = Math.sqrt(p * p - q * q);
    const outerP = 0.075;
    const arcoth = (x: number) => 0.5 * Math.log((x + 1) / (x - 1));
    // The vessel is confocal with the part, so the potential between them is exact.
    const outerQ = Math.sqrt(outerP ** 2 - f ** 2);
    const side = gradedAxis({
      lowM: 0,
      highM: 1.01 * outerQ,
      fineLowM: 0,
      fineHighM: 0.006,
      spacingM: 0.00045,
      growth: 1.15,
    });
    const along = gradedAxis({
      lowM: 0,
      highM: 1.01 * outerP,
      fineLowM: 0.044,
      fineHighM: 0.052,
      spacingM: 0.00045,
      growth: 1.15,
    });
    const solved = solveOnLines(
      { minM: [0, 0, 0], maxM: [1.01 * outerQ, 1.01 * outerQ, 1.01 * outerP] },
      [anode(spheroid(q, p, 200), THIN), vesselCathode(spheroid(outerQ, outerP, 200), THIN)],
      { x: side, y: side, z: along },
      1 / 8,
    );
    const beyond = arcoth(outerP / f) / (4 * Math.PI * KAPPA * f);
    expect(Math.acosh(p / q) / (4 * Math.PI * KAPPA * f)).toBeCloseTo(0.079798, 6);
    // Eleven cells across the waist, its tips of 0.5 mm radius hardly resolved.
    expectWithin(solved.bathOhm / 8 + beyond, 0.079798, 5e-3);
  });
});

describe('edges', () => {
  const cells = 64;
  const size = 0.02;
  const line = even(0, size, cells);
  const lines = { x: line, y: line, z: even(0, 0.001, 2) };
  const bounds = { minM: [0, 0, 0], maxM: [size, size, 0.001] } as const;
  /** Least-squares slope of ln j against ln s, s from the edge. */
  const exponent = (samples: readonly (readonly [s: number, j: number])[]) => {
    const x = samples.map(([s]) => Math.log(s));
    const y = samples.map(([, j]) => Math.log(j));
    const mx = x.reduce((a, b) => a + b) / x.length;
    const my = y.reduce((a, b) => a + b) / y.length;
    return (
      x.reduce((sum, v, i) => sum + (v - mx) * (y[i] - my), 0) / x.reduce((sum, v) => sum + (v - mx) ** 2, 0)
    );
  };
  const h = size / cells;

  test('convex right angle: j ~ s^(−1/3)', () => {
    const corner = size / 2;
    const solved = solveOnLines(bounds, [anode(box([-1, -1, -1], [corner, corner, 1]), 1e-7)], lines, 1e-3, [
      { name: 'far', wall: 'x+', lowM: [0, 0], highM: [size, 1], law: linear(0) },
      { name: 'far too', wall: 'y+', lowM: [0, 0], highM: [size, 1], law: linear(0) },
    ]);
    const samples = [3, 4, 5, 6, 8].map((n): [number, number] => {
      const s = (n + 0.5) * h;
      return [s, meanDensity(solved, (x, y) => x > corner - 1e-9 && Math.abs(corner - y - s) < 0.45 * h)];
    });
    expect(Math.abs(exponent(samples) + 1 / 3)).toBeLessThan(0.05);
  });

  test('concave right angle: j ~ s', () => {
    const elbow = elbowOf(0.1 * h);
    const solved = solveOnLines(bounds, [anode(elbow, 1e-7)], lines, 1e-3, [
      { name: 'far', wall: 'x+', lowM: [size / 2, 0], highM: [size, 1], law: linear(0) },
      { name: 'far too', wall: 'y+', lowM: [size / 2, 0], highM: [size, 1], law: linear(0) },
    ]);
    const samples = [2, 3, 4, 5, 6].map((n): [number, number] => {
      const s = (n + 0.5) * h - 0.1 * h;
      return [s, meanDensity(solved, (x, y) => y < 0.11 * h && Math.abs(x - (n + 0.5) * h) < 0.45 * h)];
    });
    expect(Math.abs(exponent(samples) - 1)).toBeLessThan(0.06);
  });
});

/** An L of metal along the two low sides, thick below zero, faces at `face`: a prism over six corners. */
function elbowOf(face: number): Float64Array {
  const ring: readonly (readonly [number, number])[] = [
    [-1, -1],
    [1, -1],
    [1, face],
    [face, face],
    [face, 1],
    [-1, 1],
  ];
  const out: number[] = [];
  const tri = (a: number, b: number, c: number, z: number, up: boolean) => {
    for (const n of up ? [a, b, c] : [a, c, b]) out.push(ring[n][0], ring[n][1], z);
  };
  for (const [z, up] of [
    [1, true],
    [-1, false],
  ] as const) {
    for (const [a, b, c] of [
      [0, 1, 2],
      [0, 2, 3],
      [0, 3, 5],
      [3, 4, 5],
    ] as const) {
      tri(a, b, c, z, up);
    }
  }
  ring.forEach(([x, y], n) => {
    const [u, v] = ring[(n + 1) % ring.length];
    out.push(x, y, -1, u, v, -1, u, v, 1, x, y, -1, u, v, 1, x, y, 1);
  });
  return Float64Array.from(out);
}
