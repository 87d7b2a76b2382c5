import { useMemo } from 'react';
import type { Part } from '../../core/job/job.ts';
import type { PartMesh } from '../state/app-state.ts';
import { trialOf, type RepairTrial } from '../state/repair-trial.ts';
import { useApp } from './services.ts';

/** What the 3D view shows of a part: its mesh, or what a repair that is looked at would make of it. */
export interface ShownMesh {
  readonly mesh: PartMesh | undefined;
  /** Triangles of `mesh` that the repair changes. */
  readonly changed: Uint32Array | null;
  readonly side: RepairTrial['side'] | null;
}

export function useShownMesh(part: Part): ShownMesh {
  const mesh = useApp((state) => state.meshes[part.id]);
  const trial = useApp((state) => (state.stage === 'part' ? trialOf(state, part.id) : null));
  return useMemo(() => {
    const outcome = trial?.outcome;
    if (!trial || !outcome) return { mesh, changed: null, side: null };
    const { side } = trial;
    const { gone, come } = outcome.changed;
    return side === 'before' ? { mesh, changed: gone, side } : { mesh: outcome.mesh, changed: come, side };
  }, [mesh, trial]);
}
