/** `tankside field` as it is run: a job on disk, its JSON against a schema and what must hold of any solution. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { packJob } from '../../../core/job/container.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import { changeField } from '../../../core/job/edit-field.ts';
import { fileOf } from '../../../core/job/part-source.ts';
import { usualTank } from '../../../core/job/usual-tank.ts';
import type { Job } from '../../../core/job/job.ts';
import { binaryStl, boxTriangles } from '../../fixtures/model-bytes.ts';
import { runTankside } from './run-tankside.ts';

const positive = z.number().positive();
const report = z.object({
  file: z.string(),
  meanUm: positive,
  leastUm: positive,
  mostUm: positive,
  areaMm2: positive,
  limitUm: positive,
  areaBelowLimitMm2: z.number().nonnegative(),
  thicknessForLeastUm: positive.nullable(),
  volts: positive,
  faces: z
    .array(
      z.object({
        id: z.string(),
        areaMm2: positive,
        meanUm: positive,
        leastUm: positive,
        currentA: positive,
      }),
    )
    .length(6),
  currents: z.array(z.object({ name: z.string(), role: z.enum(['anode', 'cathode']), currentA: z.number() })),
  chargeBalance: z.object({
    plannedA: positive,
    anodeA: positive,
    cathodeA: positive,
    imbalance: z.number().max(1e-6),
  }),
  grid: z.object({ cells: positive, spacingMm: positive, bytes: positive, residual: z.number().max(1e-6) }),
  errorEstimate: z.object({
    leastUm: z.number().nonnegative(),
    volts: z.number().nonnegative(),
    rmsShare: z.number().nonnegative(),
  }),
  wagnerNumber: positive,
  bores: z.array(z.unknown()),
  assumed: z.array(z.string()),
});

let folder: string;
const at = (name: string): string => join(folder, name);

function writeJob(name: string, change: (job: Job) => Job, pieces = 1): string {
  const bytes = binaryStl(boxTriangles(60, 40, 20));
  const parts = Array.from({ length: pieces }, (_, i) =>
    newPart(`p${i + 1}`, `block-${i + 1}.stl`, bytes.length, 'mm', true),
  );
  const job = change(changeField({ ...emptyJob('block'), parts }, { grid: 'quick' }));
  writeFileSync(at(name), packJob(job, new Map(parts.map((part) => [fileOf(part)!.entry, bytes]))));
  return at(name);
}
const inTank = (job: Job): Job =>
  chooseTank(job, usualTank({ alongM: 0.06, acrossM: 0.04, heightM: 0.02, middleM: [0, 0, 0] }));

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankside-field-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('field', () => {
  it('prints what the plan puts where, in balance', () => {
    const ended = runTankside('field', writeJob('block.tankside', inTank), '--json');
    expect(ended.code).toBe(0);
    expect(ended.err).toContain('MB');
    const one = report.parse(JSON.parse(ended.out));
    // The job's own plan: one mil at 12 A/ft², over 2 (60·40 + 60·20 + 40·20) mm².
    const areaM2 = 88e-4;
    expect(one.areaMm2).toBeCloseTo(8800, 3);
    expect(one.chargeBalance.plannedA).toBeCloseTo((12 / 0.09290304) * areaM2, 6);
    expect(one.chargeBalance.anodeA / one.chargeBalance.plannedA).toBeCloseTo(1, 5);
    expect(one.meanUm).toBeCloseTo(25.4, 3);
    expect(one.leastUm).toBeLessThan(one.meanUm);
    expect(one.mostUm).toBeGreaterThan(one.meanUm);
    expect(one.faces.reduce((sum, { currentA }) => sum + currentA, 0)).toBeCloseTo(
      one.chargeBalance.plannedA,
      4,
    );
    // Top and bottom, and each pair of sides, see the same: half the sheets' height apart at most.
    expect(one.faces[2]!.meanUm / one.faces[3]!.meanUm).toBeCloseTo(1, 3);
    expect(one.assumed).toEqual(['No load hangs in the tank yet: one piece is taken, in the middle.']);
  });

  it('takes no tank silently', () => {
    const path = writeJob('no-tank.tankside', (job) => job);
    const refused = runTankside('field', path, '--json');
    expect(refused.code).toBe(2);
    expect(refused.out).toBe('');
    expect(refused.err).toContain('--usual-tank');
    const taken = runTankside('field', path, '--usual-tank', '--json');
    expect(taken.code).toBe(0);
    expect(report.parse(JSON.parse(taken.out)).assumed[0]).toContain('usual one');
  });

  it('prints text with the working, and the least the user needs', () => {
    const path = writeJob('least.tankside', (job) => changeField(inTank(job), { leastM: 30e-6 }));
    const text = runTankside('field', path, '--working');
    expect(text.code).toBe(0);
    for (const words of [
      'Mean thickness',
      'Least thickness',
      'd = j / I · Q / k',
      'source:',
      'faces, thinnest first',
      'sheet y-',
    ])
      expect(text.out).toContain(words);
    const one = report.parse(JSON.parse(runTankside('field', path, '--json').out));
    expect(one.limitUm).toBeCloseTo(30, 9);
    expect(one.areaBelowLimitMm2).toBeCloseTo(8800, 3);
    // Thickness goes with charge: 25.4 µm planned gives the least, so 30 µm there wants 25.4 · 30 / least.
    expect(one.thicknessForLeastUm).toBeCloseTo(
      (25.4 * 30) / Math.min(...one.faces.map((f) => f.leastUm)),
      3,
    );
  });

  it('several parts come as a list, one of them by its number', () => {
    const path = writeJob('two.tankside', inTank, 2);
    const both = JSON.parse(runTankside('field', path, '--json').out) as { parts: unknown[] };
    expect(both.parts.map((part) => report.parse(part).file)).toEqual(['block-1.stl', 'block-2.stl']);
    expect(report.parse(JSON.parse(runTankside('field', path, '--part', '2', '--json').out)).file).toBe(
      'block-2.stl',
    );
  });

  it('maps the load that is asked for, as it hangs in the job or by the plan, and says which', () => {
    // Two pieces of 88 cm² at 12 A/ft² take 1.14 A each: a supply of 1.5 A holds one, so two loads, alike.
    const path = writeJob(
      'loads.tankside',
      (job) => ({ ...inTank(job), process: { ...job.process, supplyCurrentLimitA: 1.5 } }),
      2,
    );
    const asked = runTankside('field', path, '--load', '2', '--json');
    expect(asked.err).not.toContain('block-1.stl');
    const one = z.object({ of: z.string(), file: z.string() }).parse(JSON.parse(asked.out));
    expect(one).toEqual({ of: 'load 2, hung as the plan hangs it, evenly spaced', file: 'block-2.stl' });
    const refused = runTankside('field', path, '--load', '3', '--json');
    expect([refused.code, refused.out]).toEqual([2, '']);
    expect(refused.err).toContain('the job has 2 loads, and 3 is none of them');
    expect(runTankside('field', path, '--load', '1', '--part', '2').code).toBe(2);
  });

  it.each([
    [[], 'No job is named'],
    [['--grid', 'huge'], 'quick, usual, fine, finest'],
    [['--part', '0'], 'not the number of a part'],
    [['--part', '7'], 'none of them'],
    [['--wrong'], 'wrong'],
  ])('%j is refused with what to do', (args, words) => {
    const files = args.length === 0 ? [] : [writeJob('refused.tankside', inTank)];
    const ended = runTankside('field', ...files, ...args);
    expect(ended.code).toBe(2);
    expect(ended.out).toBe('');
    expect(ended.err).toContain(words);
  });

  it('says of a missing and of a damaged job what is wrong', () => {
    writeFileSync(at('broken.tankside'), 'PK no zip');
    for (const name of ['broken.tankside', 'none.tankside']) {
      const ended = runTankside('field', at(name));
      expect(ended.code).toBe(2);
      expect(ended.err).toContain(name);
    }
  });
});
