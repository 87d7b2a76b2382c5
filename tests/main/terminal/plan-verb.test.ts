/** `tankside plan` as it is run: its numbers against hand calculation, its JSON against a schema, its errors. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { packJob } from '../../../core/job/container.ts';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import type { Job } from '../../../core/job/job.ts';
import { usualTank } from '../../../core/job/usual-tank.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import { fileOf } from '../../../core/job/part-source.ts';
import { asciiStl, binaryStl, boxTriangles } from '../../fixtures/model-bytes.ts';
import { runTankside, type Ended } from './run-tankside.ts';

const coded = z.object({ code: z.string().regex(/^[a-z0-9-]+$/), message: z.string().min(10) });
const planObject = z.object({
  parts: z.array(
    z.object({
      file: z.string(),
      triangles: z.number().int().positive(),
      areaMm2: z.number().nonnegative(),
      coatedMm2: z.number().nonnegative(),
      maskedMm2: z.number().nonnegative(),
      volumeMm3: z.number(),
      closed: z.boolean(),
      faces: z.array(
        z.object({
          id: z.string().regex(/^f[1-9]\d*$/),
          kind: z.enum(['plane', 'cylinder', 'cone', 'sphere', 'torus', 'free']),
          areaMm2: z.number().nonnegative(),
        }),
      ),
      findings: z.array(coded),
    }),
  ),
  plan: z
    .object({
      areaMm2: z.number().positive(),
      currentA: z.number().positive(),
      loadCurrentA: z.number().positive().optional(),
      rampMinutes: z.number().nonnegative(),
      holdMinutes: z.number().nonnegative(),
      totalMinutes: z.number().positive(),
      chargeAh: z.number().positive(),
      thicknessUm: z.number().positive(),
      densityAPerM2: z.number().positive(),
      loads: z.number().int().positive(),
      supplyHolds: z.boolean().optional(),
      options: z
        .array(
          z.object({
            loads: z.number().int().positive(),
            densityAPerM2: z.number().positive(),
            currentA: z.number().positive(),
            totalMinutes: z.number().positive(),
          }),
        )
        .optional(),
    })
    .nullable(),
  warnings: z.array(coded),
});

const IN2_MM2 = 25.4 ** 2;
const FILM = ['--thickness', '1mil', '--density', '6A/ft2'];

let folder: string;
const at = (name: string): string => join(folder, name);

/** 4 × 4 × 3.5 in: 2 (16 + 14 + 14) = 88 in², 56 in³. */
const BLOCK = [4, 4, 3.5] as const;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankside-plan-'));
  writeFileSync(at('block.stl'), binaryStl(boxTriangles(...BLOCK)));
  writeFileSync(at('block-mm.stl'), asciiStl(boxTriangles(101.6, 101.6, 88.9)));
  const box = 'v 0 0 0\nv 2 0 0\nv 0 3 0\nv 2 3 0\nv 0 0 4\nv 2 0 4\nv 0 3 4\nv 2 3 4\n';
  const sides = 'f 1 3 4 2\nf 5 6 8 7\nf 1 2 6 5\nf 3 7 8 4\nf 1 5 7 3\nf 2 4 8 6\n';
  writeFileSync(at('box.obj'), `# 2 × 3 × 4\n${box}o rail\n${sides}`);
  writeFileSync(at('open.stl'), binaryStl(boxTriangles(40, 30, 20).slice(2)));
  writeFileSync(at('page.stl'), '<!DOCTYPE html><html></html>');
  writeFileSync(at('cut.stl'), binaryStl(boxTriangles(40, 30, 20)).subarray(0, 300));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function plan(...args: string[]): Ended {
  return runTankside('plan', ...args);
}

function planned(...args: string[]): z.infer<typeof planObject> {
  const ended = plan(...args, '--json');
  expect(ended.err).toBe('');
  expect(ended.code).toBe(0);
  return planObject.parse(JSON.parse(ended.out));
}

describe('the numbers', () => {
  // 88 in² at 6 A/ft² is 88/144 · 6 A; the 720 rule (720 A·min/ft² per mil, trade journal) gives 720/6 min.
  it('88 in², 1 mil at 6 A/ft², no ramp: 3.667 A, 120 min, 7.333 A·h', () => {
    const { parts, plan: run } = planned(at('block.stl'), '--unit', 'in', ...FILM, '--ramp', '0min');
    const [part] = parts;
    expect(part!.areaMm2).toBeCloseTo(88 * IN2_MM2, 6);
    expect(part!.volumeMm3).toBeCloseTo(56 * 25.4 ** 3, 4);
    expect(part!.closed).toBe(true);
    expect(part!.faces.map((face) => face.kind)).toEqual(Array(6).fill('plane'));
    // The block is written with zero normals, as many programs do.
    expect(part!.findings.map((finding) => finding.code)).toEqual(['stl-normals-missing']);
    expect(run).toMatchObject({ rampMinutes: 0, loads: 1, thicknessUm: 25.4 });
    expect(run!.currentA).toBeCloseTo(88 / 24, 9);
    expect(run!.totalMinutes).toBeCloseTo(120, 9);
    expect(run!.chargeAh).toBeCloseTo(22 / 3, 9);
    expect(run!.densityAPerM2).toBeCloseTo(6 / 0.3048 ** 2, 9);
  });

  it('the default ramp of 5 min costs half its time: 117.5 min of hold, 122.5 in all', () => {
    const { plan: run } = planned(at('block.stl'), '--unit', 'in', ...FILM);
    expect(run).toMatchObject({ rampMinutes: 5 });
    expect(run!.holdMinutes).toBeCloseTo(117.5, 9);
    expect(run!.totalMinutes).toBeCloseTo(122.5, 9);
    expect(run!.chargeAh).toBeCloseTo(22 / 3, 9);
  });

  it('the same block in mm, ASCII, with metric amounts, is the same run', () => {
    const us = planned(at('block.stl'), '--unit', 'in', ...FILM).plan!;
    const metric = planned(
      ...[at('block-mm.stl'), '--unit', 'mm', '--thickness', '25.4um'],
      ...['--density', `${6 / 9.290304}A/dm2`],
    ).plan!;
    // Corners of 101.6 and 88.9 mm are off by up to 4e-8 in float32.
    expect(metric.areaMm2 / us.areaMm2).toBeCloseTo(1, 6);
    expect(metric.currentA / us.currentA).toBeCloseTo(1, 6);
    expect(metric.totalMinutes).toBeCloseTo(us.totalMinutes, 9);
  });

  it('another charge constant scales time and charge', () => {
    const run = planned(
      at('block.stl'),
      '--unit',
      'in',
      ...FILM,
      '--ramp',
      '0',
      '--charge',
      '900A.min/ft2/mil',
    ).plan!;
    expect(run.totalMinutes).toBeCloseTo(150, 9);
    expect(run.chargeAh).toBeCloseTo((22 / 3) * 1.25, 9);
  });

  it('areas of several files add up, each with its own unit and number of pieces', () => {
    const files = [at('block.stl'), at('box.obj')];
    const { parts, plan: run } = planned(
      ...files,
      '--unit',
      'in,cm',
      '--quantity',
      '2',
      '--quantity',
      '3',
      ...FILM,
    );
    // The box of 2 × 3 × 4 cm has 52 cm².
    expect(run!.areaMm2).toBeCloseTo(2 * 88 * IN2_MM2 + 3 * 5200, 4);
    expect(parts.map((part) => part.file)).toEqual(files);
    const both = planned(...files, '--unit', 'mm', '--quantity', '4', ...FILM).plan!;
    expect(both.areaMm2).toBeCloseTo(4 * (88 + 52), 6);
  });

  it('masked faces leave the current in the same ratio, and all masked leaves no plan', () => {
    const whole = planned(at('block.stl'), '--unit', 'in', ...FILM);
    const square = whole.parts[0]!.faces.filter((face) => Math.abs(face.areaMm2 - 16 * IN2_MM2) < 1e-3);
    expect(square.length).toBe(2);
    const masked = planned(
      at('block.stl'),
      '--unit',
      'in',
      ...FILM,
      '--mask',
      square.map((face) => face.id).join(),
    );
    expect(masked.parts[0]!.maskedMm2).toBeCloseTo(32 * IN2_MM2, 6);
    expect(masked.parts[0]!.coatedMm2).toBeCloseTo(56 * IN2_MM2, 6);
    expect(masked.plan!.currentA / whole.plan!.currentA).toBeCloseTo(56 / 88, 10); // twelve digits are printed
    expect(masked.plan!.totalMinutes).toBe(whole.plan!.totalMinutes);

    const none = plan(at('block.stl'), '--unit', 'in', ...FILM, '--mask', 'f1,f2,f3,f4,f5,f6', '--json');
    expect(none.code).toBe(2);
    const object = planObject.parse(JSON.parse(none.out));
    expect(object.plan).toBeNull();
    expect(object.parts[0]!.coatedMm2).toBe(0);
    expect(object.warnings.map((warning) => warning.code)).toContain('no-area');
  });

  it('masks in the part that the number before the colon names', () => {
    const files = [at('block.stl'), at('block-mm.stl'), '--unit', 'in,mm'];
    const { parts } = planned(...files, ...FILM, '--mask', '2:f1,f2', '--mask', '1:f3');
    expect(parts[0]!.maskedMm2 / parts[0]!.faces[2]!.areaMm2).toBeCloseTo(1, 12);
    const [f1, f2] = parts[1]!.faces;
    expect(parts[1]!.maskedMm2).toBeCloseTo(f1!.areaMm2 + f2!.areaMm2, 6);
  });

  it('splits what the supply cannot hold at once into loads', () => {
    const { plan: run, warnings } = planned(
      ...[at('block.stl'), '--unit', 'in', ...FILM, '--quantity', '5', '--supply', '8A'],
    );
    // Two blocks take 7.33 A, three 11 A: 2 + 2 + 1.
    expect(run!.loads).toBe(3);
    expect(run!.currentA).toBeCloseTo((5 * 88) / 24, 9);
    expect(run!.loadCurrentA).toBeCloseTo((2 * 88) / 24, 9);
    expect(run!.supplyHolds).toBe(true);
    expect(warnings.map((warning) => warning.code)).toContain('several-loads');
    for (const option of run!.options!) expect(option.currentA).toBeLessThanOrEqual(8 + 1e-9);
  });

  it('says what a supply too small for one piece could hold', () => {
    const { plan: run, warnings } = planned(at('block.stl'), '--unit', 'in', ...FILM, '--supply', '3A');
    expect(run!.supplyHolds).toBe(false);
    expect(warnings.map((warning) => warning.code)).toContain('supply-too-small');
    const [option] = run!.options!;
    const asf = 3 / (88 / 144);
    expect(option!.densityAPerM2).toBeCloseTo(asf / 0.3048 ** 2, 6);
    expect(option!.totalMinutes).toBeCloseTo(720 / asf + 2.5, 6);
  });

  it('an open mesh is measured and found open', () => {
    const { parts } = planned(at('open.stl'), '--unit', 'mm', ...FILM);
    expect(parts[0]!.closed).toBe(false);
    expect(parts[0]!.areaMm2).toBeCloseTo(2 * (1200 + 600 + 800) - 1200, 6);
    expect(parts[0]!.findings.map((finding) => finding.code)).toContain('open-edges');
  });
});

describe('a saved job', () => {
  it('gives its parts, treatments and process, which options win over', () => {
    const bytes = binaryStl(boxTriangles(...BLOCK));
    const part = newPart('a', 'block.stl', bytes.length, 'in', true);
    // Triangles 0 and 1 are the 4 × 4 in face at the bottom.
    const masked = { ...part, quantity: 2, coverage: { ...part.coverage, mask: [0, 2] } };
    const job = { ...emptyJob('two blocks'), parts: [masked] };
    writeFileSync(at('two.tankside'), packJob(job, new Map([[fileOf(part)!.entry, bytes]])));
    const fromJob = planned('--job', at('two.tankside'));
    expect(fromJob.plan!.areaMm2).toBeCloseTo(2 * 72 * IN2_MM2, 6);
    // The job's own process: 1 mil at 12 A/ft², 720/12 + 2.5 min.
    expect(fromJob.plan!.totalMinutes).toBeCloseTo(62.5, 9);
    expect(fromJob.warnings.map((warning) => warning.code)).toContain('no-contact');
    const changed = planned('--job', at('two.tankside'), ...FILM, '--quantity', '1', '--ramp', '0');
    expect(changed.plan!.areaMm2).toBeCloseTo(72 * IN2_MM2, 6);
    expect(changed.plan!.totalMinutes).toBeCloseTo(120, 9);
    const more = planned('--job', at('two.tankside'), at('box.obj'), '--unit', 'cm');
    expect(more.plan!.areaMm2).toBeCloseTo(2 * 72 * IN2_MM2 + 5200, 6);
  });

  it('goes in the loads that its tank has room for, as in the window', () => {
    const bytes = binaryStl(boxTriangles(60, 40, 20));
    const part = newPart('a', 'block.stl', bytes.length, 'mm', true);
    const tank = usualTank({ alongM: 0.06, acrossM: 0.04, heightM: 0.02, middleM: [0.03, 0.02, 0.01] });
    const three = { ...emptyJob('three blocks'), parts: [{ ...part, quantity: 3 }] };
    const write = (job: Job): string => {
      writeFileSync(at('three.tankside'), packJob(job, new Map([[fileOf(part)!.entry, bytes]])));
      return at('three.tankside');
    };
    const free = planned('--job', write(three)).plan!;
    expect(free.loads).toBe(1);
    // 260 mm long, 30 mm kept free at both walls and between parts: two of 60 mm take 150 of 200 mm, three 240.
    const hung = planned('--job', write(chooseTank(three, tank))).plan!;
    expect(hung.loads).toBe(2);
    expect(hung.loadCurrentA).toBeCloseTo((2 / 3) * hung.currentA, 6);
    expect(hung.currentA).toBeCloseTo(free.currentA, 9);
  });

  it('judges its pins: one in the middle of a thick block has nothing to hold against', () => {
    const bytes = binaryStl(boxTriangles(...BLOCK));
    const part = newPart('a', 'block.stl', bytes.length, 'in', true);
    const [bottom] = boxTriangles(...BLOCK);
    const codes = (patchDiameterM: number): string[] => {
      const [x, y, z] = [0, 1, 2].map(
        (axis) => (bottom![axis]! + bottom![axis + 3]! + bottom![axis + 6]!) / 3,
      );
      const pin = {
        id: 'pin',
        at: [x!, y!, z!] as [number, number, number],
        triangle: 0,
        patchDiameterM,
        hanger: FIRST_HANGER,
      };
      const job = { ...emptyJob('pinned'), parts: [{ ...part, contacts: [pin] }] };
      writeFileSync(at('pinned.tankside'), packJob(job, new Map([[fileOf(part)!.entry, bytes]])));
      return planned('--job', at('pinned.tankside')).warnings.map(({ code }) => code);
    };
    // 4 in wide: a sprung clamp opens 30 mm (common practice). 88 in² at 12 A/ft² is 7.33 A, which wants 7.9 mm²
    // of metal; a 4 mm patch has 12.6 mm², one of 3 mm 7.1 mm².
    const found = codes(4e-3);
    expect(found).toContain('pin-slips');
    expect(found).not.toContain('pin-small');
    expect(found).not.toContain('pins-not-judged');
    expect(codes(3e-3)).toContain('pin-small');
  });

  it('marks figures that rest on a unit never confirmed', () => {
    const bytes = binaryStl(boxTriangles(40, 30, 20));
    const part = newPart('a', 'box.stl', bytes.length, 'mm', false);
    writeFileSync(
      at('guess.tankside'),
      packJob({ ...emptyJob(''), parts: [part] }, new Map([[fileOf(part)!.entry, bytes]])),
    );
    const guessed = planned('--job', at('guess.tankside'));
    expect(guessed.warnings.map((warning) => warning.code)).toContain('unit-unconfirmed');
    expect(plan('--job', at('guess.tankside')).out).toContain('NOT CONFIRMED');
    const confirmed = planned('--job', at('guess.tankside'), '--unit', 'mm');
    expect(confirmed.warnings.map((warning) => warning.code)).not.toContain('unit-unconfirmed');
  });
});

describe('text for people', () => {
  it('says what was read, with sizes, areas, plan and cautions, each number with its unit', () => {
    const { code, out, err } = plan(at('block.stl'), '--unit', 'in', ...FILM);
    expect(err).toBe('');
    expect(code).toBe(0);
    for (const text of [
      /binary STL, 12 triangles, closed/,
      /102 × 102 × 88\.9 mm = 4\.00 × 4\.00 × 3\.50 in/,
      /567\.7 cm² = 5\.677 dm² = 88\.00 in² = 0\.6111 ft²/,
      /f1\s+plane/,
      /Current\s+3\.67 A|Current\s+3\.667 A/,
      /Ramp\s+5(\.0+)? min/,
      /Hold\s+117\.5 min/,
      /Power on for 122\.5 min \(2 h 2 min 30 s\)/,
      /Power on\s+122\.5 min = 2:02:30 h:min:s\n/,
      /Charge\s+7\.33\d* A·h/,
      /Loads\s+1/,
      /acid into water/,
    ]) {
      expect(out).toMatch(text);
    }
    expect(out).not.toContain('source:');
  });

  it('--working adds formula, inputs and source', () => {
    const { out } = plan(at('block.stl'), '--unit', 'in', ...FILM, '--working');
    expect(out).toMatch(/t_h = k · d \/ j/);
    expect(out).toMatch(/k = 3\.05\d* A·min\/dm²\/µm/);
    expect(out).toMatch(/source: .*720/);
  });
});

describe('what is wrong with the input', () => {
  const expectRefusal = (ended: Ended, ...texts: (string | RegExp)[]): void => {
    expect(ended.code).toBe(2);
    expect(ended.out).toBe('');
    expect(ended.err).not.toMatch(/\n\s+at |Error:/);
    for (const text of texts) expect(ended.err).toMatch(text);
  };

  it('refuses to measure in a unit nobody gave, and lists the sizes to choose from', () => {
    for (const json of [[], ['--json']]) {
      const ended = plan(at('block-mm.stl'), at('block.stl'), ...FILM, ...json);
      expectRefusal(ended, /block-mm\.stl: STL carries no unit/, /block\.stl: STL carries no unit/);
      expect(ended.err).toMatch(/--unit mm\s+101\.6 × 101\.6 × 88\.90 mm = 4\.000 × 4\.000 × 3\.500 in/);
      expect(ended.err).toMatch(/--unit in\s+101\.6 × 101\.6 × 88\.90 mm/);
      expect(ended.err).toMatch(/Proposed: mm/);
      expect(ended.err).toMatch(/Proposed: in/);
    }
  });

  const block = (): string => at('block.stl');
  it.each<[string, () => string[], RegExp]>([
    ['no file', () => ['--unit', 'mm', ...FILM], /No model is named/],
    ['missing file', () => ['nowhere.stl', '--unit', 'mm', ...FILM], /nowhere\.stl: There is no such file/],
    ['folder', () => ['core', '--unit', 'mm', ...FILM], /core: This is a folder/],
    ['bad unit', () => [block(), '--unit', 'furlong', ...FILM], /“furlong” is not a unit/],
    ['no film', () => [block(), '--unit', 'in'], /--thickness .* and --density .* are not given/],
    [
      'bare number',
      () => [block(), '--unit', 'in', '--thickness', '25', '--density', '6A/ft2'],
      /--thickness: “25” has no unit/,
    ],
    [
      'wrong kind',
      () => [block(), '--unit', 'in', '--thickness', '1mil', '--density', '6A'],
      /--density: “A” is not a unit/,
    ],
    [
      'too thick',
      () => [block(), '--unit', 'in', '--thickness', '1in', '--density', '6A/ft2'],
      /--thickness: .*\n\s+Use .*µm/,
    ],
    [
      'ramp too long',
      () => [block(), '--unit', 'in', ...FILM, '--ramp', '50min', '--thickness', '1um'],
      /--ramp: The ramp alone/,
    ],
    [
      'no pieces',
      () => [block(), '--unit', 'in', ...FILM, '--quantity', '0'],
      /“0” is not a number of pieces/,
    ],
    [
      'part of a piece',
      () => [block(), '--unit', 'in', ...FILM, '--quantity', '1.5'],
      /“1\.5” is not a number of pieces/,
    ],
    [
      'counts',
      () => [block(), '--unit', 'in', ...FILM, '--quantity', '1,2'],
      /--quantity is given 2 times for 1 part/,
    ],
    ['unknown option', () => [block(), '--frobnicate'], /Unknown option '--frobnicate'/],
    ['option without value', () => [block(), '--unit'], /--unit/],
    [
      'unknown face',
      () => [block(), '--unit', 'in', ...FILM, '--mask', 'f9'],
      /part 1 has no face f9\.\n\s+It has f1 to f6/,
    ],
    ['no face', () => [block(), '--unit', 'in', ...FILM, '--mask', 'top'], /“top” does not name a face/],
    ['unknown part', () => [block(), '--unit', 'in', ...FILM, '--mask', '2:f1'], /there is no part 2/],
    [
      'whose face',
      () => [block(), block(), '--unit', 'in', ...FILM, '--mask', 'f1'],
      /could be in any of them/,
    ],
    ['web page', () => [at('page.stl'), '--unit', 'mm', ...FILM], /page\.stl: This is a web page/],
    ['truncated', () => [at('cut.stl'), '--unit', 'mm', ...FILM], /ends after 4: 8 are missing/],
    ['job that is none', () => ['--job', at('block.stl')], /not a Tankside job/],
    ['job missing', () => ['--job', at('none.tankside')], /no such file/],
  ])('%s: exit code 2, said plainly', (_, args, text) => {
    expectRefusal(plan(...args()), text);
  });

  it('every broken file of stl-models ends in a plan or a plain refusal', () => {
    const broken = 'node_modules/stl-models/broken';
    for (const name of readdirSync(broken)) {
      const ended = plan(join(broken, name), '--unit', 'cm', ...FILM, '--json');
      expect([0, 2]).toContain(ended.code);
      if (ended.code === 0) {
        const object = planObject.parse(JSON.parse(ended.out));
        if (/missingFace|singleFace/.test(name)) expect(object.parts[0]!.closed).toBe(false);
      } else {
        expectRefusal(ended, new RegExp(name.replaceAll('.', '\\.')));
      }
    }
  });
});

describe('npm run plan', () => {
  it('builds, plans and prints one JSON object and nothing else', { timeout: 120_000 }, () => {
    const args = [
      'run',
      '-s',
      'plan',
      '--',
      at('block.stl'),
      '--unit',
      'in',
      ...FILM,
      '--ramp',
      '0min',
      '--json',
    ];
    const ended = spawnSync('npm', args, { encoding: 'utf8', shell: process.platform === 'win32' });
    expect(ended.status).toBe(0);
    const object = planObject.parse(JSON.parse(ended.stdout));
    expect(object.plan!.currentA).toBeCloseTo(88 / 24, 9);
    expect(object.plan!.totalMinutes).toBeCloseTo(120, 9);
  });
});
