import { describe, expect, it } from 'vitest';
import { FACE_KINDS, faceId, faceRow } from '../../../core/faces/face-table.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import {
  arc,
  box,
  cylinder,
  extruded,
  frustum,
  placed,
  sphere,
  torus,
  tube,
  turned,
} from '../../fixtures/shapes.ts';
import { wavyTorus } from '../../bench/meshes.ts';

const TURN = [0.18257418583505536, 0.3651483716701107, 0.5477225575051661, 0.7302967433402214];
const analyse = (positions: Float32Array): PartGeometry =>
  analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });

interface Row {
  kind: string;
  size: number;
  inward: boolean;
  area: number;
}
function rows(part: PartGeometry): Row[] {
  return Array.from({ length: part.faces.count }, (_, row) => ({
    kind: FACE_KINDS[part.faces.kind[row]],
    size: part.faces.size[row],
    inward: part.faces.inward[row] === 1,
    area: part.faces.area[row],
  }));
}
const kinds = (part: PartGeometry): string[] =>
  rows(part)
    .map(({ kind, inward }) => (inward ? `${kind} in` : kind))
    .sort();

describe('bars', () => {
  it.each([
    ['hexagon 60°', 6, 8],
    ['octagon 45°', 8, 10],
    ['twelve sides 30°', 12, 3],
    ['round', 64, 3],
  ])('%s', (_, sides, faces) => {
    expect(analyse(cylinder(10, 40, sides)).faces.count).toBe(faces);
  });

  it('holds unevenly cut round bar together', () => {
    // Steps of 3° and 14° in turn: five times as wide, same curvature.
    const angles: number[] = [];
    for (let angle = 0, i = 0; angle < 2 * Math.PI - 0.05; angle += i++ % 2 === 0 ? 0.05 : 0.25)
      angles.push(angle);
    const part = analyse(turned([[0, 0], [10, 0], [10, 40], [0, 40]], angles.length, false, angles)); // prettier-ignore
    expect(kinds(part)).toEqual(['cylinder', 'plane', 'plane']);
  });
});

describe('recognised kinds and sizes', () => {
  const cases: [string, Float32Array, string, number, boolean][] = [
    ['cylinder', cylinder(12.7, 100, 12), 'cylinder', 12.7, false],
    ['fine cylinder', cylinder(12.7, 100, 360), 'cylinder', 12.7, false],
    ['bore', tube(12.5, 10, 100, 48), 'cylinder', 10, true],
    ['cone', frustum(20, 0, 30, 32), 'cone', Math.atan(20 / 30), false],
    ['frustum', frustum(20, 12, 30, 32), 'cone', Math.atan(8 / 30), false],
    ['sphere', sphere(20, 32, 16), 'sphere', 20, false],
    ['coarse sphere', sphere(20, 12, 6), 'sphere', 20, false],
    ['torus', torus(30, 8, 48, 24), 'torus', 8, false],
    ['coarse torus', torus(30, 8, 24, 12), 'torus', 8, false],
  ];
  it.each(cases)('%s, as drawn and turned, moved, scaled', (_, positions, kind, size, inward) => {
    for (const scale of [1, 0.02, 40]) {
      const moved = placed(positions, { turn: TURN, scale, shift: [3 * scale, -70 * scale, 20 * scale] });
      const match = rows(analyse(moved)).find((row) => row.kind === kind && row.inward === inward);
      expect(match, `${kind} at scale ${scale}`).toBeDefined();
      // Corners lie on the surface to float32 of a place 100 radii off: 1e-4 of the radius covers it.
      expect(match!.size / (kind === 'cone' ? size : size * scale)).toBeCloseTo(1, 4);
    }
  });

  it('gives axis and place', () => {
    const part = analyse(placed(tube(12.5, 10, 100, 48), { shift: [5, 6, 7] }));
    const bore = rows(part).findIndex((row) => row.inward);
    const axis = part.faces.axis.subarray(3 * bore, 3 * bore + 3);
    const point = part.faces.point.subarray(3 * bore, 3 * bore + 3);
    expect(Math.abs(axis[2])).toBeCloseTo(1, 6);
    expect(point[0]).toBeCloseTo(5, 4);
    expect(point[1]).toBeCloseTo(6, 4);
    const ball = analyse(placed(sphere(20, 32, 16), { shift: [5, 6, 7] }));
    expect([...ball.faces.point].map((x) => Math.round(1e4 * x) / 1e4)).toEqual([5, 6, 7]);
  });

  it('does not call an elliptic tube, a dome of an egg or a bent strip what they are not', () => {
    const outline = Array.from({ length: 48 }, (_, i): [number, number] => {
      const angle = (2 * Math.PI * i) / 48;
      return [12 * Math.cos(angle), 10 * Math.sin(angle)];
    });
    expect(kinds(analyse(extruded(outline, 40)))).toEqual(['free', 'plane', 'plane']);
    const egg = sphere(10, 32, 16).map((x, i) => (i % 3 === 2 ? 1.3 * x : x));
    expect(kinds(analyse(egg))).toEqual(['free']);
    // Two flats that meet at 20° fit a cylinder through their three edges: they are no cylinder.
    const bent = analyse(extruded([[0, 0], [20, -3.5], [40, 0], [40, 30], [0, 30]], 10)); // prettier-ignore
    expect(kinds(bent)).not.toContain('cylinder');
  });
});

describe('planes and bores beside their fillets', () => {
  const quarter = Math.PI / 2;
  const rounded = (radius: number, steps: number): Float32Array =>
    extruded(
      [
        ...arc(40 - radius, radius, radius, -quarter, 0, steps),
        ...arc(40 - radius, 30 - radius, radius, 0, quarter, steps),
        ...arc(radius, 30 - radius, radius, quarter, 2 * quarter, steps),
        ...arc(radius, radius, radius, 2 * quarter, 3 * quarter, steps),
      ],
      20,
    );

  it.each([
    [2, 3],
    [2, 8],
    [2, 32],
    [5, 3],
    [5, 6],
    [5, 16],
    [10, 4],
    [10, 16],
  ])('block 40 × 30 with corners r %d drawn in %d steps: 6 planes, 4 fillets', (radius, steps) => {
    const part = analyse(rounded(radius, steps));
    expect(kinds(part)).toEqual([...Array<string>(4).fill('cylinder'), ...Array<string>(6).fill('plane')]);
    for (const row of rows(part)) {
      if (row.kind === 'cylinder') expect(row.size).toBeCloseTo(radius, 3);
    }
    // Each plane keeps its whole area: 20 × (40 − 2r) and 20 × (30 − 2r).
    const sides = rows(part).filter((row) => row.kind === 'plane').map((row) => row.area).sort((a, b) => a - b); // prettier-ignore
    expect(sides.slice(0, 4).map((area) => Math.round(area))).toEqual([
      20 * (30 - 2 * radius),
      20 * (30 - 2 * radius),
      20 * (40 - 2 * radius),
      20 * (40 - 2 * radius),
    ]);
  });

  it.each([3, 4, 8, 16])('tube with all four rims rounded in %d steps', (steps) => {
    const profile = [
      ...arc(13, 2, 2, -quarter, 0, steps),
      ...arc(13, 38, 2, 0, quarter, steps),
      ...arc(12, 38, 2, quarter, 2 * quarter, steps),
      ...arc(12, 2, 2, 2 * quarter, 3 * quarter, steps),
    ];
    const part = analyse(placed(turned(profile, 64, true), { turn: TURN }));
    expect(kinds(part)).toEqual([
      'cylinder',
      'cylinder in',
      'plane',
      'plane',
      'torus',
      'torus',
      'torus',
      'torus',
    ]);
  });

  it('tube whose ends are half round: bore and shell stay apart', () => {
    const profile = [...arc(12, 2, 2, -2 * quarter, 0, 12), ...arc(12, 38, 2, 0, 2 * quarter, 12)];
    const part = analyse(turned(profile, 64, true));
    expect(kinds(part)).toEqual(['cylinder', 'cylinder in', 'torus', 'torus']);
  });

  it('slot: flat sides stand apart from its round ends', () => {
    const part = analyse(
      extruded([...arc(30, 10, 10, -quarter, quarter, 24), ...arc(10, 10, 10, quarter, 3 * quarter, 24)], 5),
    );
    expect(kinds(part)).toEqual(['cylinder', 'cylinder', 'plane', 'plane', 'plane', 'plane']);
  });
});

describe('fine and sculpted surfaces', () => {
  it('a sphere of half a million triangles is one face, although single turns are too small to count', () => {
    // Near the poles neighbours turn by less than the limit for one plane.
    expect(kinds(analyse(sphere(20, 1000, 250)))).toEqual(['sphere']);
  });

  it('a wavy ring stays one face', () => {
    expect(analyse(wavyTorus(200_000)).faces.count).toBe(1);
  });
});

describe('borders', () => {
  it('of a box: twelve, each 90° outwards, lengths of its edges', () => {
    const { borders } = analyse(box(10, 20, 30)).faces;
    expect(borders.a.length).toBe(12);
    borders.turnRad.forEach((turn) => expect(turn).toBeCloseTo(Math.PI / 2, 6));
    expect(borders.length.reduce((sum, length) => sum + length, 0)).toBeCloseTo(4 * 60, 4);
    borders.a.forEach((a, i) => expect(a).toBeLessThan(borders.b[i]));
  });

  it('turn inwards where a step meets its floor', () => {
    // A stepped shaft: the shoulder meets the thin end in a concave corner.
    const part = analyse(turned([[0, 0], [20, 0], [20, 10], [10, 10], [10, 30], [0, 30]], 64)); // prettier-ignore
    expect(part.faces.count).toBe(5);
    const turns = [...part.faces.borders.turnRad].map((turn) => Math.round((turn * 180) / Math.PI));
    expect(turns.sort((a, b) => a - b)).toEqual([-90, 90, 90, 90]);
    const concave = [...part.faces.borders.turnRad].findIndex((turn) => turn < 0);
    // 64 chords of the r 10 circle.
    expect(part.faces.borders.length[concave]).toBeCloseTo(64 * 20 * Math.sin(Math.PI / 64), 4);
  });
});

describe('ids', () => {
  it('read and write each other', () => {
    expect(faceRow(faceId(41))).toBe(41);
    for (const wrong of ['f0', '1', 'f', 'f-1', 'f1.5', 'g1']) expect(faceRow(wrong)).toBeUndefined();
  });
});
