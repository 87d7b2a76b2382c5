/** Currents too small to set. Steps of 0.01 A: common practice of workshop supplies with two digits after the point. */
import { expect, test } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { emptyJob } from '../../../core/job/default-job.ts';
import { jobMessages } from '../../../core/job/job-messages.ts';
import { valueOf } from '../value-of.ts';

/** A job at 1 A/dm², so that a square centimetre takes 0.01 A. */
function said(areaCm2: number, quantity = 1): string[] {
  const job = emptyJob('small');
  job.process.currentDensityAPerM2 = 100;
  const plan = planRun([{ name: 'pin', areaM2: areaCm2 * 1e-4, quantity }], job.process);
  valueOf(plan);
  return jobMessages(job, {}, plan)
    .filter(({ code }) => code === 'current-small')
    .map(({ message }) => message);
}

test('a pin of 0.11 cm² takes less than one step of the supply, one of 5 cm² only five', () => {
  expect(said(0.11)).toEqual([expect.stringMatching(/^0\.00110? A is less .* one is more than all of it/)]);
  expect(said(5)).toEqual([expect.stringMatching(/^0\.05\d* A .* one is 20 % of it/)]);
});

test('from ten steps on nothing is said, nor of many small pieces that hang together', () => {
  expect(said(10)).toEqual([]);
  expect(said(9.9)).toHaveLength(1);
  expect(said(0.11, 200)).toEqual([]);
});
