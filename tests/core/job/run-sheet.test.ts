import fc from 'fast-check';
import { expect, it } from 'vitest';
import { planRun, type RunPlan } from '../../../core/electrical/plan-run.ts';
import { emptyJob } from '../../../core/job/default-job.ts';
import { changeBath } from '../../../core/job/edit-job.ts';
import { changeFinish, changeFinishSection, changeMix } from '../../../core/job/edit-wet.ts';
import type { Job } from '../../../core/job/job.ts';
import { makeRunSheet, readingTimes } from '../../../core/job/run-sheet.ts';

it('reads at the start, at the ramp’s end, at the end, and about a quarter of an hour apart at most', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 10 }), fc.integer({ min: 20, max: 180 }), (ramp, hold) => {
      const times = readingTimes(ramp, ramp + hold);
      expect(times[0]).toBe(0);
      expect(times).toContain(ramp);
      expect(times.at(-1)).toBe(ramp + hold);
      expect(times.length).toBeLessThanOrEqual(16);
      // The last interval may be a quarter longer, in place of two lines close together.
      for (let i = 1; i < times.length; i++) expect(times[i]! - times[i - 1]!).toBeLessThanOrEqual(18.75);
    }),
  );
});

const planned = (job: Job): RunPlan => {
  const plan = planRun([{ name: 'plate', areaM2: 0.0242, quantity: 1 }], job.process);
  if (!plan.ok) throw new Error(plan.error.message);
  return plan.value;
};
const said = (job: Job): string =>
  makeRunSheet(job, planned(job))
    .cautions.map((caution) => caution.text)
    .join(' ')
    .toLowerCase();

it('carries the plan’s own numbers, and the usual cautions', () => {
  const job = emptyJob('plate');
  const sheet = makeRunSheet(job, planned(job));
  const step = (id: string) => sheet.steps.find((candidate) => candidate.id === id)!;
  expect(step('hold').title).toBe('Hold 3.13 A'); // 12 A/ft² · 0.0242 m² / 0.09290304 m²/ft²
  expect(step('hold').minutes).toBe('57.5');
  expect(step('seal').minutes).toBe('51-77'); // 2-3 min/µm of 25.4 µm (Qualanod, from memory), whole minutes up
  for (const word of ['acid into water', 'ventilate', 'goggles', 'hydrogen', 'power off', 'local']) {
    expect(said(job)).toContain(word);
  }
});

it('prints etch, dye and mix of this job alone, and only the cautions they need', () => {
  const plain = emptyJob('plate');
  const ids = (job: Job): string[] => makeRunSheet(job, planned(job)).steps.map(({ id }) => id);
  for (const id of ['etch', 'desmut', 'dye', 'mix']) expect(ids(plain)).not.toContain(id);
  for (const word of ['lye', 'nickel', 'lead cathodes', 'chromium']) expect(said(plain)).not.toContain(word);

  let full = changeFinishSection(plain, 'etch', { use: true, timeS: 120 });
  full = changeFinishSection(full, 'dye', {
    use: true,
    name: 'Deep red',
    recipe: { as: 'concentration', dyeKgPerM3: 5 },
    potM3: 4e-3,
    timeS: 450,
  });
  full = changeFinishSection(full, 'seal', { way: 'warm nickel', temperatureK: 353.15 });
  full = changeBath(changeMix(full, { acidText: '35 %', volumeM3: 12e-3, onSheet: true }), {
    leadCathodes: true,
  });
  full = changeFinish(full, { specification: 'ISO 7599 AA20' });
  const sheet = makeRunSheet(full, planned(full));
  const step = (id: string) => sheet.steps.find((candidate) => candidate.id === id)!;
  expect(ids(full).indexOf('etch')).toBeLessThan(ids(full).indexOf('ramp'));
  expect(ids(full).indexOf('dye')).toBeLessThan(ids(full).indexOf('seal'));
  expect(step('etch').minutes).toBe('2');
  expect(step('dye').minutes).toBe('7.5');
  expect(step('dye').detail).toContain('20 g in 4 L'); // 5 g/L · 4 L
  expect(step('seal').minutes).toBe('7-20'); // nickel acetate, handbooks and Sci. Rep. 2021 as in the table
  // 12 L of 180 g/L hold 2.16 kg of acid, in 6.171 kg of 35 %.
  expect(step('mix').detail).toContain('6.171 kg');
  for (const word of ['lye', 'nickel', 'lead cathodes', 'chromium']) expect(said(full)).toContain(word);
  // A reader with US instruments: 80 °C is 176 °F, 20 °C is 68 °F; 12 L are 3.170 US gal less what the acid is.
  const us = makeRunSheet(full, planned(full), undefined, 'us').steps;
  const inUs = (id: string) => us.find((candidate) => candidate.id === id)!;
  expect(inUs('seal')).toMatchObject({
    detail: expect.stringContaining('176 °F (80 °C)'),
    record: ['°F', 'min'],
  });
  expect(inUs('ready')).toMatchObject({ detail: expect.stringContaining('68 °F'), record: ['bath °F'] });
  expect(inUs('mix').detail).toContain('US gal');
});
