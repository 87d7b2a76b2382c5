/** A repair looked at before it is done: the job stays until it is accepted, and only the mesh it was made from counts. */
import { ShapeUtils, Vector2 } from 'three';
import { describe, expect, test } from 'vitest';
import { acceptRepair, setFuse } from '../../../core/job/edit-surface.ts';
import { preparePart } from '../../../core/job/prepare-part.ts';
import { changedTriangles } from '../../../core/mesh/changed-triangles.ts';
import { withOffers } from '../../../core/mesh/offer-repairs.ts';
import { success } from '../../../core/result.ts';
import { editJob, jobOf, undoEdit } from '../../../renderer/state/app-store.ts';
import { followMesh } from '../../../renderer/state/follow-mesh.ts';
import { acceptTrial, leaveTrial, trialOf, tryOffer } from '../../../renderer/state/repair-trial.ts';
import type { Services } from '../../../renderer/app/services.ts';
import type { JobInput } from '../../../renderer/worker/jobs.ts';
import { box, Soup } from '../../fixtures/shapes.ts';
import { storeWithPart } from './stand-ins/store-with-part.ts';

const cutPolygon = (contour: readonly { x: number; y: number }[]): number[][] =>
  ShapeUtils.triangulateShape(
    contour.map(({ x, y }) => new Vector2(x, y)),
    [],
  );
const NO_EDGES = { segments: new Float32Array(), triangles: new Uint32Array(), tooMany: false };

/** A block, a small one without one side, and a worker that does its jobs in the page and says which. */
function bench() {
  const store = storeWithPart(
    'two',
    new Soup().add(box(40, 30, 20)).add(box(3, 3, 3, [80, 0, 0]).subarray(18)).positions,
  );
  const asked: string[] = [];
  const run = (job: string, input: unknown): Promise<unknown> => {
    asked.push(job);
    if (job === 'buildPickIndex') return Promise.resolve(success(null));
    const { source, wishes, shown } = input as JobInput<'tryRepair'>;
    const made = { ...preparePart(source, wishes, { cutPolygon }), edges: NO_EDGES, source };
    if (job === 'prepare') return Promise.resolve(success(made));
    return Promise.resolve(success({ made, changed: changedTriangles(shown, made.geometry.positions) }));
  };
  const services = { store, worker: { run } } as unknown as Services;
  const [offer] = withOffers(store.getState().meshes['p']!.geometry)
    .flatMap(({ offers = [] }) => offers)
    .filter((one) => 'repair' in one);
  return { store, services, asked, offer: offer!, trial: () => trialOf(store.getState(), 'p') };
}

describe('a repair that is looked at', () => {
  test('changes nothing of the job, and says which triangles would come', async () => {
    const { store, services, offer, trial } = bench();
    const before = jobOf(store.getState());
    await tryOffer(services, 'p', offer);
    expect(jobOf(store.getState())).toBe(before);
    expect([...trial()!.outcome!.changed.come]).toEqual([22, 23]);
    expect(trial()!.outcome!.mesh.geometry.closed).toBe(true);
    leaveTrial(store);
    expect(trial()).toBeNull();
  });

  test('is done in one step of undo, without being worked out again', async () => {
    const { store, services, asked, offer, trial } = bench();
    followMesh(services);
    await tryOffer(services, 'p', offer);
    acceptTrial(services, trial()!);
    expect(jobOf(store.getState()).parts[0]!.surface.repairs).toMatchObject([{ kind: 'fill' }]);
    expect(store.getState().meshes['p']!.geometry.closed).toBe(true);
    expect(trial()).toBeNull();
    expect(asked).toEqual(['tryRepair', 'buildPickIndex']);
    undoEdit(store);
    await expect.poll(() => store.getState().meshes['p']!.geometry.closed).toBe(false);
    expect(jobOf(store.getState()).parts[0]!.surface.repairs).toEqual([]);
  });

  test.each([
    ['another repair', (job: ReturnType<typeof jobOf>) => acceptRepair(job, 'p', { kind: 'turn' })],
    ['fusing', (job: ReturnType<typeof jobOf>) => setFuse(job, 'p', 0)],
  ])('says nothing any more once %s was asked for', async (_, change) => {
    const { store, services, offer, trial } = bench();
    await tryOffer(services, 'p', offer);
    editJob(store, 'other', change);
    expect(trial()).toBeNull();
  });
});
