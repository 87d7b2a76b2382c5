import { beforeAll, describe, expect, it } from 'vitest';
import { boreReach } from '../../../core/faces/bore-ends.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { roundFeatures } from '../../../core/finish/round-features.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { contactGround } from '../../../core/racking/contact-ground.ts';
import { roundClampPlaces } from '../../../core/racking/round-clamps.ts';
import { findRoundPlaces } from '../../../core/racking/round-places.ts';
import { soupOf, startManifold } from '../racking/solids.ts';

let kernel: Awaited<ReturnType<typeof startManifold>>;
beforeAll(async () => {
  kernel = await startManifold();
});

type Solid = Parameters<typeof soupOf>[0];
const SIDES = 48;
const rod = (length: number, radius: number): Solid =>
  kernel.Manifold.cylinder(length, radius, radius, SIDES);
const cone = (length: number, low: number, high: number): Solid =>
  kernel.Manifold.cylinder(length, low, high, SIDES);
/** 60 × 60 × 40, its top at z = 40. */
const block = (): Solid => kernel.Manifold.cube([60, 60, 40], true).translate([0, 0, 20]);

const analyse = (positions: Float32Array) =>
  analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });

/** How the bores of one radius go, as the adviser and as the fits see them, which must be the same. */
function reaches(positions: Float32Array, radius: number): (string | null)[] {
  const part = analyse(positions);
  const adviser = findRoundPlaces(part)
    .filter((place) => place.inward && Math.abs(place.radius / radius - 1) < 0.02)
    .map(({ ends }) => boreReach(ends!));
  const fits = roundFeatures(part, 1e-3)
    .filter(({ shape, diameterM }) => shape === 'hole' && Math.abs((500 * diameterM) / radius - 1) < 0.02)
    .map(({ reach }) => reach);
  expect(fits).toEqual(adviser);
  return adviser;
}

describe('how a bore ends, by what it was cut with', () => {
  /** What is cut from the block, the radius of the bore looked at, and how it goes. */
  const cases: readonly (readonly [string, () => Solid, number, readonly string[]])[] = [
    ['through', () => rod(80, 4).translate([0, 0, -20]), 4, ['through']],
    ['with a flat floor', () => rod(80, 4).translate([0, 0, 20]), 4, ['blind']],
    // 118°, 90° and 75°: a point r / tan of half of it deep.
    ...([118, 90, 75] as const).map((deg) => {
      const deep = 4 / Math.tan((deg * Math.PI) / 360);
      const cut = (): Solid =>
        rod(80, 4)
          .add(cone(deep, 0, 4).translate([0, 0, -deep]))
          .translate([0, 0, 20]);
      return [`with a drill’s point of ${deg}°`, cut, 4, ['blind']] as const;
    }),
    [
      'with a ball’s floor, which meets the wall smoothly',
      () => rod(80, 4).add(kernel.Manifold.sphere(4, SIDES)).translate([0, 0, 20]),
      4,
      ['blind'],
    ],
    [
      'with a sloped floor',
      () =>
        rod(80, 4)
          .translate([0, 0, 10])
          .subtract(kernel.Manifold.cube([60, 60, 20], true).rotate([0, 35, 0]).translate([0, 0, 5])),
      4,
      ['blind'],
    ],
    // M6 cap screw, DIN 974 row 1: 11 over 6.6.
    [
      'a counterbore over a smaller hole',
      () =>
        rod(80, 3.3)
          .translate([0, 0, -20])
          .add(rod(80, 5.5).translate([0, 0, 33])),
      5.5,
      ['through'],
    ],
    [
      'the hole below a counterbore',
      () =>
        rod(80, 3.3)
          .translate([0, 0, -20])
          .add(rod(80, 5.5).translate([0, 0, 33])),
      3.3,
      ['through'],
    ],
    [
      'stepped, blind below',
      () =>
        rod(80, 3.3)
          .translate([0, 0, 10])
          .add(rod(80, 5.5).translate([0, 0, 30])),
      3.3,
      ['blind'],
    ],
    [
      'with a pin hole in its floor',
      () =>
        rod(80, 5)
          .translate([0, 0, 20])
          .add(rod(80, 0.5).translate([0, 0, -20])),
      5,
      ['blind'],
    ],
    [
      'slit from end to end',
      () =>
        rod(80, 6)
          .translate([0, 0, -20])
          .add(kernel.Manifold.cube([40, 1, 100]).translate([0, -0.5, -20])),
      6,
      ['through'],
    ],
    [
      'crossed by a wider bore: both halves go on through it',
      () =>
        rod(80, 4)
          .translate([0, 0, -20])
          .add(rod(100, 7).rotate([0, 90, 0]).translate([-50, 0, 20])),
      4,
      ['through', 'through'],
    ],
    [
      'ending in a wider bore across it',
      () =>
        rod(80, 3)
          .translate([0, 0, 20])
          .add(rod(100, 9).rotate([0, 90, 0]).translate([-50, 0, 20])),
      3,
      ['through'],
    ],
    [
      'ending in a narrow slot across it: its far wall stands in front',
      () =>
        rod(80, 4)
          .translate([0, 0, 20])
          .add(kernel.Manifold.cube([100, 30, 6], true).translate([0, 0, 18])),
      4,
      ['blind'],
    ],
    [
      'ending in a slot a diameter and more across',
      () =>
        rod(80, 4)
          .translate([0, 0, 20])
          .add(kernel.Manifold.cube([100, 30, 18], true).translate([0, 0, 19])),
      4,
      ['through'],
    ],
    [
      'through a sloped face',
      () => rod(120, 4).translate([0, 0, -60]).rotate([0, 30, 0]).translate([0, 0, 20]),
      4,
      ['through'],
    ],
    ['a sealed void', () => rod(20, 4).translate([0, 0, 10]), 4, ['shut']],
  ];

  it.each(cases)('%s', (_what, cut, radius, expected) => {
    expect(reaches(soupOf(block().subtract(cut())), radius)).toEqual(expected);
  });

  it.each(cases)('%s, turned and in inches', (_what, cut, radius, expected) => {
    const turned = block()
      .subtract(cut())
      .rotate([17, -41, 73])
      .translate([5, -3, 8])
      .scale(1 / 25.4);
    expect(reaches(soupOf(turned), radius / 25.4)).toEqual(expected);
  });
});

describe('where the mesh has a gap', () => {
  const without = (
    positions: Float32Array,
    drop: (x: number, y: number, z: number) => boolean,
  ): Float32Array => {
    const kept: number[] = [];
    for (let i = 0; i < positions.length; i += 9) {
      const middle = [0, 1, 2].map(
        (axis) => (positions[i + axis] + positions[i + 3 + axis] + positions[i + 6 + axis]) / 3,
      );
      if (!drop(middle[0], middle[1], middle[2])) kept.push(...positions.subarray(i, i + 9));
    }
    return Float32Array.from(kept);
  };
  const blind = (): Float32Array => soupOf(block().subtract(rod(80, 4).translate([0, 0, 20])));
  const near = (x: number, y: number): boolean => Math.hypot(x, y) < 4;

  it('a floor that is missing leaves it not known whether the bore goes through', () => {
    expect(reaches(blind(), 4)).toEqual(['blind']);
    expect(
      reaches(
        without(blind(), (x, y, z) => Math.abs(z - 20) < 0.1 && near(x, y)),
        4,
      ),
    ).toEqual(['unknown']);
  });

  it('so does one that is missing with all that lies beyond it', () => {
    const gone = without(blind(), (x, y, z) => (Math.abs(z - 20) < 0.1 && near(x, y)) || z < 0.1);
    expect(reaches(gone, 4)).toEqual(['unknown']);
  });

  it('a gap elsewhere changes nothing', () => {
    expect(
      reaches(
        without(blind(), (x) => x < -29.9),
        4,
      ),
    ).toEqual(['blind']);
    const through = soupOf(block().subtract(rod(80, 4).translate([0, 0, -20])));
    expect(
      reaches(
        without(through, (x) => x < -29.9),
        4,
      ),
    ).toEqual(['through']);
  });

  it('the adviser says so instead of calling it blind or through', () => {
    const part = analyse(without(blind(), (x, y, z) => Math.abs(z - 20) < 0.1 && near(x, y)));
    const { surface, rounds, vents } = contactGround(part);
    const kinds = roundClampPlaces(surface, rounds, vents, [0, 0, 1], [0, 0, 20], 1e-3).map(
      ({ kind }) => kind,
    );
    expect(kinds).toEqual(['hole']);
  });
});

it('nothing to look at is nothing found', () => {
  expect(reaches(soupOf(block()), 4)).toEqual([]);
});
