import { expect, test } from 'vitest';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, setQuantity } from '../../../core/job/edit-job.ts';
import { setPlacements } from '../../../core/job/edit-hanging.ts';
import { loadAlone } from '../../../core/job/load-alone.ts';
import { loadPlan } from '../../../core/job/load-plan.ts';
import type { Job } from '../../../core/job/job.ts';
import { planRun } from '../../../core/electrical/plan-run.ts';

const POSE = { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [0, 0, 0] } as const;

function jobOf(quantities: Readonly<Record<string, number>>): Job {
  const parts = Object.entries(quantities);
  const job = parts.reduce(
    (now: Job, [id, quantity]) =>
      setQuantity(addPart(now, newPart(id, `part ${id}`, 1, 'mm', true)), id, quantity),
    emptyJob('two kinds'),
  );
  return { ...job, process: { ...job.process, supplyCurrentLimitA: 5 } };
}

test('each load of a plan is a job of its own, and together they are the job', () => {
  const job = jobOf({ a: 5, b: 3 });
  const areaM2 = 2 / job.process.currentDensityAPerM2;
  const items = job.parts.map(({ id, name, quantity }) => ({ id, name, quantity, areaM2 }));
  const plan = planRun(items, job.process);
  if (!plan.ok) throw new Error(plan.error.message);
  // Two amperes a piece and five at most: two at a time.
  expect(plan.value.loads).toHaveLength(4);
  const alone = plan.value.loads.map((_, load) => loadAlone(job, loadPlan(job, plan.value, load).counts)!);
  for (const id of ['a', 'b']) {
    const all = alone.flatMap(({ parts }) => parts.filter((part) => part.id === id));
    expect(all.reduce((sum, { quantity }) => sum + quantity, 0)).toBe(id === 'a' ? 5 : 3);
  }
  for (const { parts } of alone) expect(parts.reduce((sum, { quantity }) => sum + quantity, 0)).toBe(2);
});

test('hangs nothing where what hangs is not this load, and leaves all else', () => {
  const hung = ['a', 'a', 'b', 'a'].map((partId, i) => ({ id: `${i}`, partId, pose: POSE }));
  const job = setPlacements(jobOf({ a: 5, b: 3 }), hung as unknown as Job['placements']);
  const alone = loadAlone(job, [{ partId: 'a', count: 2 }])!;
  expect(alone.placements).toEqual([]);
  expect({ ...alone, parts: [], placements: [] }).toEqual({ ...job, parts: [], placements: [] });
});

test('is the same job where the load was all of it, and nothing where it is not known', () => {
  const job = jobOf({ a: 2 });
  expect(loadAlone(job, [{ partId: 'a', count: 2 }])).toBe(job);
  expect(loadAlone(job, [])).toBeNull();
  expect(loadAlone(job, [{ partId: 'gone', count: 2 }])).toBeNull();
});
