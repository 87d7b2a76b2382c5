import { Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { SurfacePicker } from '../../../renderer/viewport/surface-picker.ts';
import { runBuildPickIndex } from '../../../renderer/worker/run-build-pick-index.ts';
import type { SerializedPickIndex } from '../../../renderer/worker/jobs.ts';
import { box, turned } from '../../fixtures/shapes.ts';

/** Small repeatable random numbers (Lehmer's generator, 16807 mod 2³¹ − 1). */
function lehmer(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 16807) % 2147483647) / 2147483647;
}

async function indexOf(positions: Float32Array): Promise<SerializedPickIndex> {
  const built = await runBuildPickIndex({ name: 'part', positions }, () => {});
  if (!built.ok) throw new Error(built.error.message);
  // As it arrives from the worker.
  return structuredClone(built.value);
}

/** Nearest crossing over all triangles: Möller and Trumbore, "Fast, minimum storage ray/triangle intersection" (1997), in float64. */
function nearestByForce(positions: Float32Array, o: Vector3, d: Vector3): { distance: number } | null {
  let nearest = Infinity;
  for (let t = 0; t < positions.length; t += 9) {
    const a = new Vector3().fromArray(positions, t);
    const e1 = new Vector3().fromArray(positions, t + 3).sub(a);
    const e2 = new Vector3().fromArray(positions, t + 6).sub(a);
    const p = d.clone().cross(e2);
    const det = e1.dot(p);
    if (Math.abs(det) < 1e-12) continue;
    const s = o.clone().sub(a);
    const u = s.dot(p) / det;
    const q = s.cross(e1);
    const v = d.dot(q) / det;
    const along = e2.dot(q) / det;
    if (u >= 0 && v >= 0 && u + v <= 1 && along > 0 && along < nearest) nearest = along;
  }
  return nearest === Infinity ? null : { distance: nearest };
}

const shapes: Record<string, Float32Array> = {
  box: box(30, 20, 10, [-15, -10, -5]),
  ring: turned(
    [
      [8, -4],
      [12, -4],
      [12, 4],
      [8, 4],
    ],
    48,
    true,
  ),
  // Far from the origin, as a part cut out of an assembly is.
  farRing: turned(
    [
      [8, -4],
      [12, -4],
      [12, 4],
      [8, 4],
    ],
    48,
    true,
  ).map((value, i) => value + (i % 3 === 0 ? 5000 : 0)),
};

describe.each(Object.entries(shapes))('SurfacePicker on a %s', (name, positions) => {
  it('finds what brute force finds, along 400 random rays', async () => {
    const before = positions.slice();
    const picker = new SurfacePicker(positions, await indexOf(positions));
    // The index is indirect: the part's own order stays.
    expect(positions).toEqual(before);
    const random = lehmer(name.length);
    const centre = new Vector3(name === 'farRing' ? 5000 : 0, 0, 0);
    let hits = 0;
    for (let i = 0; i < 400; i++) {
      const direction = new Vector3(random() - 0.5, random() - 0.5, random() - 0.5).normalize();
      const aim = new Vector3(random() - 0.5, random() - 0.5, random() - 0.5).multiplyScalar(26).add(centre);
      const origin = aim.clone().addScaledVector(direction, -100);
      const expected = nearestByForce(positions, origin, direction);
      const found = picker.hit(origin, direction);
      expect(found === null, `ray ${i}`).toBe(expected === null);
      if (!found || !expected) continue;
      hits++;
      const distance = new Vector3(...found.point).sub(origin).length();
      // Coordinates are float32: at 5000 they step by 5e-4, around 15 by 1e-6.
      expect(Math.abs(distance - expected.distance)).toBeLessThan(name === 'farRing' ? 5e-3 : 1e-4);
      expect(Math.hypot(...found.normal)).toBeCloseTo(1, 6);
    }
    expect(hits).toBeGreaterThan(50);
  });
});

describe('isCovered', () => {
  it('tells the near side from the far side', async () => {
    const positions = shapes.box!;
    const picker = new SurfacePicker(positions, await indexOf(positions));
    const up = new Vector3(0, 0, 1);
    expect(picker.isCovered(new Vector3(2, 3, 5), up, 0.05)).toBe(false);
    expect(picker.isCovered(new Vector3(2, 3, -5), up, 0.05)).toBe(true);
  });
});
