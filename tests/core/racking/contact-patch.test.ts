import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverageFlags } from '../../../core/faces/coverage-flags.ts';
import { runsOfFaces } from '../../../core/faces/runs-of-faces.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { contactPatches, type PatchPin } from '../../../core/racking/contact-patch.ts';
import { clipHalfPlane, discArea } from '../../../core/racking/disc-area.ts';
import { box, cylinder, placed, quartered, sphere, torus, tube, type Point } from '../../fixtures/shapes.ts';

const analyse = (positions: Float32Array): PartGeometry =>
  analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
const bare = (part: PartGeometry): Uint8Array => new Uint8Array(part.triangleCount);

/** A pin at the point of the surface that is nearest to `to`, found by trying every triangle's middle and corners. */
function pinNear(part: PartGeometry, to: Point, radius: number, facing: Point): PatchPin {
  let best = { distance: Infinity, triangle: -1 };
  for (let t = 0; t < part.triangleCount; t++) {
    const normal = part.graph.normals.subarray(3 * t, 3 * t + 3);
    if (normal[0] * facing[0] + normal[1] * facing[1] + normal[2] * facing[2] < 0.5) continue;
    const distance = distanceToTriangle(part.positions.subarray(9 * t, 9 * t + 9), to);
    if (distance < best.distance) best = { distance, triangle: t };
  }
  return { at: to, triangle: best.triangle, radius };
}

function distanceToTriangle(p: Float32Array, to: Point): number {
  let best = Infinity;
  for (let i = 0; i <= 20; i++) {
    for (let j = 0; i + j <= 20; j++) {
      const [u, v] = [i / 20, j / 20];
      best = Math.min(
        best,
        Math.hypot(...[0, 1, 2].map((k) => p[k] * (1 - u - v) + p[3 + k] * u + p[6 + k] * v - to[k])),
      );
    }
  }
  return best;
}

describe('disc and polygon', () => {
  const square = [-1, -1, 1, -1, 1, 1, -1, 1];

  it('gives the disc inside, the polygon inside, and the circular segment between', () => {
    expect(discArea(square, 0.5)).toBeCloseTo(Math.PI / 4, 14);
    expect(discArea(square, 2)).toBeCloseTo(4, 14);
    // Disc r 1.2 in the square: four segments of half-angle acos(1/1.2) cut off (Bronshtein, 3.3).
    const half = Math.acos(1 / 1.2);
    expect(discArea(square, 1.2)).toBeCloseTo(
      1.44 * Math.PI - 4 * (1.44 / 2) * (2 * half - Math.sin(2 * half)),
      13,
    );
    expect(
      discArea(
        square.map((x, i) => (i % 2 ? x : x + 10)),
        2,
      ),
    ).toBeCloseTo(0, 13);
    expect(discArea(square, 0)).toBe(0);
  });

  it('of sides shorter than any digit is nothing, not no number', () => {
    expect(discArea([-4e-5, -1.6e-162, 0, 0, 0, 2e-146], 0.01)).toBeCloseTo(0, 15);
    const halves = [1, -1].map((sign) =>
      discArea(clipHalfPlane([-4e-5, -1.6e-162, 0, 0, 0, 2e-146], 0, -3e-123 * sign, 0), 0.01),
    );
    expect(halves[0]! + halves[1]!).toBeCloseTo(0, 15);
  });

  it('is additive when a polygon is cut, whatever the cut', () => {
    const number = fc.double({ min: -2, max: 2, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(number, { minLength: 6, maxLength: 6 }),
        number,
        number,
        number,
        fc.double({ min: 0.01, max: 3, noNaN: true }),
        (triangle, a, b, c, radius) => {
          const parts =
            discArea(clipHalfPlane(triangle, a, b, c), radius) +
            discArea(clipHalfPlane(triangle, -a, -b, -c), radius);
          const size = a === 0 && b === 0 && c === 0 ? 2 : 1;
          expect(parts).toBeCloseTo(size * discArea(triangle, radius), 9);
        },
      ),
    );
  });
});

describe('contact patch, closed forms', () => {
  const plate = analyse(box(80, 60, 6));
  const fine = analyse(quartered(quartered(quartered(box(80, 60, 6)))));
  const up: Point = [0, 0, 1];

  it('is a disc on a plate, however the plate is cut into triangles', () => {
    for (const part of [plate, fine]) {
      for (const [x, y] of [
        [40, 30],
        [23.7, 41.1],
        [10, 10],
      ]) {
        // prettier-ignore
        const [patch] = contactPatches(part, bare(part), [pinNear(part, [x, y, 6], 4, up)]);
        expect(patch.area).toBeCloseTo(Math.PI * 16, 10);
        expect(patch.faces.map((face) => face.row)).toEqual([
          part.faces.faceOfTriangle[pinNear(part, [x, y, 6], 4, up).triangle],
        ]);
      }
    }
  });

  it('does not reach through a thin wall, nor over the edge of a plate', () => {
    // Radius 9 is more than the thickness 6: the ball reaches the far side.
    const [through] = contactPatches(fine, bare(fine), [pinNear(fine, [40, 30, 6], 9, up)]);
    expect(through.area).toBeCloseTo(Math.PI * 81, 9);
    // On the edge itself: half a disc; on the corner: a quarter.
    const [edge] = contactPatches(fine, bare(fine), [pinNear(fine, [40, 0, 6], 5, up)]);
    expect(edge.area).toBeCloseTo((Math.PI * 25) / 2, 10);
    const [corner] = contactPatches(fine, bare(fine), [pinNear(fine, [0, 0, 6], 5, up)]);
    expect(corner.area).toBeCloseTo((Math.PI * 25) / 4, 10);
    // 3 inside the edge: disc less a segment of half-angle acos(3/5).
    const half = Math.acos(3 / 5);
    const [near] = contactPatches(fine, bare(fine), [pinNear(fine, [40, 3, 6], 5, up)]);
    expect(near.area).toBeCloseTo(25 * Math.PI - (25 / 2) * (2 * half - Math.sin(2 * half)), 10);
  });

  it('is the cap π r² on a sphere', () => {
    // Archimedes: a ball of radius r about a point of a sphere cuts off a cap of area π r², whatever the sphere.
    const part = analyse(sphere(20, 256, 128));
    const [patch] = contactPatches(part, bare(part), [pinNear(part, [20, 0, 0], 6, [1, 0, 0])]);
    // Facets of 1.4° and 1.4°: area error θ²/6 = 1e-4, twice for the chord's shift.
    expect(Math.abs(patch.area / (Math.PI * 36) - 1)).toBeLessThan(5e-4);
  });

  it('covers a thin rod on one side only', () => {
    // Pad much larger than the rod: the half of the rod that faces it, as long as the ball reaches. Brute: 2·∫ z(φ) r dφ.
    const part = analyse(placed(cylinder(1, 100, 360), { shift: [0, 0, -50] }));
    const pin = pinNear(part, [1, 0, 0], 8, [1, 0, 0]);
    const [patch] = contactPatches(part, bare(part), [pin]);
    let expected = 0;
    const steps = 20_000;
    for (let i = 0; i < steps; i++) {
      const angle = -Math.PI / 2 + (Math.PI * (i + 0.5)) / steps;
      expected += 2 * Math.sqrt(64 - ((1 - Math.cos(angle)) ** 2 + Math.sin(angle) ** 2)) * (Math.PI / steps);
    }
    // The facet at the turn of 90° belongs to one side: half a degree of 180.
    expect(Math.abs(patch.area / expected - 1)).toBeLessThan(0.006);
  });

  it('splits by treatment and names the show surface', () => {
    const part = analyse(box(80, 60, 6));
    const pin = pinNear(part, [40, 30, 6], 4, up);
    const row = part.faces.faceOfTriangle[pin.triangle];
    const runs = runsOfFaces(part.faces, [row]);
    const patch = (coverage: Parameters<typeof coverageFlags>[1]) =>
      contactPatches(part, coverageFlags(part.triangleCount, coverage), [pin])[0];
    const disc = Math.PI * 16;
    const none: number[] = [];
    expect(patch({ mask: none, contact: none, show: none })).toMatchObject({
      masked: 0,
      contact: 0,
      shown: 0,
    });
    expect(patch({ mask: runs, contact: runs, show: runs }).masked).toBeCloseTo(disc, 10);
    expect(patch({ mask: runs, contact: runs, show: runs }).coated).toBe(0);
    expect(patch({ mask: none, contact: runs, show: none }).contact).toBeCloseTo(disc, 10);
    expect(patch({ mask: none, contact: none, show: runs }).shown).toBeCloseTo(disc, 10);
  });
});

describe('overlapping pads', () => {
  const part = analyse(quartered(quartered(box(80, 60, 6))));
  const up: Point = [0, 0, 1];

  it('cover the union of two discs', () => {
    for (const [r, s, d] of [
      [4, 4, 3],
      [4, 3, 5],
      [5, 2, 4.5],
      [5, 2, 2],
      [3, 3, 7],
    ]) {
      // prettier-ignore
      const patches = contactPatches(part, bare(part), [
        pinNear(part, [30, 30, 6], r, up),
        pinNear(part, [30 + d, 30, 6], s, up),
      ]);
      expect(patches[0].area + patches[1].area).toBeCloseTo(Math.PI * (r * r + s * s) - lens(r, s, d), 9);
    }
  });

  it('count the same pad set twice once, and lose nothing to a pad on the other side', () => {
    const pin = pinNear(part, [30, 30, 6], 4, up);
    const [first, second] = contactPatches(part, bare(part), [pin, pin]);
    expect(first.area).toBeCloseTo(Math.PI * 16, 10);
    expect(second.area).toBe(0);
    // Jaws of one clamp: a large pad below must not take the small one above.
    const jaws = contactPatches(part, bare(part), [
      pinNear(part, [30, 30, 6], 2, up),
      pinNear(part, [30, 30, 0], 9, [0, 0, -1]),
    ]);
    expect(jaws.map((jaw) => jaw.area / Math.PI)).toEqual([expect.closeTo(4, 10), expect.closeTo(81, 9)]);
  });

  it('agree with brute force for several pads on curved surfaces', () => {
    const surfaces = [tube(12.5, 10, 40, 32), torus(30, 8, 48, 24)].map(analyse);
    fc.assert(
      fc.property(
        fc.constantFrom(...surfaces),
        fc.array(fc.tuple(fc.nat(), fc.double({ min: 1, max: 5, noNaN: true })), {
          minLength: 1,
          maxLength: 4,
        }),
        (surface, choices) => {
          const around = choices[0][0] % surface.triangleCount;
          const pins = choices.map(([n, radius], i): PatchPin => {
            // Near the first, so that they overlap.
            const t = i === 0 ? around : (around + (n % 40)) % surface.triangleCount;
            return { at: middleOf(surface, t), triangle: t, radius };
          });
          const patches = contactPatches(surface, bare(surface), pins);
          const total = patches.reduce((sum, patch) => sum + patch.area, 0);
          const brute = bruteForce(surface, pins);
          // 256 cells a triangle: each cell counts whole or not; the rim of the patch decides the error.
          const cell = Math.sqrt(Math.max(...surface.triangleAreas)) / 8;
          const rim = pins.reduce((sum, pin) => sum + 2 * Math.PI * pin.radius, 0);
          expect(Math.abs(total - brute)).toBeLessThan(0.5 * cell * rim);
        },
      ),
      { numRuns: 25 },
    );
  });

  /** Lens of two circles (Bronshtein and Semendyayev, 3.3; two circular segments). */
  function lens(r: number, s: number, d: number): number {
    if (d >= r + s) return 0;
    if (d <= Math.abs(r - s)) return Math.PI * Math.min(r, s) ** 2;
    const a = Math.acos((d * d + r * r - s * s) / (2 * d * r));
    const b = Math.acos((d * d + s * s - r * r) / (2 * d * s));
    return r * r * (a - Math.sin(2 * a) / 2) + s * s * (b - Math.sin(2 * b) / 2);
  }

  function middleOf(surface: PartGeometry, t: number): Point {
    return [0, 1, 2].map(
      (k) =>
        (surface.positions[9 * t + k] + surface.positions[9 * t + 3 + k] + surface.positions[9 * t + 6 + k]) /
        3,
    ) as unknown as Point;
  }

  /**
   * Every triangle cut in 256, a cell counts when its middle is in the ball of a pin that reaches it: reached is
   * found anew, by joining cells that share a corner, lie in the ball and face the pin.
   */
  function bruteForce(surface: PartGeometry, pins: readonly PatchPin[]): number {
    const parts = 16;
    const covered = new Set<number>();
    const cells: { middle: Point; area: number; triangle: number }[] = [];
    const byTriangle = new Map<number, number[]>();
    for (let t = 0; t < surface.triangleCount; t++) {
      const p = surface.positions.subarray(9 * t, 9 * t + 9);
      if (!pins.some((pin) => distanceToTriangle(p, pin.at) < pin.radius + 3)) continue;
      const at = (i: number, j: number): Point =>
        [0, 1, 2].map(
          (k) => p[k] + ((p[3 + k] - p[k]) * i + (p[6 + k] - p[k]) * j) / parts,
        ) as unknown as Point;
      const own: number[] = [];
      for (let i = 0; i < parts; i++) {
        for (let j = 0; i + j < parts; j++) {
          own.push(cells.length);
          cells.push({
            middle: at(i + 1 / 3, j + 1 / 3),
            area: surface.triangleAreas[t] / parts ** 2,
            triangle: t,
          });
          if (i + j + 1 < parts) {
            own.push(cells.length);
            cells.push({
              middle: at(i + 2 / 3, j + 2 / 3),
              area: surface.triangleAreas[t] / parts ** 2,
              triangle: t,
            });
          }
        }
      }
      byTriangle.set(t, own);
    }
    for (const pin of pins) {
      const inBall = (cell: number): boolean =>
        Math.hypot(...[0, 1, 2].map((k) => cells[cell].middle[k] - pin.at[k])) < pin.radius;
      const facing = (t: number): boolean =>
        [0, 1, 2].reduce(
          (sum, k) => sum + surface.graph.normals[3 * t + k] * surface.graph.normals[3 * pin.triangle + k],
          0,
        ) > 1e-3;
      // Triangles hang together when cells of both lie in the ball and the triangles share a corner pair.
      const reached = new Set([pin.triangle]);
      for (const t of reached) {
        for (const other of byTriangle.keys()) {
          if (reached.has(other) || !facing(other) || sharedCorners(surface, t, other) < 2) continue;
          if (byTriangle.get(other)!.some(inBall) && byTriangle.get(t)!.some(inBall)) reached.add(other);
        }
      }
      for (const t of reached)
        for (const cell of byTriangle.get(t) ?? []) if (inBall(cell)) covered.add(cell);
    }
    let area = 0;
    for (const cell of covered) area += cells[cell].area;
    return area;
  }

  function sharedCorners(surface: PartGeometry, t: number, u: number): number {
    const corners = surface.graph.indexed.triangles;
    let shared = 0;
    for (let i = 3 * t; i < 3 * t + 3; i++) {
      for (let j = 3 * u; j < 3 * u + 3; j++) if (corners[i] === corners[j]) shared++;
    }
    return shared;
  }
});

describe('arguments', () => {
  it('refuses pins that are not on the part and flags of another part', () => {
    const part = analyse(box(1, 1, 1));
    const pin: PatchPin = { at: [0, 0, 0], triangle: 0, radius: 1 };
    expect(() => contactPatches(part, new Uint8Array(3), [pin])).toThrow(RangeError);
    expect(() => contactPatches(part, bare(part), [{ ...pin, triangle: 12 }])).toThrow(RangeError);
    expect(() => contactPatches(part, bare(part), [{ ...pin, radius: 0 }])).toThrow(RangeError);
    expect(() => contactPatches(part, bare(part), [{ ...pin, at: [NaN, 0, 0] }])).toThrow(RangeError);
    expect(contactPatches(part, bare(part), [])).toEqual([]);
  });
});
