import { createStore, type StoreApi } from 'zustand/vanilla';
import { planRun, type RunPlan } from '../../core/electrical/plan-run.ts';
import { jobMessages, type JobMessage } from '../../core/job/job-messages.ts';
import { measurePart, type PartMeasure } from '../../core/job/measure-part.ts';
import type { Part } from '../../core/job/job.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { Result } from '../../core/result.ts';
import type { AppState } from './app-state.ts';
import { jobOf, type AppStore } from './app-store.ts';

/** Everything that follows from the job and the meshes. Worked out again on change, never saved. */
export interface Derived {
  readonly measures: Readonly<Record<string, PartMeasure>>;
  /** null while there is no part, or one is still being read. */
  readonly plan: Result<RunPlan> | null;
  readonly messages: readonly JobMessage[];
}

export type DerivedStore = StoreApi<Derived>;

type Remembered = { part: Part; geometry: PartGeometry; measure: PartMeasure };

/** Follows the store. A part is measured again only when it or its mesh is another. */
export function deriveFrom(store: AppStore): DerivedStore {
  const remembered = new Map<string, Remembered>();

  const measureOf = (part: Part, geometry: PartGeometry): PartMeasure => {
    const known = remembered.get(part.id);
    if (known && known.part === part && known.geometry === geometry) return known.measure;
    const measure = measurePart(part, geometry);
    remembered.set(part.id, { part, geometry, measure });
    return measure;
  };

  const derive = (state: AppState): Derived => {
    const job = jobOf(state);
    const measures: Record<string, PartMeasure> = {};
    for (const part of job.parts) {
      const mesh = state.meshes[part.id];
      if (mesh) measures[part.id] = measureOf(part, mesh.geometry);
    }
    for (const id of remembered.keys()) if (!(id in measures)) remembered.delete(id);
    const complete = job.parts.length > 0 && job.parts.every((part) => measures[part.id] !== undefined);
    const plan = complete
      ? planRun(
          job.parts.map((part) => {
            const { coatedM2, unconfirmed } = measures[part.id]!;
            return {
              name: part.name,
              areaM2: coatedM2,
              quantity: part.quantity,
              ...(unconfirmed === undefined ? {} : { unconfirmed }),
            };
          }),
          job.process,
        )
      : null;
    return { measures, plan, messages: jobMessages(job, measures, plan) };
  };

  const derived = createStore<Derived>(() => derive(store.getState()));
  store.subscribe((state, before) => {
    if (jobOf(state) !== jobOf(before) || state.meshes !== before.meshes) derived.setState(derive(state));
  });
  return derived;
}
