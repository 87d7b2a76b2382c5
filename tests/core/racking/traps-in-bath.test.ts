import { beforeAll, expect, test } from 'vitest';
import { findTraps } from '../../../core/racking/find-traps.ts';
import { prepareTrapMesh } from '../../../core/racking/trap-mesh.ts';
import { trapsInBath } from '../../../core/racking/traps-in-bath.ts';
import type { Vec3 } from '../../../core/racking/vec3.ts';
import { meshOf, startManifold } from './solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});

/** A bar of 30 × 30 × 200 with a blind hole of 10 × 10, 20 deep, in either end; both open along z. */
function traps(up: Vec3) {
  const bar = kernel.Manifold.cube([30, 30, 200]);
  const hole = kernel.Manifold.cube([10, 10, 20]);
  const ready = prepareTrapMesh(
    meshOf(bar.subtract(hole.translate([10, 10, 0])).subtract(hole.translate([10, 10, 180]))),
  );
  if (!ready.ok) throw new Error(ready.error.message);
  return findTraps(ready.value, up);
}

test('wholly in the bath the lower hole keeps gas and the upper one liquid, 2 mL each', () => {
  const whole = trapsInBath(traps([0, 0, 1]), 1e-3, undefined);
  expect(whole.gas.map(({ volume }) => Math.round(volume))).toEqual([2000]);
  expect(whole.liquid.map(({ volume }) => Math.round(volume))).toEqual([2000]);
  expect(whole.shut).toEqual([]);
});

test('150 mm deep, gas stays under it and the hole above the level holds nothing', () => {
  const hung = trapsInBath(traps([0, 0, 1]), 1e-3, 150);
  expect(hung.gas).toHaveLength(1);
  expect(hung.liquid).toEqual([]);
  expect(hung.shut).toEqual([]);
});

test('the level between floor and rim: nothing runs in over the rim; at the rim it does', () => {
  const between = trapsInBath(traps([0, 0, 1]), 1e-3, 190);
  expect(between.liquid).toEqual([]);
  expect(between.shut.map(({ volume }) => Math.round(volume))).toEqual([2000]);
  expect(trapsInBath(traps([0, 0, 1]), 1e-3, 200.001).liquid).toHaveLength(1);
});

test('the other way up the heights are those along that way', () => {
  // Up is −z: heights run from −200 to 0; 150 deep is −50.
  const over = trapsInBath(traps([0, 0, -1]), 1e-3, -50);
  expect(over.gas.map(({ volume }) => Math.round(volume))).toEqual([2000]);
  expect(over.liquid).toEqual([]);
  // With nothing in the liquid but less than the lower hole's rim no gas is kept either.
  expect(trapsInBath(traps([0, 0, -1]), 1e-3, -200.001).gas).toEqual([]);
});

test('a dent as deep as a film of liquid is no pocket; a wide one and a pin hole are', () => {
  const dented = (x: number, depth: number) => {
    const dent = kernel.Manifold.cube([x, x, 1]).translate([10, 10, 20 - depth]);
    const ready = prepareTrapMesh(meshOf(kernel.Manifold.cube([30, 30, 20]).subtract(dent)));
    if (!ready.ok) throw new Error(ready.error.message);
    return findTraps(ready.value, [0, 0, 1]);
  };
  // 2 × 2 mm, 0.02 deep: 0.08 mm³.
  expect(dented(2, 0.02).liquid).toHaveLength(1);
  expect(trapsInBath(dented(2, 0.02), 1e-3, undefined).liquid).toEqual([]);
  // 10 × 10, 0.02 deep: 2 mm³; and a pin hole of 0.5 × 0.5, 0.5 deep.
  expect(trapsInBath(dented(10, 0.02), 1e-3, undefined).liquid).toHaveLength(1);
  expect(trapsInBath(dented(0.5, 0.5), 1e-3, undefined).liquid).toHaveLength(1);
});
