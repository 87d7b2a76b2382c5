import type { PlanItem } from '../../core/electrical/plan-run.ts';
import { hangingMessages } from '../../core/job/hanging-messages.ts';
import { planHanging, type PartHangingPlan } from '../../core/job/hanging-plan.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import type { Job, Part } from '../../core/job/job.ts';
import type { PartMeasure } from '../../core/job/measure-part.ts';
import { tankMessages, type TankView } from '../../core/job/tank-messages.ts';
import { hangingRotation, inTank, planTank, type TankPlan } from '../../core/job/tank-plan.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { hangingSize, type HangingSize } from '../../core/racking/hanging-size.ts';
import type { Result } from '../../core/result.ts';
import type { AppState } from './app-state.ts';
import { jobOf } from './app-store.ts';
import { hangingKey } from './follow-hanging.ts';
import type { HangingState, PartHanging } from './hanging-store.ts';

export interface DerivedHanging {
  /** Per part id; those still being made ready are absent. */
  readonly hanging: Readonly<Record<string, PartHangingPlan>>;
  readonly tank: TankView;
}

/** Works out how parts hang and what the tank holds; sizes, plans and packings are kept while nothing they rest on changed. */
export interface HangingDeriver {
  /** The loads of the tank first: the current planner wants them. */
  tank(state: AppState, items: readonly PlanItem[] | null, hanging: HangingState): TankView;
  hanging(
    state: AppState,
    measures: Readonly<Record<string, PartMeasure>>,
    hanging: HangingState,
  ): DerivedHanging['hanging'];
  messages(state: AppState, derived: DerivedHanging): JobMessage[];
}

export function createHangingDeriver(): HangingDeriver {
  const sizes = new Map<string, { geometry: PartGeometry; key: string; size: HangingSize }>();
  const sizeOf = (part: Part, geometry: PartGeometry): HangingSize => {
    const key = JSON.stringify([part.unit, part.attitude]);
    const known = sizes.get(part.id);
    if (known?.geometry === geometry && known.key === key) return known.size;
    const size = hangingSize(
      geometry.graph.indexed.vertices,
      metresPerUnit(part.unit),
      hangingRotation(part.attitude),
      0,
    );
    sizes.set(part.id, { geometry, key, size });
    return size;
  };

  /** Packing searches; a name typed letter by letter must not repeat it. */
  let packed: { key: string; plan: Result<TankPlan> } | null = null;
  const planOf = (
    job: Job,
    items: readonly PlanItem[],
    known: Readonly<Record<string, HangingSize>>,
  ): Result<TankPlan> | null => {
    if (!inTank(job)) return null;
    const { supplyCurrentLimitA, currentDensityAPerM2 } = job.process;
    const key = JSON.stringify([
      job.tank,
      job.hanging,
      supplyCurrentLimitA,
      currentDensityAPerM2,
      items,
      known,
    ]);
    if (packed?.key !== key) packed = { key, plan: planTank(job, items, known) };
    return packed.plan;
  };

  const plans = new Map<string, { from: readonly unknown[]; plan: PartHangingPlan }>();
  const hangingOf = (
    state: AppState,
    part: Part,
    measure: PartMeasure,
    known: PartHanging,
  ): PartHangingPlan => {
    const job = jobOf(state);
    const geometry = state.meshes[part.id]!.geometry;
    const { bath, process, hanging } = job;
    const from = [
      part,
      measure,
      known.facts,
      known.traps,
      hanging,
      process.currentDensityAPerM2,
      bath,
      state.unitSystem,
    ];
    const before = plans.get(part.id);
    if (before && before.from.every((value, i) => value === from[i])) return before.plan;
    const { min, max } = geometry;
    const { open, moments, centre } = known.facts!;
    const plan = planHanging(
      job,
      part,
      {
        open,
        moments,
        centre,
        size: Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]),
        traps: known.traps,
      },
      measure.coatedM2,
      state.unitSystem,
      measure.unconfirmed,
    );
    plans.set(part.id, { from, plan });
    return plan;
  };

  return {
    tank(state, items, hanging) {
      const job = jobOf(state);
      const known: Record<string, HangingSize> = {};
      for (const part of job.parts) {
        const geometry = state.meshes[part.id]?.geometry;
        if (geometry && job.tank && geometry.triangleCount > 0) known[part.id] = sizeOf(part, geometry);
      }
      return { plan: items ? planOf(job, items, known) : null, check: hanging.tankCheck, sizes: known };
    },
    hanging(state, measures, hanging) {
      const found: Record<string, PartHangingPlan> = {};
      for (const part of jobOf(state).parts) {
        const geometry = state.meshes[part.id]?.geometry;
        const known = hanging.parts[part.id];
        const measure = measures[part.id];
        if (!geometry || !known?.facts || !measure || known.key !== hangingKey(geometry, part)) continue;
        found[part.id] = hangingOf(state, part, measure, known);
      }
      return found;
    },
    messages(state, { hanging, tank }) {
      const job = jobOf(state);
      return [
        ...job.parts.flatMap((part) => {
          const plan = hanging[part.id];
          return plan ? hangingMessages(part, plan) : [];
        }),
        ...tankMessages(job, tank, state.unitSystem),
      ];
    },
  };
}
