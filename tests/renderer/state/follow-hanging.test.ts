import { expect, it, vi } from 'vitest';
import { changeProcess, putContact } from '../../../core/job/edit-job.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import { success } from '../../../core/result.ts';
import { editJob } from '../../../renderer/state/app-store.ts';
import { deriveFrom } from '../../../renderer/state/derived.ts';
import { followHanging } from '../../../renderer/state/follow-hanging.ts';
import { createHangingStore } from '../../../renderer/state/hanging-store.ts';
import type { WorkerClient } from '../../../renderer/worker/client.ts';
import { createHangingRunners } from '../../../renderer/worker/hanging-runners.ts';
import { boxTriangles } from '../../fixtures/model-bytes.ts';
import { storeWithPart } from './stand-ins/store-with-part.ts';

/** A job with one pin in the middle of a 60 mm cube's face, at a stage that is not Hanging; nobody opens that one. */
function desk() {
  const store = storeWithPart('cube', Float32Array.from(boxTriangles(60, 60, 60).flat()));
  store.setState({ stage: 'current' });
  const hanging = createHangingStore();
  const derived = deriveFrom(store, hanging);
  const runners = createHangingRunners();
  const asked: string[] = [];
  const run: WorkerClient['run'] = async (job, input) => {
    asked.push(job);
    const runner = runners[job as keyof typeof runners] as unknown as (
      given: unknown,
      report: () => void,
    ) => never;
    return runner(input, () => {});
  };
  const start = (client: Partial<WorkerClient> = {}): void =>
    followHanging(store, derived, hanging, { run, dispose: () => {}, ...client });
  const { positions } = store.getState().meshes['p']!.geometry;
  const middle = (t: number): [number, number, number] =>
    [0, 1, 2].map(
      (axis) => (positions[9 * t + axis]! + positions[9 * t + 3 + axis]! + positions[9 * t + 6 + axis]!) / 3,
    ) as [number, number, number];
  const pin = (triangle: number, at = middle(triangle)): void =>
    editJob(store, 'Pin', (job) =>
      putContact(job, 'p', { id: 'a', at, triangle, patchDiameterM: 3e-3, hanger: FIRST_HANGER }),
    );
  const said = () =>
    derived
      .getState()
      .messages.filter(({ code }) => /^pin-(slips|small)$|^pins-not-judged$/.test(code))
      .map(({ code, level }) => [code, level]);
  return { store, derived, asked, start, pin, middle, said };
}

it('what is to be said of a pin is known without the hanging stage, and until then that it is not', async () => {
  const { store, derived, asked, start, pin, middle, said } = desk();
  start();
  pin(0);
  // The plan stands at once.
  expect(derived.getState().plan?.ok).toBe(true);
  expect(said()).toEqual([['pins-not-judged', 'note']]);
  // A cube of 60 mm in the middle of its face gives no jaw a hold.
  await vi.waitFor(() => expect(said()).toEqual([['pin-slips', 'check']]), { timeout: 5000 });
  expect(asked).not.toContain('adviseContacts');
  // 216 cm² at 20 A/dm² take 43 A: 47 mm² at 0.93 A/mm², and a 3 mm patch is 7 mm².
  editJob(store, 'Density', (job) => changeProcess(job, { currentDensityAPerM2: 2000 }));
  await vi.waitFor(
    () =>
      expect(said()).toEqual([
        ['pin-slips', 'check'],
        ['pin-small', 'check'],
      ]),
    {
      timeout: 5000,
    },
  );
  // Moved, it is another place, and not looked at.
  const [x, y, z] = middle(0);
  pin(0, [x + 1, y, z]);
  expect(said()).toEqual([['pins-not-judged', 'note']]);
  await vi.waitFor(() => expect(said()[0]).toEqual(['pin-slips', 'check']), { timeout: 5000 });
});

it('a worker that fails leaves the plan standing and a check that says so', async () => {
  const { derived, start, pin, said } = desk();
  const failed = {
    ok: false,
    error: { code: 'worker-fault', message: 'No memory.', remedy: 'Close.' },
  } as const;
  start({
    run: async (job) =>
      (job === 'prepareHanging'
        ? success({ open: null, moments: null, centre: [0, 0, 0] })
        : failed) as never,
  });
  pin(0);
  await vi.waitFor(() => expect(said()).toEqual([['pins-not-judged', 'check']]), { timeout: 5000 });
  expect(derived.getState().plan?.ok).toBe(true);
});
