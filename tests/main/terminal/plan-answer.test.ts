/** What `plan` says and in which order: the answer first, then why; and what it says when it cannot answer. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { packJob } from '../../../core/job/container.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { fileOf } from '../../../core/job/part-source.ts';
import { writeBinaryStl } from '../../../main/demo/write-binary-stl.ts';
import { clockText } from '../../../main/terminal/plan-text.ts';
import { binaryStl, boxTriangles } from '../../fixtures/model-bytes.ts';
import { box, cylinder, sphere } from '../../fixtures/shapes.ts';
import { runTankside } from './run-tankside.ts';

const folder = mkdtempSync(join(tmpdir(), 'tankside-answer-'));
afterAll(() => rmSync(folder, { recursive: true }));
const keep = (name: string, bytes: Uint8Array | string): string => {
  writeFileSync(join(folder, name), bytes);
  return join(folder, name);
};
const stl = (name: string, soup: Float32Array): string =>
  keep(
    name,
    writeBinaryStl(
      soup,
      Uint32Array.from({ length: soup.length / 3 }, (_, i) => i),
      'test',
    ),
  );
const FILM = ['--thickness', '1mil', '--density', '12A/ft2'];

/** 4 × 4 × 3.5 in: 88 in². */
const block = keep('block.stl', binaryStl(boxTriangles(4, 4, 3.5)));
/** Every second triangle's corners moved by up to 2 nm of a 20 mm ball, as an export rounds. */
const torn = (() => {
  const positions = sphere(10, 32, 16);
  for (let i = 0; i < positions.length; i++) {
    if (((i / 9) | 0) % 2 === 0) positions[i]! += 2e-6 * ((((i * 7919) % 13) - 6) / 6);
  }
  return stl('torn.stl', positions);
})();

describe('the order', () => {
  const { out } = runTankside('plan', block, '--unit', 'in', ...FILM);

  test('amps and minutes stand on top, the part below, the cautions last', () => {
    // 88 in² at 12 A/ft²: 88 / 144 · 12 = 7.333 A; 720 / 12 = 60 min, and half of 5 min of ramp.
    expect(out.split('\n').slice(0, 2)).toEqual([
      'Set 7.33 A.',
      'Power on for 62.5 min (1 h 2 min 30 s): ramp up over 5 min, then hold 57.5 min.',
    ]);
    const places = ['Set ', 'Plan for', 'Part 1', 'Cautions'].map((text) => out.indexOf(text));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(out).toContain('--supply 10A');
  });

  test('a supply that cannot hold it is told in place of a setting; of several loads the largest is set', () => {
    const weak = runTankside('plan', block, '--unit', 'in', ...FILM, '--supply', '3A').out;
    expect(weak.split('\n')[0]).toContain('cannot hold');
    expect(weak).not.toMatch(/^Set /m);
    const five = runTankside(
      'plan',
      block,
      '--unit',
      'in',
      ...FILM,
      '--supply',
      '16A',
      '--quantity',
      '5',
    ).out;
    expect(five).toMatch(/^Set 14\.7 A for the largest of 3 loads\.\nPower on for 62\.5 min .* each:/);
  });

  test('what is doubtful about a part is named above it', () => {
    const open = stl('open.stl', box(40, 30, 20).slice(18));
    const said = runTankside('plan', open, '--unit', 'mm', ...FILM).out;
    expect(said.indexOf('part 1 has a finding')).toBeGreaterThan(0);
    expect(said.indexOf('part 1 has a finding')).toBeLessThan(said.indexOf('Part 1:'));
    expect(out).not.toContain('has a finding');
  });

  test('flat sides have no range, and none is printed', () => {
    expect(out).not.toContain('Range');
    for (const range of runTankside('plan', torn, '--unit', 'mm', ...FILM, '--weld').out.matchAll(
      /([\d.]+) to ([\d.]+) cm²/g,
    )) {
      expect(range[1]).not.toBe(range[2]);
    }
  });

  test.each([
    [3599, ''],
    [3600, ' (1 h)'],
    [3750, ' (1 h 2 min 30 s)'],
    [7200 - 0.4, ' (2 h)'],
    [7350, ' (2 h 2 min 30 s)'],
    [7205, ' (2 h 5 s)'],
  ])('%d s beside the minutes: “%s”', (seconds, text) => expect(clockText(seconds)).toBe(text));
});

describe('--weld', () => {
  test('joins what rounding tore, says so with the area before and after, and the ball counts as round', () => {
    const raw = runTankside('plan', torn, '--unit', 'mm', ...FILM);
    expect(raw.out).toContain('--weld joins them here');
    expect(raw.out).toContain('not closed');
    const welded = runTankside('plan', torn, '--unit', 'mm', ...FILM, '--weld');
    expect(welded.out).toMatch(/Repaired .*joined; area 12\.4\d+ cm² before, 12\.4\d+ after/);
    expect(welded.out).toContain('triangles, closed');
    const [part] = (
      JSON.parse(runTankside('plan', torn, '--unit', 'mm', ...FILM, '--weld', '--json').out) as {
        parts: {
          closed: boolean;
          areaMm2: number;
          findings: unknown[];
          repairs: { kind: string; areaBeforeMm2: number; areaAfterMm2: number }[];
        }[];
      }
    ).parts;
    expect(part).toMatchObject({ closed: true, findings: [], repairs: [{ kind: 'weld' }] });
    // The surface itself stays: corners move by nanometres. The whole ball has 4 π 10² mm²; its facets 0.8 % less.
    expect(part!.repairs[0]!.areaAfterMm2 / part!.repairs[0]!.areaBeforeMm2).toBeCloseTo(1, 6);
    expect(part!.areaMm2 / (400 * Math.PI)).toBeCloseTo(1, 3);
  });

  test('a closed part stays as it is, and that is said', () => {
    const said = runTankside('plan', block, '--unit', 'in', ...FILM, '--weld').out;
    expect(said).toContain('no torn edges lie near enough');
    expect(said).not.toContain('Repaired');
  });
});

describe('what cannot be planned', () => {
  const bytes = binaryStl(boxTriangles(4, 4, 3.5));
  const part = newPart('a', 'block.stl', bytes.length, 'in', true);
  const job = packJob(
    { ...emptyJob('block'), parts: [part] },
    new Map([[fileOf(part)!.entry, new Uint8Array(bytes)]]),
  );

  test('a saved job needs no --job when its name ends as one', () => {
    const opened = runTankside('plan', keep('saved.tankside', job), ...FILM);
    expect(opened.code).toBe(0);
    expect(opened.out).toMatch(/^Set 7\.33 A/);
    const two = runTankside('plan', keep('a.tankside', job), keep('b.tankside', job), ...FILM);
    expect(two).toMatchObject({ code: 2 });
    expect(two.err).toContain('2 jobs are named');
  });

  test('a model that is read into other triangles than when its faces were set says so', () => {
    const said = (triangleCount: number, mask: number[]): string => {
      const known = newPart('a', 'block.stl', bytes.length, 'in', true, triangleCount);
      const masked = { ...known, coverage: { ...known.coverage, mask } };
      const models = new Map([[fileOf(known)!.entry, new Uint8Array(bytes)]]);
      const file = keep('moved.tankside', packJob({ ...emptyJob('moved'), parts: [masked] }, models));
      return runTankside('plan', file, ...FILM).out;
    };
    expect(said(14, [0, 2])).toContain('read into 12 triangles now and into 14');
    expect(said(12, [0, 2])).not.toContain('triangles now');
    // Nothing was set that could lie elsewhere.
    expect(said(14, [])).not.toContain('triangles now');
  });

  test('a file that cannot be read is the only complaint', () => {
    for (const args of [['nowhere.stl'], ['--job', 'nowhere.tankside'], ['--job', block]]) {
      const { code, err, out } = runTankside('plan', ...args);
      expect(code).toBe(2);
      expect(out).toBe('');
      expect(err.trimEnd().split('\n')).toHaveLength(2);
    }
    expect(runTankside('plan', '--job', block).err).toContain('a job is what Tankside saved');
    // A readable one without a unit leaves two things to say.
    expect(runTankside('plan', block).err).toMatch(/--unit in[\s\S]*--thickness .* are not given/);
  });

  test('an amount below zero is called that, with how to write it', () => {
    for (const [option, wrong] of [
      ['--thickness', '-5um'],
      ['--density', '-1A/dm2'],
      ['--supply', '-10A'],
      ['--ramp', '-5min'],
    ] as const) {
      // prettier-ignore
      const { code, err } = runTankside('plan', block, '--unit', 'in', ...FILM, option, wrong);
      expect(code).toBe(2);
      expect(err).toContain(`${option}: “${wrong}” is below zero.`);
    }
    expect(runTankside('plan', block, '--unit', 'in', ...FILM, '--supply', '0A').err).toContain('is nothing');
  });

  test('a thread on a flat face: the cylinders are named', () => {
    const bolt = stl('bolt.stl', cylinder(3, 20, 64));
    const { code, err } = runTankside('plan', bolt, '--unit', 'mm', ...FILM, '--threaded', 'f1=M6');
    expect(code).toBe(2);
    expect(err).toMatch(/Name a cylinder: f\d\./);
    const flat = runTankside('plan', block, '--unit', 'in', ...FILM, '--threaded', 'f1=M6').err;
    expect(flat).toContain('no cylinder');
  });
});
