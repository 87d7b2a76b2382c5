/** `plan` with the true surface: fusing, threads, level, parts of a job without a file. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { packJob } from '../../../core/job/container.ts';
import { emptyJob, newPartWithoutFile } from '../../../core/job/default-job.ts';
import { shapeSchema } from '../../../core/job/job-shape.ts';
import { writeBinaryStl } from '../../../main/demo/write-binary-stl.ts';
import { box, cylinder, placed, Soup, tube } from '../../fixtures/shapes.ts';
import { runTankside } from './run-tankside.ts';

const folder = mkdtempSync(join(tmpdir(), 'tankside-true-area-'));
const at = (name: string): string => join(folder, name);
afterAll(() => rmSync(folder, { recursive: true }));

const stl = (name: string, ...parts: Float32Array[]): string => {
  const soup = parts.reduce((all, part) => all.add(part), new Soup()).positions;
  const corners = Uint32Array.from({ length: soup.length / 3 }, (_, i) => i);
  writeFileSync(at(name), writeBinaryStl(soup, corners, 'test'));
  return at(name);
};
const FILM = ['--unit', 'mm', '--thickness', '25um', '--density', '1.3A/dm2'];
interface Planned {
  readonly parts: readonly {
    readonly areaMm2: number;
    readonly areaRangeMm2: readonly [number, number];
    readonly meshAreaMm2: number;
    readonly bodies: number;
    readonly removedByFusingMm2?: number;
    readonly sealedVoids: readonly { readonly areaMm2: number; readonly volumeMm3: number }[];
    readonly aboveWaterlineMm2?: number;
    readonly hangsDeepMm?: number;
    readonly typed?: boolean;
    readonly faces: readonly {
      readonly id: string;
      readonly kind: string;
      readonly areaMm2: number;
      readonly wettedMm2?: number;
    }[];
    readonly findings: readonly { readonly code: string }[];
  }[];
  readonly plan: { readonly areaMm2: number; readonly currentA: number };
}
const plan = (...args: string[]): Planned => {
  const ended = runTankside('plan', ...args, '--json');
  expect(ended.err).toBe('');
  return JSON.parse(ended.out) as Planned;
};

test('--fuse: the welded post, in closed form 26595.22 mm² instead of 1.91 % more', () => {
  const file = stl(
    'post.stl',
    box(80, 80, 6, [-40, -40, 0]),
    placed(tube(15, 12, 70, 90), { shift: [0, 0, 6] }),
  );
  const raw = plan(file, ...FILM).parts[0]!;
  expect(raw.bodies).toBe(2);
  expect(raw.findings.map(({ code }) => code)).toContain('bodies-meet');
  expect(raw.removedByFusingMm2).toBeUndefined();
  const fused = plan(file, ...FILM, '--fuse').parts[0]!;
  // The facets of 90 sides are corrected to a tenth of their 2e-4.
  expect(fused.areaMm2 / 26595.22).toBeCloseTo(1, 4);
  expect(fused.areaRangeMm2[0]).toBeLessThanOrEqual(26595.3);
  expect(fused.areaRangeMm2[1]).toBeGreaterThanOrEqual(26595.1);
  // Two rings of 254.469, less what 90 facets cut off them.
  expect(fused.removedByFusingMm2! / (2 * 254.469)).toBeCloseTo(1, 2);
  expect(raw.areaMm2 / fused.areaMm2 - 1).toBeCloseTo(0.0191, 3);
});

test('sealed voids are listed and left out; a bar dipped to a third; what was not fused is told', () => {
  const over = box(4, 4, 4, [3, 3, 3]);
  for (let t = 0; t < over.length; t += 9) {
    const second = over.slice(t + 3, t + 6);
    over.copyWithin(t + 3, t + 6, t + 9);
    over.set(second, t + 6);
  }
  const hollow = plan(stl('hollow.stl', box(10, 10, 10), over), ...FILM).parts[0]!;
  expect(hollow).toMatchObject({ areaMm2: 600, meshAreaMm2: 696, bodies: 1 });
  expect(hollow.sealedVoids).toEqual([{ areaMm2: 96, volumeMm3: 64 }]);
  const bar = stl('bar.stl', box(20, 20, 100));
  const dipped = plan(bar, ...FILM, '--waterline', '30mm').parts[0]!;
  expect(dipped.areaMm2).toBeCloseTo(2800, 6);
  expect(dipped.aboveWaterlineMm2).toBeCloseTo(6000, 6);
  expect(dipped.hangsDeepMm).toBeCloseTo(30, 9);
  // Of each face what is wetted: four sides 20 × 30, the bottom, and nothing of the top.
  expect(dipped.faces.map(({ wettedMm2 }) => Math.round(wettedMm2!)).sort((a, b) => a - b)).toEqual([
    0, 400, 600, 600, 600, 600,
  ]);
  expect(dipped.faces.map(({ areaMm2 }) => Math.round(areaMm2)).sort((a, b) => a - b)).toEqual([
    400, 400, 2000, 2000, 2000, 2000,
  ]);
  const text = runTankside('plan', bar, ...FILM, '--waterline', '30mm').out;
  expect(text).toContain('30.0 mm (1.18 in) deep, from its lowest point up: mark the level');
  expect(text).toMatch(/6\.000 cm² = 0\.9300 in² {2,}of 20\.00 cm², the rest above the level/);
  expect(text).toMatch(/f\d +plane +0 cm² = 0 in² +above the level/);
  const whole = plan(bar, ...FILM, '--waterline', '300mm').parts[0]!;
  expect(whole.hangsDeepMm).toBeUndefined();
  expect(whole.faces[0]!.wettedMm2).toBeUndefined();
  const open = stl('open.stl', box(10, 10, 10).subarray(18), box(10, 10, 10, [10, 0, 0]));
  expect(plan(open, ...FILM, '--fuse').parts[0]!.findings.map(({ code }) => code)).toContain('fuse-open');
});

test('--threaded: the bar of an M6 bolt; a thread that does not fit is refused', () => {
  const bolt = stl('bolt.stl', cylinder(3, 20, 64));
  const plain = plan(bolt, ...FILM).parts[0]!;
  const wall = plain.faces.find(({ kind }) => kind === 'cylinder')!;
  const cut = plan(bolt, ...FILM, '--threaded', `${wall.id}=M6x1`).parts[0]!;
  const threaded = cut.faces.find(({ id }) => id === wall.id)!;
  // 1.625 of the plain cylinder at the pitch diameter 5.3505 (check value), flanks 2 % further out.
  expect(threaded.areaMm2 / (1.625 * Math.PI * 5.3505 * 20)).toBeGreaterThan(0.99);
  expect(threaded.areaMm2 / (1.625 * Math.PI * 5.3505 * 20)).toBeLessThan(1.03);
  expect(cut.areaRangeMm2[1]).toBeGreaterThan(cut.areaMm2);
  const wrong = runTankside('plan', bolt, ...FILM, '--threaded', `${wall.id}=M20`);
  expect(wrong).toMatchObject({ code: 2 });
  expect(wrong.err).toContain('M20');
  const unread = runTankside('plan', bolt, ...FILM, '--threaded', 'M6');
  expect(unread.err).toContain('--threaded');
});

test('a job’s drawn and typed parts are planned with the others, the typed one marked', () => {
  const shape = shapeSchema.parse({
    bodies: [{ id: 'b', kind: 'plate', lengthM: 0.08, widthM: 0.08, thicknessM: 0.006 }],
  });
  const job = {
    ...emptyJob('two'),
    parts: [
      newPartWithoutFile('a', 'Plate', { kind: 'shape', shape }),
      newPartWithoutFile('b', 'Odd lot', { kind: 'typed', areaM2: 0.01 }),
    ],
  };
  writeFileSync(at('two.tankside'), packJob(job, new Map()));
  const both = plan('--job', at('two.tankside'));
  expect(both.parts.map(({ areaMm2 }) => areaMm2)).toEqual([14720, 10000]);
  expect(both.parts[1]).toMatchObject({ typed: true });
  expect(both.plan.areaMm2).toBeCloseTo(24720, 6);
  const text = runTankside('plan', '--job', at('two.tankside'));
  expect(text.out).toContain('typed in, not measured');
  expect(text.out).toContain('drawn shape');
});

test('--round and --flat: eight sides are asked about with both areas, and the answer decides', () => {
  const bar = stl('octagon.stl', cylinder(10, 40, 8));
  const asked = plan(bar, ...FILM).parts[0]! as Planned['parts'][number] & {
    readonly questions?: readonly { readonly faces: readonly string[]; readonly countedAs: string }[];
  };
  expect(asked.questions).toHaveLength(1);
  expect(asked.questions![0]).toMatchObject({ countedAs: 'flat' });
  expect(asked.questions![0]!.faces).toHaveLength(8);
  const round = 1000 * Math.PI;
  expect(asked.areaRangeMm2[1]).toBeGreaterThan(round);
  const [face] = asked.questions![0]!.faces;
  const text = runTankside('plan', bar, ...FILM);
  expect(text.out).toContain(`--round ${face} or --flat ${face}`);
  expect(text.out).toContain('Counted as flat sides');
  const isRound = plan(bar, ...FILM, '--round', face!).parts[0]!;
  // What 8 facets cut off is 6 %; of it the correction leaves a twentieth at most.
  expect(Math.abs(isRound.areaMm2 - round)).toBeLessThan(0.05 * (round - isRound.meshAreaMm2));
  expect(isRound).not.toHaveProperty('questions');
  const isFlat = plan(bar, ...FILM, '--flat', face!).parts[0]!;
  expect(isFlat.areaMm2).toBeCloseTo(isFlat.meshAreaMm2, 3);
  const wrong = runTankside('plan', bar, ...FILM, '--round', 'f99');
  expect(wrong.code).toBe(2);
  expect(wrong.err).toContain('--round: part 1 has no face f99');
});

describe('--sheet', () => {
  const plate = (): string => stl('sheet.stl', box(80, 50, 1).subarray(0, 18));

  test('an open plate is told to be one, and counts both sides and its edges once its thickness is said', () => {
    const raw = runTankside('plan', plate(), ...FILM);
    expect(raw.out).toContain('--sheet 2mm gives a sheet its thickness here.');
    const part = plan(plate(), ...FILM, '--sheet', '2mm').parts[0]!;
    expect(part.areaMm2).toBeCloseTo(2 * 80 * 50 + 2 * 130 * 2, 3);
    expect(part.findings).toEqual([]);
    const inches = runTankside('plan', plate(), ...FILM, '--sheet', '0.08in').out;
    expect(inches).toMatch(
      /Repaired .*Sheet made 2\.03 mm thick, both sides counted; area 40\.0+ cm² before/,
    );
  });

  test('what cannot be done is a failure that says why: nothing to thicken, or sides that cannot be told', () => {
    const block = stl('block.stl', box(20, 20, 20));
    const closed = runTankside('plan', block, ...FILM, '--sheet', '2mm');
    expect(closed).toMatchObject({ code: 2, out: '' });
    expect(closed.err).toMatch(/nothing is drawn without thickness here.*Leave --sheet out/s);
    // Beside a sheet it is only noted.
    const [sheet, solid] = plan(plate(), block, ...FILM, '--sheet', '2mm').parts;
    expect(sheet!.areaMm2).toBeCloseTo(2 * 80 * 50 + 2 * 130 * 2, 3);
    expect(solid!.findings.map(({ code }) => code)).toEqual(['nothing-to-thicken']);
    const flat = box(80, 50, 1).subarray(0, 18);
    const over = (triangle: Float32Array): Float32Array =>
      Float32Array.of(...triangle.slice(0, 3), ...triangle.slice(6, 9), ...triangle.slice(3, 6));
    const mixed = stl('mixed.stl', flat.subarray(0, 9), over(flat.slice(9)));
    const refused = runTankside('plan', mixed, ...FILM, '--sheet', '2mm');
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.err).toMatch(/face opposite ways.*“Turn them outwards”/s);
    // A floor of two halves with a wall on their seam.
    const joint = [
      box(40, 50, 1).subarray(0, 18),
      box(40, 50, 1, [40, 0, 0]).subarray(0, 18),
      box(40, 50, 30, [40, 0, 0]).subarray(90),
    ];
    const tee = runTankside('plan', stl('tee.stl', ...joint), ...FILM, '--sheet', '2mm');
    expect(tee).toMatchObject({ code: 2, out: '' });
    expect(tee.err).toMatch(/three triangles or more meet at an edge.*modelled with its thickness/s);
    const some = stl('some.stl', ...joint, box(80, 50, 1, [0, 100, 0]).subarray(0, 18));
    const part = plan(some, ...FILM, '--sheet', '2mm').parts[0]!;
    expect(part.areaMm2).toBeCloseTo(2 * 80 * 50 + 2 * 130 * 2 + 80 * 50 + 50 * 30, 3);
    expect(part.findings.map(({ code }) => code)).toContain('sheet-in-part');
    const said = runTankside('plan', some, ...FILM, '--sheet', '2mm').out;
    expect(said).toContain('3 of 4 open surfaces got no thickness and count one side only');
  });

  test('nothing is no thickness', () => {
    const block = stl('block.stl', box(20, 20, 20));
    const wrong = runTankside('plan', block, ...FILM, '--sheet', '0mm');
    expect(wrong.code).toBe(2);
    expect(wrong.err).toContain('2mm or 0.08in');
  });
});

describe('--vent', () => {
  const inward = (positions: Float32Array): Float32Array => {
    const over = positions.slice();
    for (let t = 0; t < over.length; t += 9) {
      over.set(positions.subarray(t + 6, t + 9), t + 3);
      over.set(positions.subarray(t + 3, t + 6), t + 6);
    }
    return over;
  };
  const hollow = (): string =>
    stl(
      'hollow.stl',
      box(60, 20, 20),
      inward(box(10, 10, 10, [5, 5, 5])),
      inward(box(12, 12, 12, [40, 4, 4])),
    );

  test('counts the walls of the voids that are named, and warns of the acid in them', () => {
    const outside = 2 * (60 * 20 * 2 + 20 * 20);
    const areaOf = (...args: string[]): number => plan(hollow(), ...FILM, ...args).parts[0]!.areaMm2;
    expect(areaOf()).toBeCloseTo(outside, 6);
    expect(areaOf('--vent', 'all')).toBeCloseTo(outside + 600 + 864, 6);
    expect([areaOf('--vent', '1'), areaOf('--vent', '1:2')].sort((a, b) => a - b)).toEqual([
      expect.closeTo(outside + 600, 6),
      expect.closeTo(outside + 864, 6),
    ]);
    const said = runTankside('plan', hollow(), ...FILM, '--vent', '2').out;
    expect(said).toMatch(/void 2: .*, vented/);
    expect(said).toContain('bleeds out');
  });

  test('what has a vent is no finding any more; where there is nothing to vent that is said', () => {
    const codesOf = (...args: string[]): (string | undefined)[] =>
      plan(hollow(), ...FILM, ...args).parts[0]!.findings.map(({ code }) => code);
    expect(codesOf()).toContain('closed-cavity');
    expect(codesOf('--vent', 'all')).not.toContain('closed-cavity');
    const said = (...args: string[]): string => runTankside('plan', hollow(), ...FILM, ...args).out;
    expect(said()).toContain('The model has 2 cavities without');
    expect(said('--vent', '1')).toContain('The model has 1 cavity without');
    expect(runTankside('plan', hollow(), ...FILM).out).toContain('a finding to look at below');
    expect(runTankside('plan', hollow(), ...FILM, '--vent', 'all').out).not.toContain('to look at below');
    const block = stl('block.stl', box(20, 20, 20));
    expect(runTankside('plan', block, ...FILM, '--vent', 'all').out).toContain('no hollow without a way out');
  });

  test.each([
    ['3', 'has no void 3'],
    ['2:1', 'there is no part 2'],
    ['top', 'does not name a void'],
  ])('%s is refused with what to do', (named, text) => {
    const ended = runTankside('plan', hollow(), ...FILM, '--vent', named);
    expect(ended.code).toBe(2);
    expect(ended.err).toContain(text);
  });
});
