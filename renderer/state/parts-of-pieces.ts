import { splitPart } from '../../core/job/split-part.ts';
import type { Services } from '../app/services.ts';
import { editJob } from './app-store.ts';

/** Makes a part of each piece of a part that touches no other; their meshes are made again from the same file. */
export function makePartsOfPieces({ store }: Services, partId: string): void {
  const mesh = store.getState().meshes[partId];
  if (!mesh || mesh.geometry.apart.length < 2) return;
  const ids = mesh.geometry.apart.slice(1).map(() => crypto.randomUUID());
  store.setState(({ meshes }) => ({
    meshes: { ...meshes, ...Object.fromEntries(ids.map((id) => [id, { ...mesh, pickIndex: null }])) },
    selectedFaces: new Set(),
    selectedPinId: null,
  }));
  editJob(store, 'Make parts of the pieces', (job) => splitPart(job, partId, mesh.geometry, ids));
}
