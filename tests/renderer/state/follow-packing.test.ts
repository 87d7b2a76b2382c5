import { expect, it } from 'vitest';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import { setQuantity } from '../../../core/job/edit-job.ts';
import { firstTank } from '../../../core/job/first-tank.ts';
import { failure } from '../../../core/result.ts';
import { editJob } from '../../../renderer/state/app-store.ts';
import { deriveFrom } from '../../../renderer/state/derived.ts';
import { followPacking } from '../../../renderer/state/follow-packing.ts';
import { createHangingStore } from '../../../renderer/state/hanging-store.ts';
import type { WorkerClient } from '../../../renderer/worker/client.ts';
import { createHangingRunners } from '../../../renderer/worker/hanging-runners.ts';
import { boxTriangles } from '../../fixtures/model-bytes.ts';
import { storeWithPart } from './stand-ins/store-with-part.ts';

/** A block that fills the tank's bar with four; the worker answers when it is told to. */
function desk() {
  const store = storeWithPart('block', Float32Array.from(boxTriangles(160, 30, 90).flat()));
  const hanging = createHangingStore();
  const derived = deriveFrom(store, hanging);
  const runners = createHangingRunners();
  const asked: string[] = [];
  let broken = false;
  const run: WorkerClient['run'] = async (job, input) => {
    asked.push(job);
    if (broken) return failure('worker-fault', 'No memory.', 'Close others.');
    const runner = runners[job as keyof typeof runners] as unknown as (
      given: unknown,
      report: () => void,
    ) => never;
    return runner(input, () => {});
  };
  followPacking({ derived, hanging, worker: { run, dispose: () => {} } });
  const settle = (): Promise<void> => new Promise((done) => setTimeout(done, 20));
  return {
    store,
    derived,
    asked,
    settle,
    breakDown: () => {
      broken = true;
    },
  };
}
const loads = ({ derived }: ReturnType<typeof desk>): number | undefined => {
  const { plan } = derived.getState().tank;
  return plan?.ok ? plan.value.loads.length : undefined;
};

it('packs in the worker, once for what it rests on; until then the plan stands by the supply and it is said', async () => {
  const now = desk();
  editJob(now.store, 'Tank', (job) => setQuantity(chooseTank(job, firstTank('box')), 'p', 6));
  expect(now.derived.getState().plan?.ok).toBe(true);
  expect(now.derived.getState().messages.map(({ code }) => code)).toContain('loads-not-packed');
  await now.settle();
  // 740 mm of bar hold four of 160 with 30 between: 730. Five would be 920.
  expect(loads(now)).toBe(2);
  expect(now.derived.getState().messages.map(({ code }) => code)).not.toContain('loads-not-packed');
  expect(now.derived.getState().tank.help.rows?.loads).toBe(1);
  expect(now.asked).toEqual(['packTank', 'helpPacking']);
  editJob(now.store, 'Name', (job) => ({ ...job, name: 'another' }));
  await now.settle();
  expect(now.asked).toHaveLength(2);
  editJob(now.store, 'Pieces', (job) => setQuantity(job, 'p', 9));
  await now.settle();
  expect(loads(now)).toBe(3);
});

it('a worker that fails leaves the plan by the supply, and a check says why', async () => {
  const now = desk();
  now.breakDown();
  editJob(now.store, 'Tank', (job) => chooseTank(job, firstTank('box')));
  await now.settle();
  expect(now.derived.getState().plan?.ok).toBe(true);
  const said = now.derived.getState().messages.find(({ code }) => code === 'worker-fault');
  expect(said).toMatchObject({ level: 'check', stage: 'tank', message: 'No memory.' });
});
