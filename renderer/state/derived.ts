import { wettedBusEnds } from '../../core/racking/bus-ends.ts';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { planRun, type RunPlan } from '../../core/electrical/plan-run.ts';
import { planBathHeat, type BathHeat } from '../../core/bath/plan-bath-heat.ts';
import { bathHeatRequest } from '../../core/job/bath-plan.ts';
import { fitGround, type FitGround } from '../../core/job/fit-ground.ts';
import { planFits, type PartFitPlan } from '../../core/job/fit-plan.ts';
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
  /** The job's parts with their wires as long as the tank makes them (core/job/hung-wires.ts). */
  readonly hung: readonly Part[];
  /** How each part hangs; those still being worked out are absent. */
  readonly hanging: DerivedHanging['hanging'];
  readonly tank: DerivedHanging['tank'];
  /** Thickness of each part whose model is read and whose thickness was looked at. */
  readonly field: DerivedField;
}

/** Fits of a part, kept while part, mesh and growth are the same. */
type RememberedFits = {
  part: Part;
  measure: PartMeasure;
  growthKey: string;
  closedOff: Uint32Array | undefined;
  plan: PartFitPlan;
};

/** Triangles above which the first measuring waits for a task of its own: some 10 ms of work here. */
const LARGE_MESH = 100_000;

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

  /**
   * The first look at a large mesh takes long enough to be felt. It is done in a task of its own, after the page has
   * shown the part; until then the part counts as still being read.
   */
  const inItsOwnTask = new Set<string>();
  const laterFor = (key: string, work: () => void): undefined => {
    if (inItsOwnTask.has(key)) return undefined;
    inItsOwnTask.add(key);
    setTimeout(() => {
      inItsOwnTask.delete(key);
      work();
      derived.setState(derive(store.getState()));
    }, 0);
    return undefined;
  };

  const measureOf = (part: Part, geometry: PartGeometry): PartMeasure | undefined => {
    const known = remembered.get(part.id);
    if (known && known.geometry === geometry && measuresAlike(known.part, part)) return known.measure;
    const measureNow = (): PartMeasure => {
      const measure = measurePart(part, geometry);
      remembered.set(part.id, { part, geometry, measure });
      return measure;
    };
    const first = known?.geometry !== geometry && geometry.triangleCount > LARGE_MESH;
    return first ? laterFor(`measure ${part.id}`, measureNow) : measureNow();
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
  const fitsOf = (
    job: Job,
    part: Part,
    geometry: PartGeometry,
    measure: PartMeasure,
  ): PartFitPlan | undefined => {
    const groundNow = (): { geometry: PartGeometry; unit: string; ground: FitGround } => {
      const ground = { geometry, unit: part.unit, ground: fitGround(part, geometry) };
      grounds.set(part.id, ground);
      return ground;
    };
    let known = grounds.get(part.id);
    if (!known || known.geometry !== geometry || known.unit !== part.unit) {
      if (geometry.triangleCount > LARGE_MESH) return laterFor(`fits ${part.id}`, groundNow);
      known = groundNow();
    }
    const growth = netGrowth(job, part);
    const { unitSystem } = store.getState();
    const growthKey = JSON.stringify([growth, unitSystem]);
    const closedOff = hangingStore.getState().parts[part.id]?.traps?.closedOff;
    const before = rememberedFits.get(part.id);
    if (
      before &&
      before.part === part &&
      before.measure === measure &&
      before.growthKey === growthKey &&
      before.closedOff === closedOff
    )
      return before.plan;
    const plan = planFits(part, known.ground, measure.flags, growth, unitSystem, closedOff);
    rememberedFits.set(part.id, { part, measure, growthKey, closedOff, plan });
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
      else if (mesh) {
        const measure = measureOf(part, mesh.geometry);
        if (measure) measures[part.id] = measure;
      }
    }
    for (const id of remembered.keys()) {
      if (state.meshes[id] && job.parts.some((part) => part.id === id)) continue;
      remembered.delete(id);
      grounds.delete(id);
      rememberedFits.delete(id);
    }
    const hung = hangs.hung(state);
    const items = allMeasured(job, measures) ? loadItems(hung, measures) : null;
    const known = hangingStore.getState();
    const tank = hangs.tank(state, items, known);
    const plan = items
      ? planRun(items, job.process, {
          ...(tank.plan?.ok ? { loads: tank.plan.value.loads } : {}),
          ...(tank.loadsWithin ? { loadsWithin: tank.loadsWithin } : {}),
          busEnds: wettedBusEnds(job.hanging.busEnds),
        })
      : null;
    const fits: Record<string, PartFitPlan> = {};
    for (const part of job.parts) {
      const measure = measures[part.id];
      const mesh = state.meshes[part.id];
      const plan = measure && mesh ? fitsOf(job, part, mesh.geometry, measure) : undefined;
      if (plan) fits[part.id] = plan;
    }
    const field = fieldDesk.deriver.parts(state, { measures, fits }, fieldDesk.store.getState());
    const wet: WetPlan = {
      heat: heatOf(job, plan),
      fits,
      thinnestM: thinnestOf(job, field),
      system: state.unitSystem,
    };
    const hanging = hangs.hanging(state, hung, measures, known);
    const more = [
      ...hangs.messages(state, { hanging, tank }, measures, known),
      ...fieldDesk.deriver.messages(state, field, fieldDesk.store.getState()),
    ];
    return {
      measures,
      plan,
      wet,
      hung,
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
    if (
      state.parts !== before.parts ||
      state.tankCheck !== before.tankCheck ||
      state.packed !== before.packed
    )
      derived.setState(derive(store.getState()));
  });
  fieldDesk.store.subscribe((state, before) => {
    if (state.results !== before.results || state.copies !== before.copies || state.opened !== before.opened)
      derived.setState(derive(store.getState()));
  });
  return derived;
}

/** null unless the map of every part is worked out for the job as it stands. */
function thinnestOf(job: Job, fields: DerivedField): number | null {
  const least = job.parts.map(({ id }) => {
    const field = fields[id];
    return field?.reading && !field.stale ? field.reading.figures.leastM.valueSi : null;
  });
  return least.length === 0 || least.some((value) => value === null)
    ? null
    : Math.min(...least.map((value) => value!));
}
