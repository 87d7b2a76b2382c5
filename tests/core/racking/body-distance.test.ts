import { beforeAll, describe, expect, test } from 'vitest';
import { distanceBetween, distanceBody } from '../../../core/racking/body-distance.ts';
import { poseVertices, rotationForUp, type Pose } from '../../../core/racking/pose.ts';
import { triangleDistanceSquaredInto } from '../../../core/racking/triangle-distance.ts';
import { length, subtract, type Vec3 } from '../../../core/racking/vec3.ts';
import { meshOf, seeded, startManifold } from './solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});

/** Brute force: the smallest distance between 325 points spread over each triangle. */
function sampledDistance(p: readonly number[], q: readonly number[]): number {
  const n = 24;
  const spread = (t: readonly number[]): Vec3[] => {
    const points: Vec3[] = [];
    for (let i = 0; i <= n; i++) {
      for (let j = 0; i + j <= n; j++) {
        const at = (k: number): number => (i * t[k] + j * t[k + 3] + (n - i - j) * t[k + 6]) / n;
        points.push([at(0), at(1), at(2)]);
      }
    }
    return points;
  };
  let best = Infinity;
  const qs = spread(q);
  for (const a of spread(p)) for (const b of qs) best = Math.min(best, length(subtract(a, b)));
  return best;
}

test('triangle to triangle: never above a fine sampling and never below it by more than its mesh width', () => {
  const random = seeded(11);
  const nearest = new Float64Array(6);
  for (let i = 0; i < 150; i++) {
    const apart = i % 3;
    const p = Array.from({ length: 9 }, () => random());
    const q = Array.from({ length: 9 }, (_, k) => random() + (k % 3 === 0 ? apart * 0.7 : 0));
    const exact = Math.sqrt(triangleDistanceSquaredInto(p, q, nearest));
    const sampled = sampledDistance(p, q);
    expect(exact).toBeLessThanOrEqual(sampled + 1e-12);
    // Sides are at most sqrt 3; a point of each triangle is within side/24 of a sample.
    expect(exact).toBeGreaterThan(sampled - (2 * Math.sqrt(3)) / 24);
    const span = length(subtract([nearest[0], nearest[1], nearest[2]], [nearest[3], nearest[4], nearest[5]]));
    expect(span).toBeCloseTo(exact, 12);
  }
});

test.each([
  ['parallel faces', [0, 0, 0, 1, 0, 0, 0, 1, 0], [0, 0, 2, 1, 0, 2, 0, 1, 2], 2],
  ['corner over face', [0, 0, 0, 4, 0, 0, 0, 4, 0], [1, 1, 1, 1, 1, 3, 2, 1, 3], 1],
  ['edge across edge', [-1, 0, 0, 1, 0, 0, 0, 0, -5], [0, -1, 3, 0, 1, 3, 0, 0, 9], 3],
  ['piercing', [0, 0, 0, 4, 0, 0, 0, 4, 0], [1, 1, -1, 1, 1, 1, 2, 2, 1], 0],
  ['sharing a corner', [0, 0, 0, 1, 0, 0, 0, 1, 0], [0, 0, 0, -1, 0, 0, 0, -1, 3], 0],
  ['one triangle is a line', [0, 0, 0, 1, 0, 0, 2, 0, 0], [0, 3, 0, 2, 3, 0, 1, 5, 0], 3],
])('%s', (_, p, q, distance) => {
  expect(triangleDistanceSquaredInto(p, q, new Float64Array(6))).toBeCloseTo(distance ** 2, 12);
});

describe('bodies', () => {
  test('against every pair of triangles, in random poses', () => {
    const random = seeded(5);
    const a = meshOf(kernel.Manifold.cube([20, 30, 10], true).subtract(kernel.Manifold.sphere(9, 20)));
    const b = meshOf(kernel.Manifold.cylinder(25, 8, 3, 14, true));
    const bodyA = distanceBody(a.vertices, a.triangles, 1e-3);
    const bodyB = distanceBody(b.vertices, b.triangles, 1e-3);
    for (let i = 0; i < 15; i++) {
      const pose = (): Pose => ({
        rotation: rotationForUp([random() - 0.5, random() - 0.5, random() - 0.5], 6 * random()),
        offsetM: [0.05 * random(), 0.05 * random(), 0.05 * random()],
      });
      const [poseA, poseB] = [pose(), pose()];
      const found = distanceBetween(bodyA, poseA, bodyB, poseB)!;
      const va = poseVertices(a.vertices, 1e-3, poseA);
      const vb = poseVertices(b.vertices, 1e-3, poseB);
      const corners = (v: Float64Array, t: Uint32Array, i3: number): number[] =>
        [0, 1, 2].flatMap((k) => [...v.subarray(3 * t[i3 + k], 3 * t[i3 + k] + 3)]);
      let brute = Infinity;
      const scratch = new Float64Array(6);
      for (let s = 0; s < a.triangles.length; s += 3) {
        const p = corners(va, a.triangles, s);
        for (let t = 0; t < b.triangles.length; t += 3) {
          brute = Math.min(brute, triangleDistanceSquaredInto(p, corners(vb, b.triangles, t), scratch));
        }
      }
      expect(found.distanceM).toBeCloseTo(Math.sqrt(brute), 12);
      expect(length(subtract(found.onA, found.onB))).toBeCloseTo(found.distanceM, 12);
      // A hint, good or bad, changes nothing but the time.
      for (const hint of [found.pair, [0, 0]] as const) {
        const again = distanceBetween(bodyA, poseA, bodyB, poseB, Infinity, hint)!;
        expect(again.distanceM).toBeCloseTo(found.distanceM, 15);
      }
    }
  });

  test('the reference kernel’s own gap', () => {
    const a = kernel.Manifold.sphere(10, 32);
    const b = kernel.Manifold.cube([12, 8, 6], true).rotate([20, 30, 40]).translate([30, 5, 2]);
    const [ma, mb] = [meshOf(a), meshOf(b)];
    const still: Pose = { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [0, 0, 0] };
    const found = distanceBetween(
      distanceBody(ma.vertices, ma.triangles, 1),
      still,
      distanceBody(mb.vertices, mb.triangles, 1),
      still,
    )!;
    expect(found.distanceM).toBeCloseTo(a.minGap(b, 100), 5);
    expect(
      distanceBetween(
        distanceBody(ma.vertices, ma.triangles, 1),
        still,
        distanceBody(mb.vertices, mb.triangles, 1),
        still,
        found.distanceM / 2,
      ),
    ).toBeUndefined();
  });
});
