/** `tankside hang` as it is run: its numbers against closed forms, its JSON against a schema, its errors. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { packJob } from '../../../core/job/container.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import { firstTank } from '../../../core/job/first-tank.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import { roundFeatures } from '../../../core/finish/round-features.ts';
import { fileOf } from '../../../core/job/part-source.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { soupOf, startManifold } from '../../core/racking/solids.ts';
import { binaryStl, boxTriangles, type Triangle } from '../../fixtures/model-bytes.ts';
import { runTankside } from './run-tankside.ts';

const vec = z.tuple([z.number(), z.number(), z.number()]);
const pocket = z.object({ volumeMm3: z.number().positive(), areaMm2: z.number().positive() });
const report = z.object({
  volumeMm3: z.number().positive(),
  massKg: z.number().positive(),
  centreMm: vec,
  gas: z.array(pocket),
  liquid: z.array(pocket),
  contacts: z.array(
    z.object({ atMm: vec, score: z.number(), place: z.number(), reasons: z.array(z.string().min(5)).min(3) }),
  ),
  pairs: z.array(
    z.object({
      contacts: z.tuple([z.number().int().positive(), z.number().int().positive()]),
      score: z.number(),
      reasons: z.array(z.string()).min(3),
    }),
  ),
  plugs: z.number().int(),
  behindPlugs: z.object({ areaMm2: z.number().positive(), faces: z.string() }).nullable(),
  attitudes: z
    .array(
      z.object({
        up: vec,
        score: z.number(),
        gasMm3: z.number(),
        liquidMm3: z.number(),
        reasons: z.array(z.string()),
      }),
    )
    .optional(),
  warnings: z.array(z.object({ code: z.string(), message: z.string() })),
});

/** A tray 60 x 40 x 20 with walls and floor 4 thick, open towards +z: outer box, and the inner one turned inside out. */
function tray(): Triangle[] {
  const shift = (t: Triangle): number[] => t.map((x, i) => x + [4, 4, 4][i % 3]!);
  const isTop = (t: Triangle, z: number): boolean => t.every((x, i) => i % 3 !== 2 || x === z);
  const flip = (t: Triangle): number[] => [...t.slice(0, 3), ...t.slice(6, 9), ...t.slice(3, 6)];
  const outer = boxTriangles(60, 40, 20).filter((t) => !isTop(t, 20));
  const inner = boxTriangles(52, 32, 16)
    .filter((t) => !isTop(t, 16))
    .map(shift)
    .map(flip);
  const out = [
    [0, 0],
    [60, 0],
    [60, 40],
    [0, 40],
  ] as const;
  const into = [
    [4, 4],
    [56, 4],
    [56, 36],
    [4, 36],
  ] as const;
  const rim = [0, 1, 2, 3].flatMap((k): number[][] => {
    const [a, b, c, d] = [out[k]!, out[(k + 1) % 4]!, into[(k + 1) % 4]!, into[k]!];
    return [
      [...a, 20, ...b, 20, ...c, 20],
      [...a, 20, ...c, 20, ...d, 20],
    ];
  });
  return [...outer, ...inner, ...rim];
}

let folder: string;
const file = (name: string, triangles: readonly Triangle[]): string => {
  const path = join(folder, name);
  writeFileSync(path, binaryStl(triangles));
  return path;
};
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankside-hang-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('hang', () => {
  it('weighs a tray and says what it holds, either way up', () => {
    const path = file('tray.stl', tray());
    const up = runTankside(
      'hang',
      path,
      '--unit',
      'mm',
      '--up',
      '0,0,1',
      '--alloy',
      '6061',
      '--current',
      '4A',
      '--json',
    );
    expect(up.err).toBe('');
    expect(up.code).toBe(0);
    const held = report.parse(JSON.parse(up.out));
    const metal = 60 * 40 * 20 - 52 * 32 * 16;
    // Whole millimetres are exact in single precision.
    expect(held.volumeMm3).toBeCloseTo(metal, 6);
    expect(held.massKg).toBeCloseTo(metal * 1e-9 * 2700, 9);
    const z = (60 * 40 * 20 * 10 - 52 * 32 * 16 * 12) / metal;
    held.centreMm.forEach((x, k) => expect(x).toBeCloseTo([30, 20, z][k]!, 6));
    expect(held.gas).toEqual([]);
    expect(held.liquid).toHaveLength(1);
    expect(held.liquid[0]!.volumeMm3).toBeCloseTo(52 * 32 * 16, 4);
    expect(held.liquid[0]!.areaMm2).toBeCloseTo(52 * 32 + 2 * (52 + 32) * 16, 4);
    expect(held.contacts.length).toBeGreaterThan(0);
    // Alone a place is never worth more than six tenths of what it is as one of two.
    for (const { score, place } of held.contacts) expect(score).toBeLessThanOrEqual(0.6 * place + 1e-9);
    expect(held.pairs.length).toBeGreaterThan(0);
    for (const { contacts } of held.pairs) {
      expect(contacts[0]).toBeLessThan(contacts[1]);
      expect(contacts[1]).toBeLessThanOrEqual(held.contacts.length);
    }
    const down = report.parse(
      JSON.parse(runTankside('hang', path, '--unit', 'mm', '--up', '0,0,-1', '--json').out),
    );
    expect(down.liquid).toEqual([]);
    expect(down.gas[0]!.volumeMm3).toBeCloseTo(52 * 32 * 16, 4);
  });

  it('counts nothing in a masked bore, whose plug fills it, and says so', async () => {
    const { Manifold } = await startManifold();
    const soup = soupOf(
      Manifold.cube([40, 40, 30], true).subtract(Manifold.cylinder(20, 5, 5, 64).translate([0, 0, 0])),
    );
    const path = file(
      'bored.stl',
      Array.from({ length: soup.length / 9 }, (_, t) => [...soup.subarray(9 * t, 9 * t + 9)]),
    );
    const [bore] = roundFeatures(analysePart(soup, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD }), 1e-3);
    const search = ['--unit', 'mm', '--search', '--directions', '12', '--json'];
    const masked = ['--mask', bore!.faceIds.join()];
    const open = report.parse(JSON.parse(runTankside('hang', path, ...search).out));
    // 64 chords round are 0.16 % short of the circle.
    expect(open.liquid[0]!.volumeMm3 / (Math.PI * 25 * 15)).toBeCloseTo(1, 2);
    const plugged = report.parse(JSON.parse(runTankside('hang', path, ...search, ...masked).out));
    expect([open.plugs, plugged.plugs]).toEqual([0, 1]);
    expect(open.behindPlugs).toBeNull();
    expect(plugged.behindPlugs!.areaMm2 / (Math.PI * 25)).toBeCloseTo(1, 2);
    expect(plugged.liquid).toEqual([]);
    const { out } = runTankside('hang', path, '--unit', 'mm', ...masked);
    expect(out).toContain('with a plug in 1 masked bore');
    expect(out).toMatch(/no acid reaches f\d+ behind the plugs, yet 0.78\d cm²/);
    // `plan` sets the current from that area, so it says the same.
    const film = ['--unit', 'mm', '--thickness', '25um', '--density', '1.3A/dm2'];
    const behind = /Check: Plugs in its masked bores keep the bath from f\d+ of “bored”: 0.78\d cm² count/;
    expect(runTankside('plan', path, ...film, ...masked).out).toMatch(behind);
    expect(runTankside('plan', path, ...film).out).not.toContain('Plugs');
    const liquidUp = ({ attitudes }: typeof open): number =>
      attitudes!.find(({ up }) => up[2] > 0.99)!.liquidMm3;
    expect(liquidUp(open) / (Math.PI * 25 * 15)).toBeCloseTo(1, 2);
    expect(plugged.attitudes!.every(({ liquidMm3, gasMm3 }) => liquidMm3 === 0 && gasMm3 === 0)).toBe(true);
  });

  it('scales with the unit and takes a negative first number after --up', () => {
    const path = file('tray-cm.stl', tray());
    const ended = runTankside('hang', path, '--unit', 'cm', '--up', '-1,0,0', '--json');
    expect(ended.code).toBe(0);
    expect(report.parse(JSON.parse(ended.out)).volumeMm3).toBeCloseTo(
      1000 * (60 * 40 * 20 - 52 * 32 * 16),
      2,
    );
  });

  it('searches: the best attitude holds less than the worst', () => {
    const path = file('tray-s.stl', tray());
    const ended = runTankside('hang', path, '--unit', 'mm', '--search', '--directions', '60', '--json');
    expect(ended.code).toBe(0);
    const { attitudes } = report.parse(JSON.parse(ended.out));
    expect(attitudes!.length).toBeGreaterThan(2);
    expect(attitudes![0]!.score).toBeGreaterThan(attitudes!.at(-1)!.score - 1e-9);
    expect(ended.err).toContain('% of the attitudes');
    const text = runTankside('hang', path, '--unit', 'mm', '--search', '--directions', '60');
    expect(text.out).toContain('two together');
    expect(text.out).not.toMatch(/-0\.0+(?!\d)/);
    expect(text.out).toContain('attitudes that trap least');
    expect(text.out).toContain('carried over');
  });

  it('says of an open surface that it does not know, and still proposes contacts', () => {
    const open = boxTriangles(30, 20, 5).slice(1);
    const ended = runTankside('hang', file('open.stl', open), '--unit', 'mm', '--json');
    expect(ended.code).toBe(2);
    const shown = JSON.parse(ended.out) as Record<string, unknown>;
    expect(shown['volumeMm3']).toBeNull();
    expect(shown['gas']).toBeNull();
    expect(JSON.stringify(shown['warnings'])).toContain('open-mesh');
    expect((shown['contacts'] as unknown[]).length).toBeGreaterThan(0);
  });

  it('a saved job hangs as it was saved: its attitude, alloy, pins and tank; options win over it', () => {
    const bytes = binaryStl(boxTriangles(60, 40, 20));
    const pin = {
      id: 'pin',
      at: [60, 20, 10] as [number, number, number],
      triangle: boxTriangles(60, 40, 20).findIndex((t) => t.every((x, i) => i % 3 !== 0 || x === 60)),
      patchDiameterM: 3e-3,
      hanger: FIRST_HANGER,
    };
    const part = {
      ...newPart('a', 'block.stl', bytes.length, 'mm', true),
      alloy: '7075',
      attitude: { up: [1, 0, 0] as [number, number, number], turnRad: 0 },
      contacts: [pin],
    };
    const job = chooseTank({ ...emptyJob('block'), parts: [part] }, firstTank('box'));
    const path = join(folder, 'block.tankside');
    writeFileSync(path, packJob(job, new Map([[fileOf(part)!.entry, bytes]])));
    const asJson = (...args: string[]) => {
      const ended = runTankside('hang', ...args, '--json');
      expect(ended.err).toBe('');
      expect(ended.code).toBe(0);
      return JSON.parse(ended.out) as {
        up: number[];
        alloy: string;
        massKg: number;
        pins: { place: string; hanger: string; notes: string[] }[];
        tank: string;
      };
    };
    const saved = asJson(path);
    expect(saved.up).toEqual([1, 0, 0]);
    // 48 cm³ at 2.81 g/cm³ (density of 7075: handbooks).
    expect(saved.massKg).toBeCloseTo(48e-6 * 2810, 4);
    expect(saved.pins).toHaveLength(1);
    expect(saved.pins[0]!.place).toContain('at x 60, y 20, z 10 mm');
    // The top of the part hangs 20 mm below the surface; the pin is on its top, so that much of the wire is wet.
    expect(saved.pins[0]!.hanger).toContain(`${1000 * job.tank!.rules.partToSurfaceM}.0 mm in the bath`);
    expect(saved.tank).toContain('liquid');
    expect(asJson('--job', path).massKg).toBe(saved.massKg);
    expect(asJson(path, '--up', '0,0,1', '--alloy', '6061')).toMatchObject({ up: [0, 0, 1], alloy: '6061' });
    const text = runTankside('hang', path).out;
    expect(text).toContain('pins of the job:');
    // 48 cm³ over 16.387 cm³ to the cubic inch, 134.88 g over 28.3495 g to the ounce.
    expect(text).toContain('volume 48.00 cm³ (2.93 in³), mass 134.9 g (4.758 oz)');
    const twice = runTankside('hang', path, path);
    expect(twice.code).toBe(2);
    expect(twice.err).toContain('one job at a time');
  });

  it('several files come as a list', () => {
    const path = file('two.stl', boxTriangles(10, 10, 10));
    const ended = runTankside('hang', path, path, '--unit', 'mm', '--json');
    const { parts } = JSON.parse(ended.out) as { parts: unknown[] };
    expect(parts).toHaveLength(2);
    for (const part of parts) expect(report.parse(part).volumeMm3).toBeCloseTo(1000, 6);
  });

  it.each([
    [['--up', '0,0,0'], 'not a direction'],
    [['--up', '1,2'], 'not a direction'],
    [['--alloy', 'unobtainium'], 'not in the table'],
    [['--current', '4'], '--current'],
    [['--current', '0A'], 'above 0'],
    [['--directions', '3'], 'not a number of directions'],
    [['--wrong'], 'wrong'],
  ])('%j is refused with what to do', (args, words) => {
    const ended = runTankside('hang', file('box.stl', boxTriangles(10, 10, 10)), '--unit', 'mm', ...args);
    expect(ended.code).toBe(2);
    expect(ended.out).toBe('');
    expect(ended.err).toContain(words);
  });
});
