import { expect, it } from 'vitest';
import type { FileSource } from '../../../core/bridge/bridge.ts';
import { packJob } from '../../../core/job/container.ts';
import { failure } from '../../../core/result.ts';
import { createAppStore, jobOf } from '../../../renderer/state/app-store.ts';
import { openSources, showJob, startNewJob } from '../../../renderer/state/open-files.ts';
import type { Services } from '../../../renderer/app/services.ts';
import type { JobInput } from '../../../renderer/worker/jobs.ts';
import { runReadModel } from '../../../renderer/worker/run-read-model.ts';

/** The page's own reader, called straight instead of in a worker; no picking and no shell. */
function startServices(): Services {
  const store = createAppStore();
  return {
    store,
    worker: {
      run: (job: string, input: unknown) =>
        job === 'readModel'
          ? Promise.resolve(runReadModel(input as JobInput<'readModel'>, () => {}))
          : Promise.resolve(failure('cancelled', 'Not wanted here.', '')),
    },
    bridge: {},
  } as unknown as Services;
}

const file = (name: string, text: string | Uint8Array<ArrayBuffer>): FileSource => {
  const blob = new Blob([text]);
  return { name, byteLength: blob.size, content: { via: 'blob', blob } };
};

/** A tetrahedron with legs of 20 and facets without normals, as many exporters write them. */
const CORNERS = ['0 0 0', '20 0 0', '0 20 0', '0 0 20'];
const TETRAHEDRON = `solid t\n${['021', '013', '032', '123']
  .map((facet) => {
    const corners = [...facet].map((corner) => `vertex ${CORNERS[Number(corner)]}`).join('\n');
    return `facet normal 0 0 0\nouter loop\n${corners}\nendloop\nendfacet`;
  })
  .join('\n')}\nendsolid t\n`;

const noticesOf = ({ store }: Services): string[] =>
  store.getState().notices.map((notice) => notice.failure.code);

it('says nothing about a single good model, whatever its normals', async () => {
  const services = startServices();
  await openSources(services, [file('one.stl', TETRAHEDRON)]);
  expect(jobOf(services.store.getState()).parts.map(({ name }) => name)).toEqual(['one']);
  expect(noticesOf(services)).toEqual([]);
});

it('says once that parts add up, with the present count', async () => {
  const services = startServices();
  await openSources(services, [file('one.stl', TETRAHEDRON), file('two.stl', TETRAHEDRON)]);
  await openSources(services, [file('three.stl', TETRAHEDRON)]);
  expect(noticesOf(services)).toEqual(['parts-add-up']);
  const state = services.store.getState();
  expect(state.notices[0]!.failure.message).toContain('3 parts');
  showJob(services, { job: jobOf(state), models: state.models }, state.meshes, { target: null, saved: true });
  expect(noticesOf(services)).toEqual([]); // it spoke of a change, and another job was opened
});

it('does not say so when the second file was no model', async () => {
  const services = startServices();
  await openSources(services, [
    file('one.stl', TETRAHEDRON),
    file('two.stl', '<!DOCTYPE html><html></html>'),
  ]);
  const codes = noticesOf(services);
  expect(codes).toHaveLength(1);
  expect(codes).not.toContain('parts-add-up');
});

it('opens the job of a mixed drop and names what it left out', async () => {
  const services = startServices();
  await openSources(services, [file('base.stl', TETRAHEDRON)]);
  const state = services.store.getState();
  const saved = packJob(jobOf(state), state.models);
  const other = startServices();
  await openSources(other, [
    file('plate.stl', TETRAHEDRON),
    file('saved.tankside', saved.slice()),
    file('second.tankside', 'x'),
  ]);
  expect(jobOf(other.store.getState()).parts.map(({ name }) => name)).toEqual(['base']);
  const [notice] = other.store.getState().notices;
  expect(notice?.failure.message).toContain('plate.stl, second.tankside');
});

/** Services whose reader waits for `goOn`, as a large file does. */
function startSlowServices(): { services: Services; goOn: () => void } {
  const services = startServices();
  let goOn = (): void => {};
  const read = new Promise<void>((resolve) => (goOn = resolve));
  const { run } = services.worker;
  const slow = ((job: 'readModel', input: never, options?: { signal: AbortSignal }) =>
    read.then(() =>
      options?.signal.aborted ? failure('cancelled', 'Stopped.', '') : run(job, input, options as never),
    )) as never;
  return { services: { ...services, worker: { ...services.worker, run: slow } }, goOn: () => goOn() };
}

const inSight = ({ store }: Services): string[] => store.getState().loadings.map(({ fileName }) => fileName);

it('models still waiting or being read when a new job begins do not land in it', async () => {
  const { services, goOn } = startSlowServices();
  const opening = openSources(services, [file('one.stl', TETRAHEDRON), file('two.stl', TETRAHEDRON)]);
  expect(inSight(services)).toEqual(['one.stl', 'two.stl']);
  await startNewJob(services);
  expect(inSight(services)).toEqual([]);
  goOn();
  await opening;
  expect(jobOf(services.store.getState()).parts).toEqual([]);
  expect(noticesOf(services)).toEqual([]);
});

it('stops one of two files before its turn and reads the other', async () => {
  const { services, goOn } = startSlowServices();
  const opening = openSources(services, [file('one.stl', TETRAHEDRON), file('two.stl', TETRAHEDRON)]);
  services.store.getState().loadings[1]!.cancel();
  expect(inSight(services)).toEqual(['one.stl']);
  goOn();
  await opening;
  expect(jobOf(services.store.getState()).parts.map(({ name }) => name)).toEqual(['one']);
  expect(noticesOf(services)).toEqual([]);
});
