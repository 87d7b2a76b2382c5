import { createStore, type StoreApi } from 'zustand/vanilla';
import { planRun, type RunPlan } from '../../core/electrical/plan-run.ts';
import { planBathHeat, type BathHeat } from '../../core/bath/plan-bath-heat.ts';
import { bathHeatRequest } from '../../core/job/bath-plan.ts';
import { fitGround, planFits, type FitGround, type PartFitPlan } from '../../core/job/fit-plan.ts';
import { netGrowth } from '../../core/job/job-growth.ts';
import { jobMessages, type JobMessage } from '../../core/job/job-messages.ts';
import { allMeasured, loadItems } from '../../core/job/load-items.ts';
import { measurePart, measureTyped, type PartMeasure } from '../../core/job/measure-part.ts';
import type { Job, Part } from '../../core/job/job.ts';
import type { WetPlan } from '../../core/job/wet-messages.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { Result } from '../../core/result.ts';
import type { AppState } from './app-state.ts';
import { createFieldDeriver, type DerivedField } from './derive-field.ts';
import { createHangingDeriver, type DerivedHanging } from './derive-hanging.ts';
import { createFieldStore } from './field-store.ts';
import { createHangingStore } from './hanging-store.ts';
import { jobOf, type AppStore } from './app-store.ts';

/** Everything that follows from the job and the meshes. Worked out again on change, never saved. */
export interface Derived {
  readonly measures: Readonly<Record<string, PartMeasure>>;
  /** null while there is no part, or one is still being read. */
  readonly plan: Result<RunPlan> | null;
  readonly messages: readonly JobMessage[];
  readonly wet: WetPlan;
  /** How each part hangs; those still being worked out are absent. */
  readonly hanging: DerivedHanging['hanging'];
  readonly tank: DerivedHanging['tank'];
  /** Thickness of each part whose model is read and whose thickness was looked at. */
  readonly field: DerivedField;
}

/** Fits of a part, kept while part, mesh and growth are the same. */
type RememberedFits = { part: Part; measure: PartMeasure; growthKey: string; plan: PartFitPlan };

export type DerivedStore = StoreApi<Derived>;

type Remembered = { part: Part; geometry: PartGeometry; measure: PartMeasure };

/** Whether two states of a part measure the same: all that differs is what its surface does not depend on. */
function measuresAlike(a: Part, b: Part): boolean {
  const { name: _nameA, quantity: _quantityA, ...restA } = a;
  const { name: _nameB, quantity: _quantityB, ...restB } = b;
  return (Object.keys(restB) as (keyof typeof restB)[]).every((key) => restA[key] === restB[key]);
}

/** Follows the store. A part is measured again only when it or its mesh is another. */
export function deriveFrom(
  store: AppStore,
  hangingStore = createHangingStore(),
  fieldDesk = { store: createFieldStore(), deriver: createFieldDeriver() },
): DerivedStore {
  const hangs = createHangingDeriver();
  const remembered = new Map<string, Remembered>();

  const measureOf = (part: Part, geometry: PartGeometry): PartMeasure => {
    const known = remembered.get(part.id);
    if (known && known.geometry === geometry && measuresAlike(known.part, part)) return known.measure;
    const measure = measurePart(part, geometry);
    remembered.set(part.id, { part, geometry, measure });
    return measure;
  };

  /** The same object while the number is the same, so that nothing that hangs on it is worked out again. */
  const typed = new Map<number, PartMeasure>();
  const typedMeasure = (areaM2: number): PartMeasure => {
    const known = typed.get(areaM2) ?? measureTyped(areaM2);
    typed.set(areaM2, known);
    return known;
  };

  const grounds = new Map<string, { geometry: PartGeometry; unit: string; ground: FitGround }>();
  const rememberedFits = new Map<string, RememberedFits>();
  const fitsOf = (job: Job, part: Part, geometry: PartGeometry, measure: PartMeasure): PartFitPlan => {
    let known = grounds.get(part.id);
    if (!known || known.geometry !== geometry || known.unit !== part.unit) {
      known = { geometry, unit: part.unit, ground: fitGround(part, geometry) };
      grounds.set(part.id, known);
    }
    const growth = netGrowth(job);
    const growthKey = `${growth.usualM} ${growth.lowM} ${growth.highM}`;
    const before = rememberedFits.get(part.id);
    if (before && before.part === part && before.measure === measure && before.growthKey === growthKey)
      return before.plan;
    const plan = planFits(part, known.ground, measure.flags, growth);
    rememberedFits.set(part.id, { part, measure, growthKey, plan });
    return plan;
  };

  /** The heat balance takes long enough to be felt while typing a name. */
  let heat: { key: string; value: Result<BathHeat> } | null = null;
  const heatOf = (job: Job, plan: Result<RunPlan> | null): Result<BathHeat> | null => {
    const request = plan?.ok ? bathHeatRequest(job, plan.value) : null;
    if (!request) return null;
    const key = JSON.stringify(request);
    if (heat?.key !== key) heat = { key, value: planBathHeat(request) };
    return heat.value;
  };

  const derive = (state: AppState): Derived => {
    const job = jobOf(state);
    const measures: Record<string, PartMeasure> = {};
    for (const part of job.parts) {
      const mesh = state.meshes[part.id];
      if (part.source.kind === 'typed') measures[part.id] = typedMeasure(part.source.areaM2);
      else if (mesh) measures[part.id] = measureOf(part, mesh.geometry);
    }
    for (const id of remembered.keys()) {
      if (id in measures) continue;
      remembered.delete(id);
      grounds.delete(id);
      rememberedFits.delete(id);
    }
    const items = allMeasured(job, measures) ? loadItems(job.parts, measures) : null;
    const known = hangingStore.getState();
    const tank = hangs.tank(state, items, known);
    const plan = items
      ? planRun(items, job.process, tank.plan?.ok ? tank.plan.value.loads : undefined)
      : null;
    const fits: Record<string, PartFitPlan> = {};
    for (const part of job.parts) {
      const measure = measures[part.id];
      const mesh = state.meshes[part.id];
      if (measure && mesh) fits[part.id] = fitsOf(job, part, mesh.geometry, measure);
    }
    const wet: WetPlan = { heat: heatOf(job, plan), fits };
    const hanging = hangs.hanging(state, measures, known);
    const field = fieldDesk.deriver.parts(state, measures, fieldDesk.store.getState());
    const more = [...hangs.messages(state, { hanging, tank }), ...fieldDesk.deriver.messages(state, field)];
    return {
      measures,
      plan,
      wet,
      hanging,
      tank,
      field,
      messages: jobMessages(job, measures, plan, wet, more),
    };
  };

  const derived = createStore<Derived>(() => derive(store.getState()));
  store.subscribe((state, before) => {
    if (
      jobOf(state) !== jobOf(before) ||
      state.meshes !== before.meshes ||
      state.unitSystem !== before.unitSystem
    )
      derived.setState(derive(state));
  });
  hangingStore.subscribe((state, before) => {
    if (state.parts !== before.parts || state.tankCheck !== before.tankCheck)
      derived.setState(derive(store.getState()));
  });
  fieldDesk.store.subscribe((state, before) => {
    if (state.results !== before.results || state.copies !== before.copies || state.opened !== before.opened)
      derived.setState(derive(store.getState()));
  });
  return derived;
}
