import fc from 'fast-check';
import { expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { emptyJob } from '../../../core/job/default-job.ts';
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

it('carries the plan’s own numbers, and the usual cautions', () => {
  const job = emptyJob('plate');
  const plan = planRun([{ name: 'plate', areaM2: 0.0242, quantity: 1 }], job.process);
  if (!plan.ok) throw new Error(plan.error.message);
  const sheet = makeRunSheet(job, plan.value);
  const step = (id: string) => sheet.steps.find((candidate) => candidate.id === id)!;
  expect(step('hold').title).toBe('Hold 3.13 A'); // 12 A/ft² · 0.0242 m² / 0.09290304 m²/ft²
  expect(step('hold').minutes).toBe('57.5');
  expect(step('seal').minutes).toBe('51-77'); // 2-3 min/µm of 25.4 µm (Qualanod, from memory), whole minutes up
  const said = sheet.cautions.map((caution) => caution.text).join(' ');
  for (const word of ['acid into water', 'ventilate', 'Goggles', 'hydrogen', 'Lye', 'Power off', 'local']) {
    expect(said.toLowerCase()).toContain(word.toLowerCase());
  }
});
