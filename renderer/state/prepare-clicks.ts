import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { sourceName } from '../../core/job/part-source.ts';
import type { Services } from '../app/services.ts';
import { jobOf } from './app-store.ts';
import { notify } from './notices.ts';

/** Builds the index that finds the face under the pointer, for the part's mesh as it stands. */
export async function prepareClicks(
  services: Services,
  partId: string,
  geometry: PartGeometry,
): Promise<void> {
  const { store, worker } = services;
  const owner = jobOf(store.getState()).parts.find((part) => part.id === partId);
  const name = owner ? sourceName(owner) : 'part';
  const index = await worker.run('buildPickIndex', { name, positions: geometry.positions });
  if (!index.ok) {
    if (index.error.code !== 'cancelled') notify(store, index.error, 'check');
    return;
  }
  store.setState((state) => {
    const mesh = state.meshes[partId];
    if (!mesh || mesh.geometry.positions !== geometry.positions) return {};
    return { meshes: { ...state.meshes, [partId]: { ...mesh, pickIndex: index.value } } };
  });
}
