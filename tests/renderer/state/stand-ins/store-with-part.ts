import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../../core/faces/split-faces.ts';
import { emptyJob, newPart } from '../../../../core/job/default-job.ts';
import { addPart } from '../../../../core/job/edit-job.ts';
import { startHistory } from '../../../../core/job/history.ts';
import { analysePart } from '../../../../core/mesh/analyse-part.ts';
import { createAppStore, type AppStore } from '../../../../renderer/state/app-store.ts';

/**
 * The store with one measured part, id `p`, in mm.
 *
 * @param positions 9 floats a triangle
 */
export function storeWithPart(name: string, positions: Float32Array): AppStore {
  const bodies = [{ name, firstTriangle: 0, triangleCount: positions.length / 9 }];
  const geometry = analysePart(positions, bodies, { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  const made = newPart('p', `${name}.stl`, 84 + 50 * bodies[0]!.triangleCount, 'mm', true);
  const job = addPart(emptyJob(name), made);
  return createAppStore({
    history: startHistory(job, 'open'),
    savedDocument: job,
    activePartId: 'p',
    meshes: {
      p: {
        geometry,
        made,
        source: null,
        repairs: [],
        fuse: null,
        fuseFailure: null,
        pickIndex: null,
        edges: null,
      },
    },
  });
}
