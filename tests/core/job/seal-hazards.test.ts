/** What can hurt at the seal, and how long it takes, as stage, sheet and board have it. */
import { describe, expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, changeProcess } from '../../../core/job/edit-job.ts';
import { changeFinishSection } from '../../../core/job/edit-wet.ts';
import { jobMessages } from '../../../core/job/job-messages.ts';
import type { SealChoice } from '../../../core/job/job-finish.ts';
import type { Job } from '../../../core/job/job.ts';
import { runSteps } from '../../../core/job/job-steps.ts';
import { makeRunSheet } from '../../../core/job/run-sheet.ts';
import { sealCautions } from '../../../core/job/wet-steps.ts';
import { sealWay } from '../../../core/reference/seal-ways.ts';
import { valueOf } from '../value-of.ts';

const sealed = (way: Exclude<SealChoice, 'none'>, ph: number | null = null): Job => {
  const job = addPart(emptyJob('plate'), newPart('p', 'plate.stl', 3, 'mm', true));
  return changeFinishSection(job, 'seal', { way, temperatureK: sealWay(way).usualK, ph });
};
const planOf = (job: Job) => valueOf(planRun([{ name: 'plate', areaM2: 0.02, quantity: 1 }], job.process));
const sheetOf = (job: Job) => makeRunSheet(job, planOf(job), undefined, 'metric');
const sealStep = (job: Job) => sheetOf(job).steps.find(({ kind }) => kind === 'seal')!;
const onBoard = (job: Job): string => (runSteps(job, [sealStep(job)])[0]?.cautions ?? []).join(' ');
const openCodes = (job: Job) =>
  jobMessages(job, {}, { ok: true, value: planOf(job) }, { heat: null, fits: {} })
    .filter(({ level }) => level === 'check')
    .map(({ code }) => code);

describe('a seal’s cautions', () => {
  it('a cold nickel fluoride seal: fluoride and nickel, and no scald', () => {
    const job = sealed('cold nickel');
    for (const text of [
      sealCautions(job)
        .map((caution) => caution.text)
        .join(' '),
      sheetOf(job)
        .cautions.map((caution) => caution.text)
        .join(' '),
      onBoard(job),
    ]) {
      expect(text).toMatch(/nickel/i);
      expect(text).toMatch(/fluoride.*gluconate/i);
      expect(text).not.toMatch(/scald/i);
    }
  });

  it('hot water scalds and has neither; steam says vented, at 100 °C unless somebody types more', () => {
    const hot = sealed('hot water');
    expect(sealCautions(hot).map(({ id }) => id)).toEqual(['dye-hot']);
    expect(onBoard(hot)).toMatch(/scald/);
    expect(onBoard(hot)).not.toMatch(/nickel|fluoride/i);
    const steam = sealed('steam');
    expect(steam.finish.seal.temperatureK).toBeCloseTo(373.15, 9);
    expect(openCodes(steam)).not.toContain('seal-pressure');
    expect(sealCautions(steam).map(({ id }) => id)).toContain('steam-pressure');
    expect(openCodes(changeFinishSection(steam, 'seal', { temperatureK: 383.15 }))).toContain(
      'seal-pressure',
    );
  });

  it('a pH off is open before the power goes on', () => {
    expect(openCodes(sealed('hot water', 4))).toContain('seal-ph');
    expect(openCodes(sealed('hot water', 6))).not.toContain('seal-ph');
  });

  it('25 µm at 98 °C take 62.5 min, and the timer stands at 1:02:30', () => {
    const job = changeProcess(sealed('hot water'), { thicknessM: 25e-6 });
    // Halfway between 2 and 3 min/µm: 2.5 · 25.
    expect(sealStep(job).plannedS).toBe(62.5 * 60);
  });
});
