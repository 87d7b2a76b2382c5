import { ShapeUtils, Vector2 } from 'three';
import { beforeAll, describe, expect, test } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { partSurfaceSchema, type PartSurface } from '../../../core/job/job-surface.ts';
import { repairWords } from '../../../core/job/repair-words.ts';
import { preparePart, type PrepareTools, type SourceSurface } from '../../../core/job/prepare-part.ts';
import type { CadFace } from '../../../core/faces/cad-faces.ts';
import { findCrossings } from '../../../core/mesh/find-crossings.ts';
import { surfaceArea } from '../../../core/mesh/surface-area.ts';
import { weld } from '../../../core/mesh/weld.ts';
import { box, placed, Soup, sphere, torus, tube } from '../../fixtures/shapes.ts';
import { solidKit } from '../../fixtures/solid-kit.ts';

let tools: PrepareTools;
beforeAll(async () => {
  const cutPolygon: PrepareTools['cutPolygon'] = (contour) =>
    ShapeUtils.triangulateShape(
      contour.map(({ x, y }) => new Vector2(x, y)),
      [],
    );
  tools = { cutPolygon, kit: await solidKit() };
});

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
const prepare = (source: Float32Array | SourceSurface, surface: Partial<PartSurface> = {}) =>
  preparePart(
    source instanceof Float32Array ? { positions: source, bodies: [] } : source,
    {
      splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD,
      surface: { ...partSurfaceSchema.parse({}), ...surface },
    },
    tools,
  );
const codes = (...args: Parameters<typeof prepare>): string[] =>
  prepare(...args).geometry.findings.map(({ code }) => code);

describe('findings and what is offered', () => {
  test('a torn edge offers to be joined; accepted, the finding is gone', () => {
    const torn = box(10, 10, 10);
    torn[0] += 1e-4;
    const { findings } = prepare(torn).geometry;
    const [offer] = findings.find(({ code }) => code === 'open-edges')!.offers!;
    if (!offer || !('repair' in offer)) throw new Error('no repair is offered');
    expect(offer.repair.kind).toBe('weld');
    const done = prepare(torn, { repairs: [offer.repair] });
    expect(done.geometry.closed).toBe(true);
    expect(done.geometry.findings).toEqual([]);
    expect(done.repairs).toHaveLength(1);
  });

  test('a missing small cap offers to be closed; a missing side does not, but may be a sheet’s', () => {
    const lid = 4;
    const capless = soup(
      box(50, 50, 5),
      tube(2, 1, 5, 16).subarray(0, 0),
      box(lid, lid, lid, [100, 0, 0]).subarray(18),
    );
    const offers = prepare(capless).geometry.findings.find(({ code }) => code === 'open-edges')!.offers!;
    expect(offers.map((o) => ('repair' in o ? o.repair.kind : 'fuse'))).toEqual(['fill']);
    const sideless = box(10, 10, 10).subarray(18);
    // It may be a tray drawn without thickness.
    expect(prepare(sideless).geometry.findings[0]!.offers).toEqual([
      { label: 'It is a sheet: give it a thickness', asks: 'sheet thickness' },
    ]);
  });

  test('a sheet with a drilled hole: its thickness comes first, and the gap is said to be none of a sheet', () => {
    const hole = { low: 20, high: 24 };
    const around = (x: number, y: number, w: number, d: number): Float32Array =>
      box(w, d, 1, [x, y, 0]).subarray(0, 18);
    const plate = soup(
      ...[0, hole.low, hole.high].flatMap((x, i) =>
        [0, hole.low, hole.high].flatMap((y, j) =>
          i === 1 && j === 1 ? [] : [around(x, y, [20, 4, 26][i]!, [20, 4, 26][j]!)],
        ),
      ),
    );
    const { offers } = prepare(plate).geometry.findings[0]!;
    expect(offers!.map(({ label }) => label)).toEqual([
      'It is a sheet: give it a thickness',
      'Close the small gap (a hole drilled in a sheet is none)',
    ]);
  });

  test('where a sheet gets no thickness as it is, it is said why, and an accepted one says that it did nothing', () => {
    const plate = box(80, 50, 1).subarray(0, 18);
    const mixed = soup(plate.subarray(0, 9), turnedOver(plate.slice(9)));
    const remedyOf = (positions: Float32Array): string =>
      prepare(positions).geometry.findings.find(({ code }) => code === 'open-edges')!.remedy;
    expect(remedyOf(plate)).toContain('give a sheet its thickness');
    expect(remedyOf(mixed)).toMatch(/turn the triangles that face opposite ways first/);
    const wall = box(80, 30, 40).subarray(36, 54);
    const other = box(80, 50, 1, [0, -50, 0]).subarray(0, 18);
    expect(remedyOf(soup(plate, other, wall))).toMatch(/three triangles meet .* model it with its thickness/);
    const thicken = { kind: 'thicken', thickness: 1.6 } as const;
    const words = (...repairs: PartSurface['repairs']): string => {
      const { repair, trianglesAdded } = prepare(mixed, { repairs }).repairs.at(-1)!;
      return repairWords(repair, 'mm', 'metric', trianglesAdded);
    };
    expect(words({ kind: 'turn' }, thicken)).toBe('Sheet made 1.60 mm thick, both sides counted');
    expect(words(thicken)).toMatch(/^Sheet made 1\.60 mm thick did nothing: /);
  });

  test('stray geometry: a speck beside a block is named with its share, and leaves by its triangles', () => {
    const positions = soup(box(100, 100, 10), box(0.1, 0.1, 0.1, [200, 0, 0]));
    const prepared = prepare(positions);
    const stray = prepared.geometry.findings.find(({ code }) => code === 'stray-bodies')!;
    expect([...stray.triangles]).toEqual(Array.from({ length: 12 }, (_, i) => 12 + i));
    const offer = stray.offers![0]!;
    if (!('repair' in offer)) throw new Error('no repair');
    expect(offer.repair).toEqual({ kind: 'drop', triangles: [12, 24] });
    expect(prepare(positions, { repairs: [offer.repair] }).geometry.area).toBeCloseTo(24000, 2);
    // A screw is no speck.
    expect(codes(soup(box(100, 100, 10), box(4, 4, 8, [200, 0, 0])))).not.toContain('stray-bodies');
  });

  test('bodies that touch offer to be fused; accepted, the walls between them leave the area', () => {
    const positions = soup(box(10, 10, 10), box(4, 4, 4, [3, 3, 10]));
    const offer = prepare(positions).geometry.findings.find(({ code }) => code === 'bodies-meet')!
      .offers![0]!;
    if (!('fuseGap' in offer)) throw new Error('fusing is not offered');
    const done = prepare(positions, { fuseGap: offer.fuseGap });
    expect(done.geometry.area).toBeCloseTo(600 + 96 - 32, 3);
    expect(done.fuse).toMatchObject({ bodiesBefore: 2, contacts: 1 });
    expect(done.fuse!.removedArea).toBeCloseTo(32, 3);
    expect(done.geometry.findings.map(({ code }) => code)).not.toContain('bodies-meet');
  });

  test('two cubes that share their corners, as one soup, offer it too', () => {
    const positions = soup(box(1, 1, 1), box(1, 1, 1, [1, 0, 0]));
    const { findings } = prepare(positions).geometry;
    expect(findings.some(({ offers }) => offers?.some((o) => 'fuseGap' in o))).toBe(true);
    expect(prepare(positions, { fuseGap: 0 }).geometry).toMatchObject({ closed: true });
  });

  test('an open body is not fused, and why is told', () => {
    const done = prepare(soup(box(1, 1, 1).subarray(18), box(1, 1, 1, [1, 0, 0])), { fuseGap: 0 });
    expect(done.fuse).toBeNull();
    expect(done.fuseFailure?.code).toBe('fuse-open');
  });
});

describe('self-crossing', () => {
  const pairsBruteForce = (positions: Float32Array): Set<number> => {
    // An edge of one through the inside of the other, with the parametric test, all pairs.
    const total = positions.length / 9;
    const at = (t: number, k: number) => [0, 1, 2].map((i) => positions[9 * t + 3 * k + i]!);
    const sub = (a: number[], b: number[]) => a.map((v, i) => v - b[i]!);
    const cross = (a: number[], b: number[]) => [
      a[1]! * b[2]! - a[2]! * b[1]!,
      a[2]! * b[0]! - a[0]! * b[2]!,
      a[0]! * b[1]! - a[1]! * b[0]!,
    ];
    const dot = (a: number[], b: number[]) => a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;
    const pierces = (p: number[], q: number[], t: number): boolean => {
      const [a, b, c] = [at(t, 0), at(t, 1), at(t, 2)];
      const n = cross(sub(b, a), sub(c, a));
      const way = sub(q, p);
      const down = dot(n, way);
      if (Math.abs(down) < 1e-12) return false;
      const s = dot(n, sub(a, p)) / down;
      if (s < 1e-3 || s > 1 - 1e-3) return false;
      const x = p.map((v, i) => v + s * way[i]!);
      return [[a, b], [b, c], [c, a]].every(([u, v]) => dot(n, cross(sub(v!, u!), sub(x, u!))) > 1e-3); // prettier-ignore
    };
    const found = new Set<number>();
    for (let t = 0; t < total; t++) {
      for (let u = t + 1; u < total; u++) {
        const shares = [0, 1, 2].some((i) => [0, 1, 2].some((j) => at(t, i).join() === at(u, j).join()));
        if (shares) continue;
        const hit = [0, 1, 2].some(
          (k) => pierces(at(t, k), at(t, (k + 1) % 3), u) || pierces(at(u, k), at(u, (k + 1) % 3), t),
        );
        if (hit) found.add(t).add(u);
      }
    }
    return found;
  };

  /** A ring of radius 20 with its centre line laid along a figure of eight. */
  const bentToEight = (ring: Float32Array): Float32Array => {
    const bent = ring.slice();
    for (let i = 0; i < ring.length; i += 3) {
      const [x, y, z] = [ring[i]!, ring[i + 1]!, ring[i + 2]!];
      const t = Math.atan2(y, x) + 0.05;
      const off = Math.hypot(x, y) - 20;
      const way = [30 * Math.cos(2 * t), -20 * Math.sin(t)];
      const length = Math.hypot(way[0]!, way[1]!);
      bent[i] = 15 * Math.sin(2 * t) + (off * way[1]!) / length;
      bent[i + 1] = 20 * Math.cos(t) - (off * way[0]!) / length;
      bent[i + 2] = z + 0.3 * Math.sin(t);
    }
    return bent;
  };

  test('a pipe bent to an eight crosses itself; the triangles are those of brute force', () => {
    const eight = bentToEight(torus(20, 4, 24, 10));
    const { triangles } = weld(eight);
    const found = findCrossings(eight, triangles, () => 0, 1e-6);
    const wanted = pairsBruteForce(eight);
    expect(wanted.size).toBeGreaterThan(20);
    // Cuts that only graze count for neither or either: the lists agree on 95 in 100 and more.
    const common = [...found.triangles].filter((t) => wanted.has(t)).length;
    expect(common).toBeGreaterThan(0.95 * wanted.size);
    expect(common).toBeGreaterThan(0.95 * found.triangles.length);
    expect(codes(eight)).toContain('self-crossing');
  });

  test.each([
    ['ball', sphere(10, 40, 20)],
    ['ring', torus(20, 5, 40, 20)],
    ['two bodies that overlap are another finding', soup(box(2, 2, 2), box(2, 2, 2, [1, 1, 1]))],
  ])('%s: none', (_, positions) => {
    expect(codes(positions)).not.toContain('self-crossing');
  });
});

describe('voids', () => {
  test('drawn as one body: found with area and volume', () => {
    const hollow = soup(box(10, 10, 10), turnedOver(box(2, 3, 4, [2, 2, 2])));
    const [found, ...more] = prepare(hollow).geometry.voids;
    expect(more).toEqual([]);
    expect(found).toMatchObject({ anchor: 12 });
    expect(found!.area).toBeCloseTo(52, 5);
    expect(found!.volume).toBeCloseTo(24, 5);
  });

  test('closed off by fusing: a lid on a cup; its anchor is a triangle only the void has', () => {
    const cup = soup(
      // An open cup as a closed surface: outer box without its top, inner box turned over without its top, the rim.
      box(10, 10, 10).subarray(0, 18),
      box(10, 10, 10).subarray(36),
      turnedOver(box(6, 6, 8, [2, 2, 2])).subarray(0, 18),
      turnedOver(box(6, 6, 8, [2, 2, 2])).subarray(36),
      new Soup()
        .polygon([0, 0, 10], [10, 0, 10], [8, 2, 10], [2, 2, 10])
        .polygon([10, 0, 10], [10, 10, 10], [8, 8, 10], [8, 2, 10])
        .polygon([10, 10, 10], [0, 10, 10], [2, 8, 10], [8, 8, 10])
        .polygon([0, 10, 10], [0, 0, 10], [2, 2, 10], [2, 8, 10]).positions,
    );
    const lid = box(10, 10, 1, [0, 0, 10]);
    expect(prepare(cup).geometry.closed).toBe(true);
    const fused = prepare(soup(cup, lid), { fuseGap: 0 });
    const [found] = fused.geometry.voids;
    expect(found!.area).toBeCloseTo(2 * 36 + 4 * 48, 3);
    expect(found!.volume).toBeCloseTo(6 * 6 * 8, 3);
    expect(found!.anchor).toBeGreaterThanOrEqual(10); // of the cup's inner walls, not of the lid
    expect(found!.anchor).toBeLessThan(20);
  });
});

test('CAD faces keep their exact areas through repairs, their share through fusing, and their order', () => {
  const plate = box(10, 10, 2);
  const post = placed(tube(3, 2, 5, 24), { shift: [5, 5, 2] });
  const positions = soup(plate, post);
  const faceOfTriangle = Uint32Array.from({ length: positions.length / 9 }, (_, t) =>
    t < 12 ? (t / 2) | 0 : 6 + (((t - 12) / 48) | 0),
  );
  const free = { kind: 'plane', size: 0, ringRadius: 0, axis: [0, 0, 1], point: [0, 0, 0] } as const;
  const faces = Array.from({ length: 10 }, (_, row): CadFace => {
    let drawn = 0;
    faceOfTriangle.forEach((face, t) => {
      if (face === row) drawn += surfaceArea(positions.subarray(9 * t, 9 * t + 9));
    });
    // Round walls 1 % larger than their facets.
    return { ...free, areaModelUnits2: row >= 6 && row % 2 === 1 ? drawn * 1.01 : drawn };
  });
  const cad = { faceOfTriangle, faces, chordTolerance: 0.1 };
  const source = { positions, bodies: [], cad };
  const before = prepare(source).geometry;
  const after = prepare(source, { fuseGap: 0 }).geometry;
  const exact = faces.reduce((sum, face) => sum + face.areaModelUnits2, 0);
  expect(before.area).toBeCloseTo(exact, 3);
  const ring = (24 / 2) * (9 - 4) * Math.sin(Math.PI / 12);
  expect(after.area).toBeCloseTo(exact - 2 * ring, 2);
  // The post's foot is gone, and the plate's top is two faces: around the tube and inside it.
  expect(after.faces.count).toBe(10);
  expect(
    [...after.faces.area].filter((area) => Math.abs(area - (24 / 2) * 4 * Math.sin(Math.PI / 12)) < 1e-3),
  ).toHaveLength(1);
});

test('once a sheet of a CAD file has its thickness, it says how many of its faces are exact, where not all are', () => {
  const walls = tube(3, 2, 5, 24);
  const plate = Float32Array.from([0, 0, 0, 9, 0, 0, 9, 7, 0, 0, 0, 0, 9, 7, 0, 0, 7, 0]);
  const plain = { size: 0, ringRadius: 0, axis: [0, 0, 1], point: [0, 0, 0] } as const;
  const said = (kind: CadFace['kind'], positions: Float32Array): string[] => {
    const faceOfTriangle = new Uint32Array(positions.length / 9);
    const face = { ...plain, kind, areaModelUnits2: surfaceArea(positions) };
    const cad = { faceOfTriangle, faces: [face], chordTolerance: 0.1 };
    const thicken = { kind: 'thicken', thickness: 0.2 } as const;
    return prepare({ positions, bodies: [], cad }, { repairs: [thicken] })
      .geometry.findings.filter(({ code }) => code === 'cad-by-facets')
      .map(({ message }) => message);
  };
  // A patch of the outer wall that the file calls a free surface: its two sides are bent, its four walls are not all.
  expect(said('free', walls.subarray(0, 9 * 20)).join()).toMatch(/areas of \d of its 6 faces are exact/);
  expect(said('plane', plate)).toEqual([]);
  // Closed, it got no thickness.
  expect(said('cylinder', walls)).toEqual([]);
});
