/**
 * Areas over triangles on cylinder, cone, sphere and torus against closed forms: 2πrh, π(r₁ + r₂)s, 4πR², 4π²Rr, an octant of a sphere, and that they do not
 * depend on how a patch is cut.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Axial, turnTo } from '../../../core/faces/surfaces/axial.ts';
import { ConeSurface } from '../../../core/faces/surfaces/cone-surface.ts';
import { CylinderSurface } from '../../../core/faces/surfaces/cylinder-surface.ts';
import type { KnownSurface, Point } from '../../../core/faces/surfaces/known-surface.ts';
import { SphereSurface } from '../../../core/faces/surfaces/sphere-surface.ts';
import { TorusSurface } from '../../../core/faces/surfaces/torus-surface.ts';

const PI = Math.PI;
const about = new Axial([0, 0, 0], [0, 0, 1]);

/** Area of a patch over a grid of `across` by `up` quads, u and v from 0 to 1. */
function patch(
  surface: KnownSurface,
  place: (u: number, v: number) => Point,
  across: number,
  up: number,
): number {
  let area = 0;
  for (let i = 0; i < across; i++) {
    for (let k = 0; k < up; k++) {
      const [a, b, c, d] = (
        [
          [i, k],
          [i + 1, k],
          [i + 1, k + 1],
          [i, k + 1],
        ] as const
      ).map(([x, y]) => place(x / across, y / up));
      area += surface.areaOver(a!, b!, c!) + surface.areaOver(a!, c!, d!);
    }
  }
  return area;
}

const round = (radius: number, height: number, turn: number): Point => [
  radius * Math.cos(turn),
  radius * Math.sin(turn),
  height,
];

describe('a patch drawn with few triangles has the area of the surface', () => {
  it('cylinder 2πrh', () => {
    const area = patch(new CylinderSurface(about, 7), (u, v) => round(7, 20 * v, 2 * PI * u), 12, 3);
    expect(area).toBeCloseTo(2 * PI * 7 * 20, 9);
  });

  it('cone: a quarter less what lies between chords and arcs of its rims, unrolled', () => {
    const [low, high, half] = [3, 8, 0.4];
    const place = (u: number, v: number): Point => {
      const radius = low + (high - low) * v;
      return round(radius, radius / Math.tan(half), (PI / 2) * u);
    };
    const surface = new ConeSurface(about, half);
    const whole = (PI / 4) * (low + high) * ((high - low) / Math.sin(half));
    // Sectors of the unrolled cone, and triangles in them.
    const angle = (PI / 2) * Math.sin(half);
    const lacks = (n: number): number => {
      const segment = (radius: number): number =>
        ((radius / Math.sin(half)) ** 2 / 2) * (angle - n * Math.sin(angle / n));
      return segment(high) - segment(low);
    };
    expect(patch(surface, place, 4, 2)).toBeCloseTo(whole - lacks(4), 9);
  });

  it('sphere: an octant is πR²/2 in one triangle', () => {
    const surface = new SphereSurface([1, 2, 3], 5);
    expect(surface.areaOver([6, 2, 3], [1, 7, 3], [1, 2, 8])).toBeCloseTo((PI * 25) / 2, 9);
    expect(surface.areaOver([1, 7, 3], [6, 2, 3], [1, 2, 8])).toBeCloseTo((-PI * 25) / 2, 9);
  });

  it('torus 4π²Rr', () => {
    const place = (u: number, v: number): Point =>
      round(20 + 4 * Math.cos(2 * PI * v), 4 * Math.sin(2 * PI * v), 2 * PI * u);
    const area = patch(new TorusSurface(about, 20, 4), place, 16, 16);
    expect(area / (4 * PI * PI * 20 * 4)).toBeCloseTo(1, 4);
  });
});

it('however a cylinder’s patch is cut, by whatever needles, its area is the same', () => {
  const surface = new CylinderSurface(about, 5);
  const inside = fc.double({ min: 0.01, max: 0.99, noNaN: true });
  fc.assert(
    fc.property(inside, inside, (u, v) => {
      const corners = [round(5, 0, 0), round(5, 0, 0.5), round(5, 3, 0.5), round(5, 3, 0)];
      const middle = round(5, 3 * v, 0.5 * u);
      let area = 0;
      corners.forEach((corner, i) => (area += surface.areaOver(corner, corners[(i + 1) % 4]!, middle)));
      expect(area).toBeCloseTo(5 * 0.5 * 3, 9);
    }),
  );
});

it('a torus’s lines bow off the plane through a chord as parallels do: by half of what the pipe leans, times the sagitta', () => {
  const surface = new TorusSurface(about, 20, 4);
  // On top of the pipe a parallel lies in the plane that touches it there: off the chord by its own sagitta.
  const step = 0.1;
  const bow = surface.bow(round(20, 4, 0), round(20, 4, step));
  expect(Math.abs(bow)).toBeCloseTo(20 * (1 - Math.cos(step / 2)), 3);
  // Along the outer equator it stands upright on it.
  expect(surface.bow(round(24, 0, 0), round(24, 0, step))).toBeCloseTo(0, 9);
});

it('turns are taken the short way round', () => {
  expect(turnTo(3, -3)).toBeCloseTo(2 * PI - 6, 12);
  expect(turnTo(-3, 3)).toBeCloseTo(6 - 2 * PI, 12);
});
