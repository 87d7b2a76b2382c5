import { splitPart } from '../../core/job/split-part.ts';
import type { Services } from '../app/services.ts';
import { editJob, jobOf } from './app-store.ts';

/** Makes a part of each piece of a part that touches no other; their meshes are made again from the same file. */
export function makePartsOfPieces({ store }: Services, partId: string): void {
  const mesh = store.getState().meshes[partId];
  if (!mesh || mesh.geometry.apart.length < 2) return;
  const before = jobOf(store.getState());
  const split = splitPart(before, partId, mesh.geometry, () => crypto.randomUUID());
  const ids = split.parts.filter((part) => !before.parts.includes(part)).map(({ id }) => id);
  store.setState(({ meshes }) => ({
    meshes: {
      ...meshes,
      ...Object.fromEntries(ids.map((id) => [id, id === partId ? mesh : { ...mesh, pickIndex: null }])),
    },
    selectedFaces: new Set(),
    selectedPinId: null,
  }));
  editJob(store, 'Make parts of the pieces', () => split);
}
