import fc from 'fast-check';
import { expect, it } from 'vitest';
import { planRun, type RunPlan } from '../../../core/electrical/plan-run.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, changeBath } from '../../../core/job/edit-job.ts';
import { changeFinish, changeFinishSection, changeMix, changeStrips } from '../../../core/job/edit-wet.ts';
import { watchAdvice } from '../../../core/run/watch-advice.ts';
import type { Job } from '../../../core/job/job.ts';
import { jobSteps, runSteps } from '../../../core/job/job-steps.ts';
import { makeRunSheet } from '../../../core/job/run-sheet.ts';
import { powerCaution } from '../../../core/reference/step-cautions.ts';
import { timerText } from '../../../core/units/timer-text.ts';
import { readingDueS, readingTimes } from '../../../core/run/reading-times.ts';

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

it('asks for a typed reading when the table has one and none was taken near it', () => {
  // A ramp of 5 min and a hold of 57.5: the table has 0, 5, 10, 20, … 60, 62.5 min.
  const due = (lastMin: number | null, powerMin: number): number | null => {
    const dueS = readingDueS(300, 3450, lastMin === null ? null : lastMin * 60, powerMin * 60);
    return dueS === null ? null : dueS / 60;
  };
  expect(readingTimes(5, 62.5).slice(0, 4)).toEqual([0, 5, 10, 20]);
  expect(due(null, 4)).toBeNull(); // the ramp is enough to do
  expect(due(null, 5)).toBe(5);
  expect(due(5, 9.9)).toBeNull();
  expect(due(5, 10)).toBe(10);
  expect(due(8, 12)).toBeNull(); // a little early counts
  expect(due(10, 19)).toBeNull();
  expect(due(10, 27)).toBe(20);
  // A hold that takes longer than planned is read on.
  expect(due(62.5, 64)).toBeNull();
  expect(due(62.5, 80)).not.toBeNull();
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 900 }), fc.integer({ min: 60, max: 9000 }), (ramp, hold) => {
      // Read whenever asked, it is never asked again at once; never read, it is asked all the time from the ramp's end on.
      for (let powerS = ramp + 60; powerS < ramp + 2 * hold; powerS += 61) {
        expect(readingDueS(ramp, hold, powerS, powerS)).toBeNull();
      }
      expect(readingDueS(ramp, hold, null, ramp + hold + 60)).not.toBeNull();
    }),
    { seed: 3, numRuns: 60 },
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
  expect(step('hold').plannedS).toBe(57.5 * 60);
  expect(step('seal').detail).toContain('51 to 77 min'); // 2-3 min/µm of 25.4 µm (Qualanod, from memory), whole minutes up
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
  expect(step('etch').plannedS).toBe(120);
  expect(step('dye').plannedS).toBe(450);
  expect(step('dye').title).toBe('Dye with Deep red');
  const unnamed = changeFinishSection(full, 'dye', { name: ' ', shade: 'black' });
  const titles = makeRunSheet(unnamed, planned(unnamed)).steps.map(({ title }) => title);
  expect(titles).toContain('Dye, black shade (no dye named)');
  expect(step('dye').detail).toContain('20 g in 4 L'); // 5 g/L · 4 L
  expect(step('seal').detail).toContain('7 to 20 min'); // nickel acetate, handbooks and Sci. Rep. 2021 as in the table
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
  // 20 g by 28.3495 g/oz, 4 L by 3.78541 L/gal.
  expect(inUs('dye').detail).toContain('0.705 oz (20 g) in 1.06 US gal (4 L)');
});

it('a range and the time a timer is set to agree: the time lies in the range, and is one for a timer', () => {
  const job = changeFinishSection(changeFinishSection(emptyJob('plate'), 'dye', { use: true }), 'etch', {
    use: true,
  });
  let ranges = 0;
  for (const { detail, plannedS, id } of makeRunSheet(job, planned(job)).steps) {
    const [, low, high] = /(\d+) to (\d+) min/.exec(detail) ?? [];
    if (low === undefined || high === undefined || id === 'hold') continue;
    ranges++;
    expect(plannedS! / 60).toBeGreaterThanOrEqual(Number(low));
    expect(plannedS! / 60).toBeLessThanOrEqual(Number(high));
  }
  expect(ranges).toBe(5); // degrease, desmut, long rinse, dye, seal
  // 3600 s = 1 h; 2262.6 s = 37 min 42.6 s, by hand.
  expect([59.6, 60, 2262.6, 3600, 3909].map(timerText)).toEqual([
    '1:00',
    '1:00',
    '37:43',
    '1:00:00',
    '1:05:09',
  ]);
});

/** What a job may have on and off. */
const choices = fc.record({
  etch: fc.boolean(),
  desmut: fc.boolean(),
  dye: fc.boolean(),
  seal: fc.constantFrom('none', 'hot water', 'steam', 'warm nickel', 'mid temperature', 'cold nickel'),
  rampS: fc.constantFrom(0, 300),
});

it('sheet and board have one list of steps, whatever the job has on and off', () => {
  fc.assert(
    fc.property(choices, ({ etch, desmut, dye, seal, rampS }) => {
      let job = emptyJob('plate');
      job = { ...job, process: { ...job.process, rampS } };
      job = changeFinish(changeFinishSection(job, 'etch', { use: etch, timeS: 90 }), { desmut });
      job = changeFinishSection(changeFinishSection(job, 'dye', { use: dye }), 'seal', { way: seal });
      const plan = planned(job);
      const sheet = makeRunSheet(job, plan).steps;
      const ofLoad = {
        rampS: plan.rampS.valueSi,
        holdS: plan.holdS.valueSi,
        currentA: plan.loadCurrentA.valueSi,
        forAllLoads: false as const,
      };
      const board = runSteps(job, jobSteps(job, ofLoad, null, 'metric'));
      expect(board.map(({ label, detail }) => [label, detail])).toEqual(
        sheet.map(({ title, detail }) => [title, detail]),
      );
      const kinds = board.map(({ kind }) => kind);
      // The order of the trade: hang and clean, look whether it is clean, then acid; off before hands go in.
      const order = (...wanted: string[]): boolean =>
        wanted.every(
          (kind, i) => i === 0 || kinds.indexOf(kind as never) > kinds.indexOf(wanted[i - 1] as never),
        );
      expect(order('ready', 'hang', 'clean', 'water-break', 'hold', 'check')).toBe(true);
      // A desmut has nothing to take off where nothing was etched.
      expect(kinds.includes('etch')).toBe(etch);
      expect(kinds.includes('desmut')).toBe(etch && desmut);
      expect(kinds.includes('dye')).toBe(dye);
      expect(kinds.includes('seal')).toBe(seal !== 'none');
      expect(kinds.includes('ramp')).toBe(rampS > 0);
      // Each wet step is rinsed off before the next, the seal apart.
      board.forEach(({ kind }, i) => {
        if (['clean', 'etch', 'desmut', 'hold', 'dye'].includes(kind)) expect(kinds[i + 1]).toBe('rinse');
      });
      const afterHold = board[kinds.indexOf('hold') + 1]!;
      expect(afterHold.label).toMatch(/^Power off/);
      expect(afterHold.cautions![0]).toMatch(/^Acid drips/);
      expect(powerCaution(afterHold.kind, 'off')).toMatch(/^POWER OFF.*then hands in/);
      expect(powerCaution(afterHold.kind, 'may-be-on')).toMatch(/^POWER MAY BE ON.*then hands in/);
    }),
    { seed: 7, numRuns: 80 },
  );
});

it('has the cautions at the step where they matter', () => {
  let job = changeFinishSection(emptyJob('plate'), 'etch', { use: true, timeS: 120 });
  job = changeFinishSection(job, 'seal', { way: 'warm nickel', temperatureK: 353.15 });
  job = changeMix(job, { acidText: '35 %', volumeM3: 12e-3, onSheet: true });
  const plan = { rampS: 300, holdS: 3450, currentA: 3, forAllLoads: false as const };
  const said = (kind: string): string =>
    runSteps(job, jobSteps(job, plan, null, 'metric'))
      .filter((step) => step.kind === kind)
      .flatMap(({ cautions }) => cautions ?? [])
      .join(' ')
      .toLowerCase();
  expect(said('mix')).toContain('acid into water, never water into acid');
  for (const word of ['goggles', 'gloves', 'hydrogen', 'ventilation']) expect(said('ready')).toContain(word);
  expect(said('hang')).toContain('power off before you touch');
  for (const word of ['lye', 'goggles', 'hydrogen']) expect(said('etch')).toContain(word);
  expect(said('ramp')).toContain('hands out of the tank before the power goes on');
  expect(powerCaution('hold', 'on')).toContain('hands out. Switch off before you touch');
  for (const word of ['scald', 'nickel']) expect(said('seal')).toContain(word);
});

it('gives the advice for a lost contact that the alarm gives', () => {
  const job = emptyJob('plate');
  const hold = makeRunSheet(job, planned(job)).steps.find(({ id }) => id === 'hold')!.detail;
  const lost = {
    atS: 100,
    sinceS: 90,
    kind: 'contact-lost',
    level: 'alarm',
    areaLeft: [0.5, 0.7],
    likelyAreaLeft: 0.6,
  } as const;
  const alarm = (thicknessM: number): string =>
    watchAdvice(lost, { mode: 'current', thicknessM, plannedA: 5 }).remedy;
  const sentence = (text: string): string => text.toLowerCase().replace(/\.$/, '');
  expect(hold.toLowerCase()).toContain(sentence(alarm(0.5e-6)));
  for (const part of [
    'so that the rest does not burn',
    'the part that let go must be stripped and done again',
  ]) {
    expect(hold).toContain(part);
    expect(alarm(5e-6)).toContain(part);
  }
  // By hand: 3.051 A·min/dm²/µm at 1.292 A/dm² is 2.362 min for a micrometre; in an even ramp of 5 min that is there
  // after √(2 · 5 · 2.362) = 4.86 min.
  expect(hold).toContain('In the first 4 min');
});

it('begins with the strip where one is planned: plugs first, lye, its cautions, and the smut off', () => {
  const ids = (job: Job): string[] => makeRunSheet(job, planned(job)).steps.map(({ id }) => id);
  const plain = addPart(emptyJob('plate'), newPart('p', 'plate.stl', 3, 'mm', true));
  expect(ids(plain)).not.toContain('strip');
  expect(ids(changeStrips(plain, 'p', { soFar: 1 }))).not.toContain('strip');
  const job = changeFinishSection(changeStrips(plain, 'p', { first: true }), 'strip', { overTimeS: 60 });
  expect(ids(job).slice(0, 5)).toEqual([
    'strip',
    'rinse after the strip',
    'desmut',
    'rinse after the desmut, twice',
    'ready',
  ]);
  const sheet = makeRunSheet(job, planned(job));
  const [strip] = sheet.steps;
  expect(strip!.detail).toMatch(/^First plug or mask again what is to stay bare/);
  // About five minutes cold at 24 g/L, 2 to 15 (common practice), and the minute after it that is typed.
  expect(strip!.detail).toContain('after 2 to 15 min; out 1 min after that');
  expect(strip!.plannedS).toBe(360);
  expect(runSteps(job, sheet.steps)[0]!.cautions!.join(' ')).toMatch(/Lye blinds/);
  expect(said(job)).toContain('lye (caustic soda)');
  // Beside a new part it is the stripped one's alone.
  const both = makeRunSheet(addPart(job, newPart('q', 'ring.stl', 3, 'mm', true)), planned(job));
  expect(both.steps[0]!.detail).toMatch(/^Only “plate”; keep the others out of the lye. First plug/);
  // With an etch after it there is still one desmut, and every step has its own name.
  const etched = ids(changeFinishSection(job, 'etch', { use: true }));
  expect(etched.filter((id) => id === 'desmut')).toHaveLength(1);
  expect(new Set(etched).size).toBe(etched.length);
});
