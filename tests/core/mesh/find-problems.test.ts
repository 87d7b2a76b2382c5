import { describe, expect, it } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { box, cylinder, placed, Soup, sphere, torus, type Point } from '../../fixtures/shapes.ts';

const analyse = (positions: Float32Array): PartGeometry =>
  analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
const codes = (positions: Float32Array): string[] => analyse(positions).findings.map(({ code }) => code);
const found = (positions: Float32Array, code: string) =>
  analyse(positions).findings.find((finding) => finding.code === code);

function turnedOver(positions: Float32Array): Float32Array {
  const out = positions.slice();
  for (let i = 0; i < out.length; i += 9) {
    out.set(positions.subarray(i + 3, i + 6), i + 6);
    out.set(positions.subarray(i + 6, i + 9), i + 3);
  }
  return out;
}

describe('findings', () => {
  it('are none on sound solids', () => {
    for (const solid of [box(10, 20, 30), cylinder(10, 30, 24), torus(30, 8, 24, 16), sphere(20, 24, 12)]) {
      expect(codes(solid)).toEqual([]);
    }
  });

  it('each say in one sentence what is wrong and in one what to do', () => {
    const broken = new Soup().add(box(1, 1, 1).subarray(9)).add(box(1, 1, 1, [0.5, 0.5, 0.5])).positions;
    const { findings } = analyse(broken);
    expect(findings.length).toBeGreaterThan(1);
    for (const { message, remedy } of findings) {
      expect(message).toMatch(/^[A-Z0-9].*\.$/);
      expect(remedy).toMatch(/^[A-Z].*\.$/);
      expect(message).not.toMatch(/NaN|undefined|Infinity/);
    }
  });

  it('open edges: a missing triangle leaves three', () => {
    const part = analyse(box(10, 20, 30).subarray(9));
    expect(part.topology.openEdges).toBe(3);
    expect(part.closed).toBe(false);
    expect(part.findings.map(({ code }) => code)).toEqual(['open-edges']);
    // The three neighbours of the hole.
    expect(part.findings[0].triangles.length).toBe(3);
  });

  it('crowded edges: two boxes that share an edge', () => {
    const pair = new Soup().add(box(10, 10, 10)).add(box(10, 10, 10, [10, 10, 0])).positions;
    const part = analyse(pair);
    expect(part.topology.crowdedEdges).toBe(1);
    expect(part.findings.map(({ code }) => code)).toContain('crowded-edges');
    expect(part.topology.shellCount).toBe(2);
  });

  it('turned triangles: one of twelve the wrong way round', () => {
    const positions = box(10, 20, 30);
    positions.set(turnedOver(positions).subarray(0, 9));
    const part = analyse(positions);
    expect(part.topology.sameWayEdges).toBe(3);
    expect(part.closed).toBe(false);
    expect(part.findings.map(({ code }) => code)).toEqual(['turned-triangles']);
    // It stays with its face all the same, and the area is right.
    expect(part.faces.count).toBe(6);
    expect(part.area).toBeCloseTo(2200, 3);
  });

  it('degenerate triangles: collapsed and collinear ones add nothing and make no face of their own', () => {
    const positions = new Soup()
      .add(box(10, 20, 30))
      .polygon([0, 0, 0], [0, 0, 0], [10, 0, 0])
      .polygon([10, 0, 0], [10, 0, 0], [10, 0, 0]).positions;
    const part = analyse(positions);
    expect(part.topology.collapsedTriangles).toBe(2);
    expect(part.findings.map(({ code }) => code)).toEqual(['degenerate-triangles']);
    expect([...part.findings[0].triangles]).toEqual([12, 13]);
    expect(part.faces.count).toBe(6);
    expect(part.closed).toBe(true);
    expect(part.area).toBeCloseTo(2200, 3);
  });

  it('needles: a sliver along the middle of a side joins the faces it lies between', () => {
    // The top is fanned from a point put on its edge; the front keeps the whole edge; a flat sliver closes the gap.
    const top: Point[] = [
      [0, 0, 10],
      [10, 0, 10],
      [10, 10, 10],
      [0, 10, 10],
    ];
    const mid: Point = [4, 0, 10];
    const rest = box(10, 10, 10).filter((_, i) => Math.floor(i / 18) !== 1);
    const positions = new Soup()
      .add(rest)
      .polygon(mid, top[1], top[2])
      .polygon(mid, top[2], top[3])
      .polygon(mid, top[3], top[0])
      .polygon(top[0], top[1], mid).positions;
    const part = analyse(positions);
    expect(part.closed).toBe(true);
    expect(part.faces.count).toBe(6);
    expect(part.findings.map(({ code }) => code)).toEqual(['degenerate-triangles']);
  });

  it('duplicate triangles: once more, and once more turned over', () => {
    const solid = box(10, 20, 30);
    const doubled = new Soup().add(solid).add(solid.subarray(0, 9)).positions;
    expect([...found(doubled, 'duplicate-triangles')!.triangles]).toEqual([12]);
    const all = new Soup().add(solid).add(turnedOver(solid)).positions;
    expect(found(all, 'duplicate-triangles')!.triangles.length).toBe(12);
    // A leaf of two triangles back to back.
    const leaf = new Soup().polygon([0, 0, 0], [1, 0, 0], [0, 1, 0]).polygon([0, 0, 0], [0, 1, 0], [1, 0, 0]);
    expect([...found(leaf.positions, 'duplicate-triangles')!.triangles]).toEqual([1]);
  });

  it('inside out: the whole part, or one body of it', () => {
    const part = analyse(turnedOver(box(10, 20, 30)));
    expect(part.volume).toBeCloseTo(-6000, 2);
    expect(part.findings.map(({ code }) => code)).toEqual(['inside-out']);
    const one = new Soup().add(box(10, 10, 10)).add(turnedOver(box(5, 5, 5, [20, 0, 0]))).positions;
    expect([...found(one, 'inside-out')!.triangles]).toEqual(Array.from({ length: 12 }, (_, i) => 12 + i));
  });

  it('a closed cavity is no body inside out, but its walls see no bath', () => {
    const hollow = new Soup().add(box(30, 30, 30)).add(turnedOver(box(10, 10, 10, [5, 5, 5]))).positions;
    expect(codes(hollow)).toEqual(['closed-cavity']);
    // The same inner box in the hollow of a ring's box is outside the ring.
    const ring = new Soup().add(torus(30, 8, 48, 24)).add(turnedOver(box(4, 4, 4, [-2, -2, -2]))).positions;
    expect(codes(ring)).toEqual(['inside-out', 'bodies-apart']);
  });

  it('a foam of hundreds of hollows has them all', () => {
    const foam = new Soup().add(box(70, 70, 70));
    for (let i = 0; i < 343; i++) {
      const at: Point = [3 + 10 * (i % 7), 3 + 10 * (Math.floor(i / 7) % 7), 3 + 10 * Math.floor(i / 49)];
      foam.add(turnedOver(box(4, 4, 4, at)));
    }
    const part = analyse(foam.positions);
    expect(part.voids).toHaveLength(343);
    expect(part.voids.reduce((sum, { area }) => sum + area, 0)).toBeCloseTo(343 * 96, 3);
    expect(part.volume).toBeCloseTo(343_000 - 343 * 64, 1);
  });

  it('a body inside another is reported, and one that cuts or touches another', () => {
    expect(codes(new Soup().add(box(30, 30, 30)).add(box(10, 10, 10, [5, 5, 5])).positions)).toEqual([
      'bodies-meet',
    ]);
    expect(codes(new Soup().add(box(30, 30, 30)).add(box(10, 10, 40, [5, 5, 5])).positions)).toEqual([
      'bodies-meet',
    ]);
    expect(codes(new Soup().add(sphere(10, 32, 16)).add(placed(sphere(10, 32, 16), { shift: [19, 0, 0] })).positions)).toEqual(['bodies-meet']); // prettier-ignore
    expect(codes(new Soup().add(sphere(10, 32, 16)).add(placed(sphere(10, 32, 16), { shift: [20.1, 0, 0] })).positions)).toEqual(['bodies-apart']); // prettier-ignore
  });

  it('pieces that touch no other: bodies that meet are one, hollows go with theirs, crumbs and torn surfaces are none', () => {
    const pieces = (soup: Soup): number[][] => analyse(soup.positions).apart.map((piece) => [...piece]);
    const run = (from: number, count: number): number[] => Array.from({ length: count }, (_, i) => from + i);
    // A hollow block, two blocks that touch each other beside it, and a small one: largest surface first.
    const soup = new Soup()
      .add(box(2, 2, 2, [100, 0, 0]))
      .add(box(30, 30, 30))
      .add(turnedOver(box(10, 10, 10, [5, 5, 5])))
      .add(box(10, 10, 10, [50, 0, 0]))
      .add(box(10, 10, 10, [60, 0, 0]));
    expect(pieces(soup)).toEqual([run(12, 24), run(36, 24), run(0, 12)]);
    expect([...found(soup.positions, 'bodies-apart')!.triangles]).toEqual([...run(0, 12), ...run(36, 24)]);
    // A body inside another is one with it.
    expect(pieces(new Soup().add(box(30, 30, 30)).add(box(10, 10, 10, [5, 5, 5])))).toEqual([]);
    const crumb = new Soup().add(box(300, 300, 300)).add(box(0.5, 0.5, 0.5, [400, 0, 0]));
    expect(codes(crumb.positions)).toEqual(['stray-bodies']);
    expect(pieces(crumb)).toEqual([]);
    const torn = new Soup().add(box(10, 10, 10)).add(box(10, 10, 10, [20, 0, 0]).subarray(9));
    expect(codes(torn.positions)).toEqual(['open-edges']);
    expect(pieces(torn)).toEqual([]);
  });

  it('suspect size, coarse coordinates, no area', () => {
    expect(codes(box(1e-4, 1e-4, 1e-4))).toEqual(['suspect-size']);
    expect(codes(box(1e4, 1, 1))).toEqual(['suspect-size']);
    expect(codes(box(8, 4, 2))).toEqual([]);
    expect(codes(placed(box(16, 16, 16), { shift: [2 ** 20, 0, 0] }))).toContain('far-from-origin');
    const nothing = analyse(new Float32Array(9));
    expect(nothing.findings.map(({ code, level }) => [code, level])).toEqual([['no-area', 'stop']]);
    expect(nothing.faces.count).toBe(1);
  });
});
