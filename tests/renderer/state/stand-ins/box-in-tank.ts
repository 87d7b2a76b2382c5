import { solveScene, type SceneField } from '../../../../core/field/solve-scene.ts';
import { emptyJob, newPart } from '../../../../core/job/default-job.ts';
import { changeField } from '../../../../core/job/edit-field.ts';
import { chooseTank } from '../../../../core/job/edit-hanging.ts';
import { startHistory } from '../../../../core/job/history.ts';
import { usualTank } from '../../../../core/job/usual-tank.ts';
import { analysePart } from '../../../../core/mesh/analyse-part.ts';
import { failure, type Result } from '../../../../core/result.ts';
import type { AppState, PartMesh } from '../../../../renderer/state/app-state.ts';
import { createAppStore } from '../../../../renderer/state/app-store.ts';
import { createFieldDeriver } from '../../../../renderer/state/derive-field.ts';
import { deriveFrom } from '../../../../renderer/state/derived.ts';
import { createFieldStore, openPart } from '../../../../renderer/state/field-store.ts';
import { createHangingStore } from '../../../../renderer/state/hanging-store.ts';
import type { RunOptions, WorkerClient } from '../../../../renderer/worker/client.ts';
import type { FieldJobs } from '../../../../renderer/worker/field-jobs.ts';
import { boxTriangles } from '../../../fixtures/model-bytes.ts';

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
  const triangles = boxTriangles(40, 30, 20);
  const geometry = analysePart(
    new Float32Array(triangles.flat()),
    [{ name: 'box', firstTriangle: 0, triangleCount: 12 }],
    { splitAngleRad: 0.6 },
  );
  const part = newPart('p', 'box.stl', 684, 'mm', true);
  let job = chooseTank(
    { ...emptyJob('box'), parts: [part] },
    usualTank({ alongM: 0.04, acrossM: 0.03, heightM: 0.02, middleM: [0, 0, 0] }),
  );
  job = changeField(job, { grid: 'quick' });
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
