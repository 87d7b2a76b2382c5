import { solveScene, type SceneField } from '../../../../core/field/solve-scene.ts';
import { changeField } from '../../../../core/job/edit-field.ts';
import { startHistory } from '../../../../core/job/history.ts';
import { failure, type Result } from '../../../../core/result.ts';
import type { AppState, PartMesh } from '../../../../renderer/state/app-state.ts';
import { createAppStore } from '../../../../renderer/state/app-store.ts';
import { createFieldDeriver } from '../../../../renderer/state/derive-field.ts';
import { deriveFrom } from '../../../../renderer/state/derived.ts';
import { createFieldStore, openPart } from '../../../../renderer/state/field-store.ts';
import { createHangingStore } from '../../../../renderer/state/hanging-store.ts';
import type { RunOptions, WorkerClient } from '../../../../renderer/worker/client.ts';
import type { FieldJobs } from '../../../../renderer/worker/field-jobs.ts';
import { boxJob } from '../../../fixtures/box-job.ts';

type Input = FieldJobs['solveField']['input'];

/** Solves in place, or waits until it is let go or stopped. */
class WorkerUnderTest {
  readonly asked: Input[] = [];
  readonly waiting: { input: Input; options: RunOptions; settle: (result: Result<SceneField>) => void }[] =
    [];
  waits = false;

  readonly client = {
    run: (_job: string, input: Input, options: RunOptions = {}) => {
      this.asked.push(input);
      if (!this.waits) return Promise.resolve(solveScene(input.scene));
      return new Promise<Result<SceneField>>((settle) => {
        options.signal?.addEventListener('abort', () =>
          settle(failure('cancelled', 'Stopped.', 'Start again.')),
        );
        this.waiting.push({ input, options, settle });
      });
    },
    dispose() {},
  } as unknown as WorkerClient;
}

/** A box of 40 × 30 × 20 mm in its usual tank, on the quick grid; `mappedBefore`: parts with a map before this window. */
export function boxInTank(mappedBefore: readonly string[] = []) {
  const { geometry, part, job: inUsualTank } = boxJob();
  const job = changeField(inUsualTank, { grid: 'quick' });
  const mesh = { geometry, made: part, pickIndex: null, edges: null } as unknown as PartMesh;
  const store = createAppStore({
    history: startHistory(job, 'box'),
    meshes: { p: mesh },
    activePartId: 'p',
  } satisfies Partial<AppState>);
  const field = { store: createFieldStore(), deriver: createFieldDeriver() };
  field.store.setState({ mappedBefore: new Set(mappedBefore) });
  const derived = deriveFrom(store, createHangingStore(), field);
  openPart(field.store, 'p');
  const worker = new WorkerUnderTest();
  return { store, field, derived, worker, desk: { store, field, derived, worker: worker.client } };
}
