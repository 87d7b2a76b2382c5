import { partById } from '../../core/job/edit-job.ts';
import { sourceName } from '../../core/job/part-source.ts';
import type { Services } from '../app/services.ts';
import { jobOf } from './app-store.ts';
import { notify } from './notices.ts';

/** Splits a part's faces again whenever the job asks for another angle, by edit, undo or redo alike. */
export function followSplitAngle(services: Services): void {
  const { store, worker } = services;
  const underWay = new Map<string, number>();

  const follow = async (partId: string, splitAngleRad: number): Promise<void> => {
    underWay.set(partId, splitAngleRad);
    const geometry = store.getState().meshes[partId]!.geometry;
    const { graph } = geometry;
    const input = { name: sourceName(partById(jobOf(store.getState()), partId)), graph, splitAngleRad };
    const split = await worker.run('resplit', input, { supersede: partId });
    if (underWay.get(partId) !== splitAngleRad) return;
    underWay.delete(partId);
    if (!split.ok) {
      if (split.error.code !== 'superseded') notify(store, split.error);
      return;
    }
    store.setState((state) => {
      const mesh = state.meshes[partId];
      if (!mesh || mesh.geometry !== geometry) return {};
      return {
        meshes: {
          ...state.meshes,
          [partId]: {
            ...mesh,
            geometry: { ...geometry, faces: split.value.faces },
            edges: split.value.edges,
            splitAngleRad,
          },
        },
        selectedFaces: state.activePartId === partId ? new Set<number>() : state.selectedFaces,
        hoveredFace: null,
      };
    });
  };

  store.subscribe((state, before) => {
    if (jobOf(state) === jobOf(before) && state.meshes === before.meshes) return;
    for (const { id } of jobOf(state).parts) {
      const mesh = state.meshes[id];
      const wanted = partById(jobOf(state), id).splitAngleRad;
      // The faces of a CAD file are its own, whatever the angle.
      if (mesh?.geometry.cad) continue;
      if (mesh && mesh.splitAngleRad !== wanted && underWay.get(id) !== wanted) void follow(id, wanted);
    }
  });
}
