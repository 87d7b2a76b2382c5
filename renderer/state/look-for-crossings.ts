import { partById } from '../../core/job/edit-job.ts';
import { sourceName } from '../../core/job/part-source.ts';
import type { Services } from '../app/services.ts';
import { jobOf } from './app-store.ts';
import { notify } from './notices.ts';

/** Looks through a large mesh for places where it runs through itself, when the user asks; what is found joins its findings. */
export async function lookForCrossings({ store, worker }: Services, partId: string): Promise<void> {
  const geometry = store.getState().meshes[partId]?.geometry;
  if (!geometry) return;
  const name = sourceName(partById(jobOf(store.getState()), partId));
  const found = await worker.run('findCrossings', { name, geometry }, { supersede: `crossings-${partId}` });
  if (!found.ok) {
    if (found.error.code !== 'superseded' && found.error.code !== 'cancelled') notify(store, found.error);
    return;
  }
  const finding = found.value;
  if (!finding) {
    const remedy = 'Nothing to do.';
    notify(
      store,
      { code: 'no-crossing', message: 'The surface runs through itself nowhere.', remedy },
      'note',
    );
    return;
  }
  store.setState((state) => {
    const mesh = state.meshes[partId];
    if (mesh?.geometry !== geometry) return {};
    const findings = [...geometry.findings.filter(({ code }) => code !== finding.code), finding];
    return { meshes: { ...state.meshes, [partId]: { ...mesh, geometry: { ...geometry, findings } } } };
  });
}
