import { expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { emptyJob } from '../../../core/job/default-job.ts';
import { hungLoad } from '../../../core/job/hung-load.ts';
import type { Job } from '../../../core/job/job.ts';
import { currentWords, loadCurrents, loadsWords } from '../../../core/job/load-currents.ts';
import { makeRunSheet } from '../../../core/job/run-sheet.ts';

it('loads of one current stand together, every load exactly once', () => {
  const groups = loadCurrents([3.9401, 3.9399, 3.29, 3.94]);
  expect(groups.map(({ loads, text }) => [loads, text])).toEqual([
    [[1, 2, 4], '3.94 A'],
    [[3], '3.29 A'],
  ]);
  expect(currentWords(groups, 'at')).toBe('loads 1, 2 and 4 at 3.94 A, load 3 at 3.29 A');
  expect(currentWords(loadCurrents([2, 2]), 'to')).toBe('to 2.00 A');
  expect(currentWords(loadCurrents([1, 2, 3, 4, 5]), 'to')).toBe('each load to its own current');
  expect(loadsWords([3])).toBe('load 3');
  expect(loadsWords([1, 2, 3, 4, 6, 8, 9])).toBe('loads 1-4, 6, 8 and 9');
});

/** Two kinds of 1 and 2 dm² at 1.3 A/dm² and a supply of 4 A: at most 3 dm² a load. */
const mixed = (quantities: readonly [number, number]) => {
  const job: Job = emptyJob('mixed');
  const process = { ...job.process, currentDensityAPerM2: 130, supplyCurrentLimitA: 4 };
  const plan = planRun(
    [
      { name: 'knob', areaM2: 0.01, quantity: quantities[0] },
      { name: 'plate', areaM2: 0.02, quantity: quantities[1] },
    ],
    process,
  );
  if (!plan.ok) throw new Error(plan.error.message);
  return { job: { ...job, process }, plan: plan.value };
};

it('no step of a sheet for unlike loads names one current for all of them', () => {
  // 4 knobs and 2 plates: 8 dm², so three loads of which one is smaller; its current is density times area, by hand.
  const { job, plan } = mixed([4, 2]);
  const amps = plan.loads.map(({ currentA }) => currentA);
  expect(amps.reduce((sum, a) => sum + a, 0)).toBeCloseTo(1.3 * 8, 9);
  expect(new Set(amps.map((a) => a.toFixed(2))).size).toBe(2);
  const steps = makeRunSheet(job, plan).steps;
  for (const id of ['ramp', 'hold']) {
    const { title, detail } = steps.find((step) => step.id === id)!;
    for (const a of amps) expect(title).toContain(`${a.toFixed(2)} A`);
    for (let load = 1; load <= amps.length; load++) expect(title).toMatch(new RegExp(`loads? .*${load}`));
    expect(detail).not.toMatch(/\d A\b/);
  }
});

it('alike loads are said once', () => {
  const { job, plan } = mixed([0, 3]);
  expect(plan.loads).toHaveLength(3);
  const steps = makeRunSheet(job, plan).steps;
  const step = (id: string) => steps.find((candidate) => candidate.id === id)!;
  expect(step('hold').title).toBe('Hold 2.60 A'); // 1.3 A/dm² · 2 dm²
  expect(step('ramp').detail).toContain('to 2.60 A. Each of the 3 loads alike.');
});

it('distances are said to be of the load that hangs, and the others are named', () => {
  const loads = [{ pieces: [1, 1] }, { pieces: [1, 1] }, { pieces: [4, 0] }];
  const hung = (knobs: number, plates: number, planned = loads) =>
    hungLoad(
      {
        parts: [
          { id: 'a', name: 'knob' },
          { id: 'b', name: 'plate' },
        ] as never,
        placements: [
          ...Array.from({ length: knobs }, () => ({ partId: 'a' })),
          ...Array.from({ length: plates }, () => ({ partId: 'b' })),
        ] as never,
      },
      planned,
    );
  expect(hung(1, 1)).toEqual({ of: 'loads 1 and 2', notHung: 'load 3' });
  expect(hung(4, 0)).toEqual({ of: 'load 3', notHung: 'loads 1 and 2' });
  expect(hung(2, 0)).toEqual({ of: '2 × knob, which is none of the loads', notHung: 'loads 1-3' });
  expect(hung(1, 1, [{ pieces: [1, 1] }])).toEqual({ of: '', notHung: '' });
  expect(hung(1, 0, [{ pieces: [2, 1] }])).toEqual({ of: '1 × knob', notHung: '1 × knob, 1 × plate' });
});
