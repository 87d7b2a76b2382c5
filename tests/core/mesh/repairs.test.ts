import { ShapeUtils, Vector2 } from 'three';
import { describe, expect, test } from 'vitest';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { applyRepairs } from '../../../core/mesh/apply-repairs.ts';
import { fillGaps, gapSizes } from '../../../core/mesh/fill-gaps.ts';
import { asSource } from '../../../core/mesh/source-triangles.ts';
import { surfaceArea } from '../../../core/mesh/surface-area.ts';
import { withOffers } from '../../../core/mesh/offer-repairs.ts';
import { proposeWeld } from '../../../core/mesh/weld-gaps.ts';
import type { Repair } from '../../../core/job/job-repairs.ts';
import { box, cylinder, placed, Soup, sphere, tube } from '../../fixtures/shapes.ts';

const cutPolygon = (contour: readonly { x: number; y: number }[]): number[][] =>
  ShapeUtils.triangulateShape(
    contour.map(({ x, y }) => new Vector2(x, y)),
    [],
  );
const repair = (positions: Float32Array, ...repairs: Repair[]) =>
  applyRepairs(asSource(positions), repairs, cutPolygon);
const analyse = (positions: Float32Array) => analysePart(positions, [], { splitAngleRad: 0.61 });
const soup = (...parts: Float32Array[]): Float32Array =>
  parts.reduce((all, part) => all.add(part), new Soup()).positions;
const turnedOver = (positions: Float32Array): Float32Array => {
  const over = positions.slice();
  for (let t = 0; t < over.length; t += 9) {
    over.set(positions.subarray(t + 6, t + 9), t + 3);
    over.set(positions.subarray(t + 3, t + 6), t + 6);
  }
  return over;
};

describe('weld', () => {
  /** Every second triangle's corners moved by up to 2 µm of a 20 mm ball, as a sloppy exporter rounds. */
  const torn = (): Float32Array => {
    const positions = sphere(10, 32, 16);
    for (let i = 0; i < positions.length; i++) {
      if (((i / 9) | 0) % 2 === 0) positions[i] += 2e-6 * ((((i * 7919) % 13) - 6) / 6);
    }
    return positions;
  };

  test('closes what rounding tore apart; the area stays', () => {
    const positions = torn();
    expect(analyse(positions).topology.openEdges).toBeGreaterThan(100);
    const proposed = proposeWeld(asSource(positions));
    expect(proposed).toMatchObject({ openEdges: 0 });
    const whole = repair(positions, { kind: 'weld', distance: proposed!.distance });
    expect(analyse(whole.positions).closed).toBe(true);
    expect(surfaceArea(whole.positions) / surfaceArea(sphere(10, 32, 16))).toBeCloseTo(1, 5);
    expect([...whole.sourceTriangle]).toEqual([...asSource(positions).sourceTriangle]);
  });

  const said = (positions: Float32Array) => {
    const geometry = analyse(positions);
    return withOffers(geometry);
  };

  test('what rounding tore is said to be torn; its pieces are not called bodies that touch', () => {
    const findings = said(torn());
    expect(findings.map(({ code }) => code)).toEqual(['open-edges']);
    expect(findings[0]!.message).toContain('differ in their last digits');
    expect(findings[0]!.offers).toEqual([
      { label: 'Join the torn edges', repair: { kind: 'weld', distance: expect.any(Number) as number } },
    ]);
    // A piece that is really missing is called a hole, torn edges beside it or not.
    for (const holed of [sphere(10, 32, 16).subarray(90), torn().subarray(90)]) {
      expect(said(holed).find(({ code }) => code === 'open-edges')!.message).toContain('holes');
    }
  });

  test('bodies that touch are told once the torn one among them is joined', () => {
    const ball = torn();
    const all = soup(ball, box(10, 10, 10, [9, -5, -5]));
    expect(said(all).map(({ code }) => code)).not.toContain('closed-cavity');
    const { distance } = proposeWeld(asSource(all))!;
    const whole = repair(all, { kind: 'weld', distance });
    expect(said(whole.positions).map(({ code }) => code)).toContain('bodies-meet');
  });

  test('leaves a closed thin sheet alone, however wide the distance', () => {
    const thin = box(10, 10, 0.01);
    expect(repair(thin, { kind: 'weld', distance: 1 }).positions).toBe(thin);
    expect(proposeWeld(asSource(thin))).toBeUndefined();
  });
});

describe('turn', () => {
  test.each([
    ['whole part inside out', turnedOver(box(1, 2, 3)), 6],
    ['some triangles turned', soup(box(1, 2, 3).subarray(0, 72), turnedOver(box(1, 2, 3)).subarray(72)), 6],
    ['one body of two', soup(box(1, 2, 3), turnedOver(box(1, 2, 3, [5, 0, 0]))), 12],
    ['inside out with its void', turnedOver(soup(box(4, 4, 4), turnedOver(box(1, 1, 1, [1, 1, 1])))), 63],
    ['ball loose in a void', soup(box(4, 4, 4), turnedOver(box(2, 2, 2, [1, 1, 1])), turnedOver(box(1, 1, 1, [1.5, 1.5, 1.5]))), 64 - 8 + 1], // prettier-ignore
  ])('%s: volume right again, area as it was', (_, positions, volume) => {
    const done = repair(positions, { kind: 'turn' });
    const geometry = analyse(done.positions);
    expect(geometry.volume).toBeCloseTo(volume, 5);
    expect(geometry.closed).toBe(true);
    expect(geometry.area).toBeCloseTo(surfaceArea(positions), 6);
    expect(geometry.findings.map(({ code }) => code)).not.toContain('inside-out');
    expect(geometry.findings.map(({ code }) => code)).not.toContain('turned-triangles');
  });

  test('a sound part, and the wall of a void, stay', () => {
    const hollow = soup(box(4, 4, 4), turnedOver(box(1, 1, 1, [1, 1, 1])));
    expect(repair(hollow, { kind: 'turn' }).positions).toBe(hollow);
  });
});

describe('drop', () => {
  test('a surface written twice counts once', () => {
    const positions = soup(box(1, 2, 3), box(1, 2, 3).subarray(0, 36));
    const done = repair(positions, { kind: 'drop-doubles' });
    expect(surfaceArea(done.positions)).toBeCloseTo(22, 6);
    expect(analyse(done.positions).closed).toBe(true);
    expect(done.steps[0]).toMatchObject({ trianglesAdded: -4 });
    expect(done.steps[0]!.areaBefore - done.steps[0]!.areaAfter).toBeCloseTo(2 + 2, 6);
  });

  test('the back-to-back walls of two touching cubes are no doubles', () => {
    const positions = soup(box(1, 1, 1), box(1, 1, 1, [1, 0, 0]));
    expect(repair(positions, { kind: 'drop-doubles' }).positions).toBe(positions);
  });

  test('lines go, and a stray body by its triangles of the file', () => {
    const line = Float32Array.of(0, 0, 0, 0, 0, 0, 1, 0, 0);
    const positions = soup(line, box(1, 1, 1), box(0.01, 0.01, 0.01, [3, 0, 0]));
    const done = repair(positions, { kind: 'drop-lines' }, { kind: 'drop', triangles: [13, 25] });
    expect(surfaceArea(done.positions)).toBeCloseTo(6, 6);
    expect([...done.sourceTriangle]).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  });
});

describe('fill', () => {
  test('the ends of an open pipe, as flat discs, and in the right direction', () => {
    const sides = 40;
    const whole = cylinder(5, 10, sides);
    const wall = whole.subarray(sides * 9, whole.length - sides * 9);
    expect(analyse(wall).topology.openEdges).toBe(2 * sides);
    const done = repair(wall, { kind: 'fill', size: 10.1 });
    const geometry = analyse(done.positions);
    expect(geometry.closed).toBe(true);
    expect(geometry.area).toBeCloseTo(surfaceArea(whole), 4);
    expect(geometry.volume).toBeCloseTo(analyse(whole).volume, 3);
    // Each end has one number beyond the file's, and both do.
    const filled = [...done.sourceTriangle].slice(wall.length / 9);
    expect(filled).toHaveLength(2 * (sides - 2));
    expect(Math.min(...filled)).toBeGreaterThanOrEqual(wall.length / 9);
    expect(new Set(filled).size).toBe(2);
    expect(done.sourceTriangle[0]).toBe(0);
  });

  test('reentrant holes too: an L cut into a plate', () => {
    // Top of the L-shaped prism left out: its outline has a reentrant corner.
    const outline: [number, number][] = [[0, 0], [3, 0], [3, 1], [1, 1], [1, 3], [0, 3]]; // prettier-ignore
    const walls = new Soup();
    outline.forEach(([x, y], i) => {
      const [nx, ny] = outline[(i + 1) % 6]!;
      walls.polygon([x, y, 0], [nx, ny, 0], [nx, ny, 2], [x, y, 2]);
    });
    const done = repair(walls.positions, { kind: 'fill', size: 4 });
    expect(analyse(done.positions)).toMatchObject({ closed: true });
    expect(surfaceArea(done.positions)).toBeCloseTo(12 * 2 + 2 * 5, 5);
    expect(analyse(done.positions).volume).toBeCloseTo(10, 5);
  });

  test('a hole larger than was said stays, and is counted', () => {
    const open = soup(box(1, 1, 1).subarray(18), box(9, 9, 9, [5, 0, 0]).subarray(18));
    expect(gapSizes(open).map((size) => Math.round(size * 1e6) / 1e6)).toEqual([1, 9]);
    const done = fillGaps(asSource(open), 2, cutPolygon, open.length / 9);
    expect(done).toMatchObject({ filled: 1, left: 1 });
  });
});

test('what fills a gap keeps its number when something else is repaired as well', () => {
  const pipe = tube(5, 3, 10, 24);
  const open = pipe.subarray(9 * 48);
  const stray = box(0.01, 0.01, 0.01, [20, 0, 0]);
  const positions = soup(open, stray);
  const total = positions.length / 9;
  const numbers = (...repairs: Repair[]): Set<number> =>
    new Set([...repair(positions, ...repairs).sourceTriangle].filter((source) => source >= total));
  const alone = numbers({ kind: 'fill', size: 12 });
  expect(alone.size).toBeGreaterThan(0);
  expect(numbers({ kind: 'drop', triangles: [total - 12, total] }, { kind: 'fill', size: 12 })).toEqual(
    alone,
  );
});

test('repairs in a row keep each triangle’s source, and each tells the area before and after', () => {
  const positions = soup(turnedOver(tube(5, 3, 10, 24)), box(0.01, 0.01, 0.01, [20, 0, 0]));
  const stray = positions.length / 9 - 12;
  const done = repair(positions, { kind: 'drop', triangles: [stray, stray + 12] }, { kind: 'turn' });
  expect(done.steps.map(({ repair }) => repair.kind)).toEqual(['drop', 'turn']);
  expect(done.steps[0]!.areaBefore - done.steps[0]!.areaAfter).toBeCloseTo(6e-4, 7);
  expect(done.steps[1]!.areaAfter).toBeCloseTo(done.steps[1]!.areaBefore, 6);
  done.sourceTriangle.forEach((source, t) => {
    const own = (from: Float32Array, at: number) => surfaceArea(from.subarray(9 * at, 9 * at + 9));
    expect(own(done.positions, t)).toBeCloseTo(own(positions, source), 6);
  });
  expect(placed(done.positions, {}).length).toBe(9 * stray);
});
