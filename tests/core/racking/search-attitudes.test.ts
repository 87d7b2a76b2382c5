import { beforeAll, describe, expect, test } from 'vitest';
import { findTraps } from '../../../core/racking/find-traps.ts';
import { scoreAttitude, searchAttitudes, spreadDirections } from '../../../core/racking/search-attitudes.ts';
import { angleBetween, type Vec3 } from '../../../core/racking/vec3.ts';
import { meshOf, startManifold, trapMeshOf } from './solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});

const options = { directions: 500, extra: [] as Vec3[], contacts: [] };

test('directions are spread evenly: their mean is zero and every spot has one near', () => {
  const directions = spreadDirections(500);
  for (let k = 0; k < 3; k++) {
    expect(Math.abs(directions.reduce((sum, d) => sum + d[k], 0) / 500)).toBeLessThan(2e-3);
  }
  // 500 equal patches of the sphere have a half-width of about sqrt(4/500) = 0.089 rad; the gaps reach 1.6 times that.
  for (const probe of spreadDirections(997)) {
    expect(Math.min(...directions.map((d) => angleBetween(d, probe)))).toBeLessThan(0.145);
  }
});

describe('search', () => {
  test('a cup ends up with its mouth down and sideways: nothing held, no gas beyond the rest', () => {
    const cup = kernel.Manifold.cylinder(30, 12, 12, 32).subtract(
      kernel.Manifold.cylinder(30, 10, 10, 32).translate([0, 0, 3]),
    );
    const mesh = trapMeshOf(meshOf(cup));
    const found = searchAttitudes(mesh, options);
    if (!found.ok) throw new Error(found.error.message);
    const best = found.value.ranked[0];
    // A cylinder open at one end traps nothing only lying level; the nearest directions come within a few degrees.
    expect(Math.abs(best.up[2])).toBeLessThan(0.1);
    expect(best.score).toBeGreaterThan(found.value.ranked.at(-1)!.score);
    expect(found.value.ranked).toHaveLength(500);
    for (const attitude of [best, found.value.ranked[250], found.value.ranked[499]]) {
      const traps = findTraps(mesh, attitude.up);
      expect(attitude.gasVolume).toBeCloseTo(
        traps.gas.reduce((sum, p) => sum + p.volume, 0),
        6,
      );
      expect(attitude.liquidVolume).toBeCloseTo(
        traps.liquid.reduce((sum, p) => sum + p.volume, 0),
        6,
      );
      expect(attitude.reasons.length).toBeGreaterThan(1);
    }
    for (let i = 0; i < found.value.distinct.length; i++) {
      for (let j = 0; j < i; j++) {
        expect(angleBetween(found.value.distinct[i].up, found.value.distinct[j].up)).toBeGreaterThan(0.34);
      }
    }
  });

  test('a contact’s cone is kept, and contacts that cannot agree are said', () => {
    const mesh = trapMeshOf(meshOf(kernel.Manifold.cube([20, 30, 40])));
    const right = { name: '1', outward: [1, 0, 0] as Vec3, coneRad: 0.8 };
    const found = searchAttitudes(mesh, { ...options, contacts: [right] });
    if (!found.ok) throw new Error(found.error.message);
    for (const attitude of found.value.distinct) {
      expect(angleBetween(attitude.up, [1, 0, 0])).toBeLessThanOrEqual(0.8);
    }
    const left = { ...right, name: '2', outward: [-1, 0, 0] as Vec3 };
    const none = searchAttitudes(mesh, { ...options, contacts: [right, left] });
    expect(!none.ok && none.error.code).toBe('contacts-disagree');
  });

  test('it reports progress and stops when asked', () => {
    const mesh = trapMeshOf(meshOf(kernel.Manifold.cube([20, 30, 40])));
    const seen: number[] = [];
    const stopped = searchAttitudes(mesh, options, {
      onProgress: (done) => seen.push(done),
      isCancelled: () => seen.length >= 20,
    });
    expect(!stopped.ok && stopped.error.code).toBe('cancelled');
    expect(seen).toEqual(Array.from({ length: 20 }, (_, i) => i + 1));
  });

  test('a level underside is counted: the whole face of a plate, nothing once it is tilted', () => {
    const mesh = trapMeshOf(meshOf(kernel.Manifold.cube([20, 30, 2])));
    expect(scoreAttitude(mesh, [0, 0, 1], []).levelUndersideArea).toBeCloseTo(600, 3);
    expect(scoreAttitude(mesh, [0.1, 0, 1], []).levelUndersideArea).toBe(0);
  });
});
