import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { outsideSpots } from '../../../core/field/contact-spots.ts';
import { cutBath } from '../../../core/field/cut-cells.ts';
import { boxBody, prismBody, rodBody, roundOutline } from '../../../core/field/body-shapes.ts';
import { splitTriangles } from '../../../core/field/split-triangles.ts';
import { openingsOfPlanes } from '../../../core/field/plane-openings.ts';
import { cutTriangles } from '../../../core/field/surface-pieces.ts';
import { anode, linear } from './reference-problem.ts';
import { box, even, revolved, sphere, turned, volumeOf } from './shapes.ts';

const areaOf = (p: ArrayLike<number>): number => {
  let area = 0;
  for (let o = 0; o < p.length; o += 9) {
    const [ax, ay, az] = [p[o + 3] - p[o], p[o + 4] - p[o + 1], p[o + 5] - p[o + 2]];
    const [bx, by, bz] = [p[o + 6] - p[o], p[o + 7] - p[o + 1], p[o + 8] - p[o + 2]];
    area += Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx) / 2;
  }
  return area;
};

const rocket = revolved(
  [
    [0, 0.4],
    [0.1, 0.25],
    [0.22, 0.1],
    [0.22, -0.2],
    [0.05, -0.2],
    [0.05, 0.1],
    [0, 0.1],
  ],
  24,
);

/** The unit cube of liquid round a shape, 12 × 10 × 14 cells, one wall a cathode. */
function cutUnit(positionsM: Float64Array) {
  const lines = { x: even(-0.5, 0.5, 12), y: even(-0.5, 0.5, 10), z: even(-0.5, 0.5, 14) };
  return cutBath(
    {
      minM: [-0.5, -0.5, -0.5],
      maxM: [0.5, 0.5, 0.5],
      conductivitySPerM: 1,
      bodies: [anode(positionsM, 1)],
      wallCathodes: [{ name: 'wall', wall: 'x-', lowM: [-1, -1], highM: [1, 1], law: linear(0.1) }],
    },
    lines,
  );
}

const axes = [even(-0.5, 0.5, 12), even(-0.5, 0.5, 10), even(-0.5, 0.5, 14)] as const;
const counts = [12, 10, 14];

/** Open area of the face above each cell along each axis, m²; cell (i, j, k) at i + 12·(j + 10·k). The cube's own sides are open. */
function openings(shape: Float64Array): Float64Array[] {
  return [0, 1, 2].map((axis) => {
    const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
    const whole = 1 / counts[u] / counts[v];
    const faces = new Float64Array(12 * 10 * 14).fill(whole);
    openingsOfPlanes(shape, axis, axes, 0, {
      onPlane: (plane, share) => {
        share.forEach((open, n) => {
          const at = [0, 0, 0];
          at[axis] = plane - 1;
          at[u] = n % counts[u];
          at[v] = Math.floor(n / counts[u]);
          faces[at[0] + 12 * (at[1] + 10 * at[2])] = open * whole;
        });
      },
    });
    return faces;
  });
}

function normalsOf(p: Float64Array): Float64Array {
  const out = new Float64Array(p.length / 3);
  for (let o = 0; o < p.length; o += 9) {
    const [ax, ay, az] = [p[o + 3] - p[o], p[o + 4] - p[o + 1], p[o + 5] - p[o + 2]];
    const [bx, by, bz] = [p[o + 6] - p[o], p[o + 7] - p[o + 1], p[o + 8] - p[o + 2]];
    const cross = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
    const length = Math.hypot(...cross);
    cross.forEach((x, n) => (out[o / 3 + n] = x / length));
  }
  return out;
}

const directions = fc.tuple(
  fc.double({ min: -1, max: 1, noNaN: true }),
  fc.double({ min: -1, max: 1, noNaN: true }),
  fc.double({ min: 0.2, max: 1, noNaN: true }),
  fc.double({ min: -3, max: 3, noNaN: true }),
);
const placed = (shape: Float64Array, [x, y, z, angle]: readonly [number, number, number, number]) => {
  const length = Math.hypot(x, y, z);
  return turned(shape, [x / length, y / length, z / length], angle);
};

describe('openings and surface of cut cells', () => {
  test('close round every cell: open faces and surface sum to no area in any direction', () => {
    fc.assert(
      fc.property(directions, (way) => {
        const shape = placed(rocket, way);
        const open = openings(shape);
        const sum = new Float64Array(1680 * 3);
        for (let c = 0; c < 1680; c++) {
          const at = [c % 12, Math.floor(c / 12) % 10, Math.floor(c / 120)];
          [1, 12, 120].forEach((stride, n) => {
            const below = at[n] === 0 ? counts[n] / 1680 : open[n][c - stride];
            sum[c * 3 + n] += open[n][c] - below;
          });
        }
        const cut = cutTriangles(shape, axes);
        const normals = normalsOf(shape);
        for (let p = 0; p < cut.count; p++) {
          for (let n = 0; n < 3; n++)
            sum[cut.cell[p] * 3 + n] -= cut.areaM2[p] * normals[cut.triangle[p] * 3 + n];
        }
        // Gauss's theorem for a constant; faces of 8e-3 m², shares within 1e-6 of 0 and 1 are rounded.
        for (const s of sum) expect(Math.abs(s)).toBeLessThan(2e-8);
      }),
      { numRuns: 25, seed: 7, endOnFailure: true },
    );
  });

  test('leave out the true volume: Σ open area × spacing over planes, against the divergence theorem', () => {
    const shape = placed(rocket, [0.3, -0.5, 0.7, 1.1]);
    // The trapezoid rule over the planes, liquid outside them; the sections are exact, the rule is second order.
    openings(shape).forEach((faces, n) => {
      const solid = faces.reduce((sum, open) => sum - open, counts[n]) / counts[n];
      expect(Math.abs(solid / volumeOf(shape) - 1)).toBeLessThan(0.04);
    });
  });

  test('keep the surface: pieces sum to each triangle’s own area', () => {
    fc.assert(
      fc.property(directions, (way) => {
        const shape = placed(rocket, way);
        const cut = cutTriangles(shape, [even(-0.5, 0.5, 12), even(-0.5, 0.5, 10), even(-0.5, 0.5, 14)]);
        const sums = new Float64Array(shape.length / 9);
        for (let p = 0; p < cut.count; p++) sums[cut.triangle[p]] += cut.areaM2[p];
        sums.forEach((sum, t) => expect(sum).toBeCloseTo(areaOf(shape.subarray(t * 9, t * 9 + 9)), 12));
      }),
      { numRuns: 25, seed: 8, endOnFailure: true },
    );
  });

  test('hold for faces that lie in grid planes and for corners on them', () => {
    // Faces on lines 3/12, 9/12 …: every corner of the cube is on three planes.
    const cut = cutUnit(box([-0.25, -0.3, -0.5 + 3 / 14], [0.25, 0.3, 0.5 - 3 / 14]));
    expect(cut.leak).toBe(0);
    let area = 0;
    for (let p = 0; p < cut.system.anodes.count; p++) area += cut.system.anodes.areaM2[p];
    expect(area).toBeCloseTo(2 * (0.5 * 0.6 + 0.5 * (8 / 14) + 0.6 * (8 / 14)), 12);
    // A conductance of every cell in the middle is zero.
    const { system } = cut;
    const middle = system.plane + 6 + 12 * (5 + 10 * 7);
    expect(system.gx[middle] + system.gy[middle] + system.gz[middle]).toBe(0);
  });

  test('a scanned figure of 3 674 triangles is closed and keeps its area', () => {
    const mesh = JSON.parse(
      readFileSync(new URL('../../../node_modules/bunny/index.js', import.meta.url), 'utf8')
        .replace(/^[^=]*exports\.positions\s*=\s*/, '{"positions":')
        .replace(/;?\s*exports\.cells\s*=\s*/, ',"cells":')
        .replace(/;?\s*$/, '}'),
    ) as { positions: [number, number, number][]; cells: [number, number, number][] };
    const low = [0, 1, 2].map((n) => Math.min(...mesh.positions.map((p) => p[n])));
    const high = [0, 1, 2].map((n) => Math.max(...mesh.positions.map((p) => p[n])));
    const grow = 0.8 / Math.max(...high.map((h, n) => h - low[n]));
    const shape = Float64Array.from(
      mesh.cells.flatMap((cell) =>
        cell.flatMap((v) => mesh.positions[v].map((x, n) => (x - (low[n] + high[n]) / 2) * grow)),
      ),
    );
    expect(volumeOf(shape)).toBeGreaterThan(0);
    const cut = cutUnit(shape);
    expect(cut.leak).toBeLessThan(1e-9);
    let area = 0;
    for (let p = 0; p < cut.system.anodes.count; p++) area += cut.system.anodes.areaM2[p];
    // On cells a tenth of its length the ears are thin walls, and a few slivers there find no liquid.
    expect(Math.abs(area / areaOf(shape) - 1)).toBeLessThan(1e-3);
  });

  test('an open surface shows as a leak', () => {
    const whole = sphere(0.3, 24);
    // A hole that no grid plane crosses is smaller than a cell and changes nothing; this one is larger.
    const open = Float64Array.from([...whole.subarray(0, 9 * 200), ...whole.subarray(9 * 230)]);
    expect(cutUnit(open).leak).toBeGreaterThan(0.01);
  });

  test('a closed hollow gets no current', () => {
    const hollow = sphere(0.15, 24);
    for (let t = 0; t < hollow.length; t += 9) {
      for (let n = 0; n < 3; n++)
        [hollow[t + 3 + n], hollow[t + 6 + n]] = [hollow[t + 6 + n], hollow[t + 3 + n]];
    }
    const shell = sphere(0.3, 24);
    const cut = cutUnit(Float64Array.from([...shell, ...hollow]));
    let dry = 0;
    for (let p = 0; p < cut.pieces.count; p++) if (cut.pieces.patch[p] < 0) dry += cut.pieces.areaM2[p];
    expect(dry).toBeCloseTo(areaOf(hollow), 9);
  });
});

describe('shapes that stand in the tank', () => {
  const round = prismBody(roundOutline(0.2, 48), -0.3, 0.3);

  test.each([
    ['box', boxBody([-0.1, -0.2, -0.3], [0.1, 0.2, 0.3]), 0.2 * 0.4 * 0.6],
    ['round prism', round, Math.PI * 0.04 * 0.6],
  ])('%s: closed, outward, of its own volume', (_name, shape, volume) => {
    expect(cutUnit(placed(shape, [0.2, 0.1, 0.9, 0.4])).leak).toBeLessThan(1e-9);
    expect(volumeOf(shape) / volume).toBeCloseTo(1, 9);
  });

  test('a rod has the skin of a round one', () => {
    const rod = rodBody([0.1, 0, -0.2], [-0.1, 0.1, 0.3], 0.02);
    const long = Math.hypot(0.2, 0.1, 0.5);
    expect(areaOf(rod) / (Math.PI * 0.02 * long + 2 * Math.PI * 0.01 ** 2)).toBeCloseTo(1, 2);
    expect(volumeOf(rod)).toBeGreaterThan(0);
    expect(cutUnit(rod).leak).toBeLessThan(1e-9);
  });
});

describe('triangles made smaller', () => {
  const triangle = [0, 0, 0, 0.3, 0, 0, 0, 0.4, 0];

  test('splitting keeps area and origin and reaches the size', () => {
    const split = splitTriangles([...triangle, ...triangle.map((x) => x * 0.01)], 0.02, 100_000);
    expect(areaOf(split.positions)).toBeCloseTo(0.06 + 0.06e-4, 12);
    expect(split.source.at(-1)).toBe(1);
    for (let t = 0; t < split.source.length; t++) {
      for (let e = 0; e < 3; e++) {
        const [p, q] = [t * 9 + e * 3, t * 9 + ((e + 1) % 3) * 3];
        const side = Math.hypot(...[0, 1, 2].map((n) => split.positions[p + n] - split.positions[q + n]));
        expect(side).toBeLessThanOrEqual(0.02);
      }
    }
    expect(splitTriangles(triangle, 0.001, 500).source.length).toBeLessThanOrEqual(500);
  });

  test('a contact spot takes a disc out of a flat triangle', () => {
    const left = outsideSpots(triangle, [{ atM: [0.1, 0.1, 0], radiusM: 0.02 }]);
    const taken = 0.06 - areaOf(left);
    // Rim cut to 0.15 of the radius.
    expect(Math.abs(taken / (Math.PI * 0.02 ** 2) - 1)).toBeLessThan(0.03);
    expect(outsideSpots(triangle, [{ atM: [0.1, 0.1, 1], radiusM: 0.02 }])).toEqual(triangle);
  });
});
