/** The drawn parts as they lie in assets/demo: sound, as drawn, and true to closed forms and to manifold's own sums. */
import { readFileSync } from 'node:fs';
import loadManifold, { type Manifold, type ManifoldToplevel } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { DOVETAIL_PLATE, drawDovetailPlate } from '../../../main/demo/dovetail-plate.ts';
import { drawFocuserKnob, FOCUSER_KNOB } from '../../../main/demo/focuser-knob.ts';
import { drawTubeRing, TUBE_RING } from '../../../main/demo/tube-ring.ts';
import { plainArea, plainVolume } from '../../fixtures/model-bytes.ts';
import { expectRead } from '../../fixtures/read-for-test.ts';

const PARTS = {
  'dovetail-plate': drawDovetailPlate,
  'tube-ring': drawTubeRing,
  'focuser-knob': drawFocuserKnob,
} as const;
type PartName = keyof typeof PARTS;

let kit: ManifoldToplevel;
beforeAll(async () => {
  kit = await loadManifold();
  kit.setup();
});

function fileOf(name: PartName): Float32Array {
  const model = expectRead(`${name}.stl`, new Uint8Array(readFileSync(`assets/demo/${name}.stl`)));
  expect(model.notes).toEqual([]);
  expect(model.declaredUnit).toBe('mm');
  return model.positions;
}

/** Area of the regular polygon of `n` corners inscribed in a circle. */
function polygonArea(diameter: number, n: number): number {
  return (n / 2) * (diameter / 2) ** 2 * Math.sin((2 * Math.PI) / n);
}

/** Triangles all of whose corners satisfy `on`, as positions. */
function patch(positions: Float32Array, on: (x: number, y: number, z: number) => boolean): number[] {
  const kept: number[] = [];
  for (let i = 0; i < positions.length; i += 9) {
    const p = [...positions.subarray(i, i + 9)];
    if ([0, 3, 6].every((k) => on(p[k]!, p[k + 1]!, p[k + 2]!))) kept.push(...p);
  }
  return kept;
}

const near = (a: number, b: number): boolean => Math.abs(a - b) < 1e-4;

describe.each(Object.keys(PARTS) as PartName[])('%s', (name) => {
  it('is closed and oriented: each directed edge once, and once the other way', () => {
    const positions = fileOf(name);
    const edges = new Map<string, number>();
    const corner = (at: number): string => positions.subarray(at, at + 3).join();
    for (let i = 0; i < positions.length; i += 9) {
      for (let k = 0; k < 3; k++) {
        const edge = `${corner(i + k * 3)}|${corner(i + ((k + 1) % 3) * 3)}`;
        edges.set(edge, (edges.get(edge) ?? 0) + 1);
      }
    }
    for (const [edge, count] of edges) {
      expect(count).toBe(1);
      expect(edges.get(edge.split('|').reverse().join('|'))).toBe(1);
    }
    expect(positions.length / 9).toBeGreaterThan(2000);
    expect(positions.length / 9).toBeLessThan(20_000);
  });

  it('is what the script draws, by manifold’s own area and volume', () => {
    const drawn: Manifold = PARTS[name](kit);
    const positions = fileOf(name);
    expect(drawn.numTri()).toBe(positions.length / 9);
    // Corners are rounded to float32: 6e-8 of at most 100 mm over features of 0.8 mm and more.
    expect(plainArea(positions) / drawn.surfaceArea()).toBeCloseTo(1, 5);
    expect(plainVolume(positions) / drawn.volume()).toBeCloseTo(1, 5);
  });
});

describe('the mesh analysis', () => {
  it.each(Object.keys(PARTS) as PartName[])('finds %s closed and has nothing to say about it', (name) => {
    const positions = fileOf(name);
    const bodies = [{ name, firstTriangle: 0, triangleCount: positions.length / 9 }];
    const part = analysePart(positions, bodies, { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
    expect(part.closed).toBe(true);
    expect(part.findings).toEqual([]);
    expect(part.area / plainArea(positions)).toBeCloseTo(1, 12);
    expect(part.faces.area.reduce((sum, area) => sum + area, 0) / part.area).toBeCloseTo(1, 12);
  });
});

describe('closed forms', () => {
  it('dovetail plate: volume by slices, each piece exact by Simpson’s rule', () => {
    const { length, width, height, leanRad, chamfer, cornerCut, slot, holes } = DOVETAIL_PLATE;
    const lean = (height - 2 * chamfer) * Math.tan(leanRad);
    const half = width / 2;
    const knots = [
      [0, half - chamfer],
      [chamfer, half],
      [height - chamfer, half - lean],
      [height, half - lean - chamfer],
    ] as const;
    const section = (halfWidth: number): number =>
      2 * halfWidth * length - 2 * Math.max(0, halfWidth - (half - cornerCut)) ** 2;
    let volume = 0;
    for (let k = 0; k < 3; k++) {
      const [z0, w0] = knots[k]!;
      const [z1, w1] = knots[k + 1]!;
      // Where the corner cut leaves the section the square ends: another knot.
      const at = (half - cornerCut - w0) / (w1 - w0);
      const stops = at > 0 && at < 1 ? [0, at, 1] : [0, 1];
      for (let s = 0; s + 1 < stops.length; s++) {
        const w = (f: number): number => w0 + (w1 - w0) * (stops[s]! + (stops[s + 1]! - stops[s]!) * f);
        const depth = (z1 - z0) * (stops[s + 1]! - stops[s]!);
        volume += (depth / 6) * (section(w(0)) + 4 * section(w(0.5)) + section(w(1)));
      }
    }
    const slotArea = (l: number, w: number): number => (l - w) * w + polygonArea(w, 96);
    volume -=
      2 *
      (slotArea(slot.length, slot.width) * (height - slot.recessDepth) +
        slotArea(slot.recessLength, slot.recessWidth) * slot.recessDepth);
    volume -=
      4 *
      (polygonArea(holes.diameter, 96) * (height - holes.recessDepth) +
        polygonArea(holes.recessDiameter, 96) * holes.recessDepth);
    expect(plainVolume(fileOf('dovetail-plate')) / volume).toBeCloseTo(1, 6);
  });

  it('tube ring: outer size, foot, bore wall', () => {
    const positions = fileOf('tube-ring');
    const { bore, outside, width, chamfer, facets, foot, tapped, ears, groove } = TUBE_RING;
    const step = Math.PI / facets;
    // The parting line takes the outermost corner away; the facet there leans by half a step.
    const reach = outside / 2 - (groove.width / 2) * Math.tan(step);
    const bounds = [0, 1, 2].map((axis) => {
      const along = positions.filter((_, i) => i % 3 === axis);
      return [Math.min(...along), Math.max(...along)];
    });
    expect(bounds).toEqual([
      [-Math.fround(reach), Math.fround(reach)].map((x) => expect.closeTo(x, 5)),
      [-width / 2, width / 2],
      [foot.bottom, ears.top],
    ]);
    const footArea = plainArea(patch(positions, (_x, _y, z) => near(z, foot.bottom)));
    expect(footArea).toBeCloseTo(
      (foot.width - 2 * foot.edgeCut) * width - 2 * polygonArea(tapped.diameter, 96),
      3,
    );
    // Corners of the wall lie between the chord's middle and the circle. The slit takes half its width off the two
    // facets beside the top corner.
    const wall = plainArea(
      patch(positions, (x, _y, z) => {
        const r = Math.hypot(x, z);
        return r > (bore / 2) * Math.cos(step) - 1e-4 && r < bore / 2 + 1e-4;
      }),
    );
    const around = facets * bore * Math.sin(step) - ears.gap / Math.cos(step);
    expect(wall).toBeCloseTo(around * (width - 2 * chamfer), 2);
  });

  it('focuser knob: outer size, pocket floor, end of the hub', () => {
    const positions = fileOf('focuser-knob');
    const { diameter, height, bore, pocket, hub } = FOCUSER_KNOB;
    expect(Math.max(...positions)).toBe(diameter / 2);
    expect(Math.max(...positions.filter((_, i) => i % 3 === 2))).toBe(height);
    const floor = plainArea(patch(positions, (_x, _y, z) => near(z, pocket.depth)));
    expect(floor).toBeCloseTo(polygonArea(pocket.diameter, 96) - polygonArea(hub.diameter, 96), 3);
    const hubEnd = plainArea(
      patch(positions, (x, y, z) => near(z, 0) && Math.hypot(x, y) < hub.diameter / 2 + 1e-3),
    );
    expect(hubEnd).toBeCloseTo(polygonArea(hub.diameter, 96) - polygonArea(bore, 96), 3);
  });
});
