import type { PlanItem } from '../../core/electrical/plan-items.ts';
import { hangingMessages } from '../../core/job/hanging-messages.ts';
import { planHanging, type PartHangingPlan } from '../../core/job/hanging-plan.ts';
import { copiesAtLevel, hungPart, sizeAsHung } from '../../core/job/hung-wires.ts';
import { closedOffBy } from '../../core/job/closed-off.ts';
import { levelOnPart } from '../../core/job/hung-depth.ts';
import { trapsInBath } from '../../core/racking/traps-in-bath.ts';
import { sealedVolumeOf } from '../../core/job/sealed-volume.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import type { Job, Part } from '../../core/job/job.ts';
import type { PartMeasure } from '../../core/job/measure-part.ts';
import { pieceMessages } from '../../core/job/split-part.ts';
import { pinMessages } from '../../core/job/pin-messages.ts';
import { tankMessages, type TankView } from '../../core/job/tank-messages.ts';
import { inTank, type TankPlan } from '../../core/job/tank-plan.ts';
import { NO_PACKING_HELP, packRequest, type PackRequest } from '../../core/job/pack-request.ts';
import type { Result } from '../../core/result.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { HangingSize } from '../../core/racking/hanging-size.ts';
import type { Placement } from '../../core/racking/tank.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import type { AppState } from './app-state.ts';
import { jobOf } from './app-store.ts';
import { hangingKey } from './follow-hanging.ts';
import { pinsAsJudged, type HangingState, type PackedTank, type PartHanging } from './hanging-store.ts';

export interface DerivedHanging {
  /** Per part id; those still being made ready are absent. */
  readonly hanging: Readonly<Record<string, PartHangingPlan>>;
  readonly tank: TankView & {
    /** What is to be packed, or was. */
    readonly request: PackRequest | null;
    /** The job's copies as they hang; the same array while nothing changed. */
    readonly copies: readonly Placement[];
  };
}

/** Works out how parts hang and what the tank holds; sizes and plans are kept while nothing they rest on changed; packing is the worker's. */
export interface HangingDeriver {
  /** The parts with their wires as long as the tank makes them; the same objects while nothing changed. */
  hung(state: AppState): readonly Part[];
  /** The loads of the tank first: the current planner wants them. */
  tank(state: AppState, items: readonly PlanItem[] | null, hanging: HangingState): DerivedHanging['tank'];
  hanging(
    state: AppState,
    parts: readonly Part[],
    measures: Readonly<Record<string, PartMeasure>>,
    hanging: HangingState,
  ): DerivedHanging['hanging'];
  messages(
    state: AppState,
    derived: DerivedHanging,
    measures: Readonly<Record<string, PartMeasure>>,
    known: HangingState,
  ): JobMessage[];
}

export function createHangingDeriver(): HangingDeriver {
  /** Looking for the pins' triangles takes a pass over the mesh. */
  const said = new WeakMap<Part, { geometry: PartGeometry; messages: JobMessage[] }>();
  const piecesOf = (state: AppState, part: Part): readonly JobMessage[] => {
    const geometry = state.meshes[part.id]?.geometry;
    if (!geometry || geometry.apart.length < 2) return [];
    const before = said.get(part);
    if (before?.geometry === geometry) return before.messages;
    const messages = pieceMessages(part, geometry);
    said.set(part, { geometry, messages });
    return messages;
  };

  const sizes = new Map<string, { geometry: PartGeometry; key: string; size: HangingSize }>();
  const sizeOf = (part: Part, geometry: PartGeometry): HangingSize => {
    const key = JSON.stringify([part.unit, part.attitude, part.surface.immersedDepth]);
    const known = sizes.get(part.id);
    if (known?.geometry === geometry && known.key === key) return known.size;
    const size = sizeAsHung(part, geometry);
    sizes.set(part.id, { geometry, key, size });
    return size;
  };

  /** The same request while what it rests on is the same, so that nobody packs again for it. */
  let asked: PackRequest | null = null;
  const requestOf = (
    job: Job,
    items: readonly PlanItem[],
    known: Readonly<Record<string, HangingSize>>,
    system: UnitSystem,
  ): PackRequest | null => {
    if (!inTank(job)) return null;
    const request = packRequest(job, items, known, system);
    if (asked?.key !== request.key) asked = request;
    return asked;
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
    const size = job.tank || part.surface.immersedDepth !== null ? sizeOf(part, geometry) : undefined;
    const traps = known.traps && trapsInBath(known.traps, metresPerUnit(part.unit), levelOnPart(size, part));
    const closedOff = traps
      ? closedOffBy(geometry, traps.closedOff, measure.flags, metresPerUnit(part.unit))
      : null;
    const plan = planHanging(
      job,
      part,
      {
        open,
        moments,
        centre,
        size: Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]),
        traps,
        shutCount: traps?.shut.length ?? 0,
        sealedVolumeM3: sealedVolumeOf(part, measure, traps),
        plugCount: traps?.plugCount ?? 0,
        closedOff,
      },
      measure.coatedM2,
      state.unitSystem,
      measure.unconfirmed,
    );
    plans.set(part.id, { from, plan });
    return plan;
  };

  const sizesOf = (state: AppState): Record<string, HangingSize> => {
    const job = jobOf(state);
    const known: Record<string, HangingSize> = {};
    for (const part of job.parts) {
      const geometry = state.meshes[part.id]?.geometry;
      const wanted = job.tank !== null || part.surface.immersedDepth !== null;
      if (geometry && wanted && geometry.triangleCount > 0) known[part.id] = sizeOf(part, geometry);
    }
    return known;
  };

  let copiesBefore: { readonly key: string; readonly made: readonly Placement[] } | null = null;
  const copiesOf = (job: Job, known: Readonly<Record<string, HangingSize>>): readonly Placement[] => {
    const made = copiesAtLevel(job, known);
    if (made === job.placements) return made;
    const key = JSON.stringify(made);
    if (copiesBefore?.key !== key) copiesBefore = { key, made };
    return copiesBefore.made;
  };

  const hungBefore = new Map<string, { from: readonly unknown[]; part: Part }>();

  return {
    hung(state) {
      const job = jobOf(state);
      const known = sizesOf(state);
      return job.parts.map((part) => {
        const from = [part, job.tank, job.placements, known[part.id]];
        const before = hungBefore.get(part.id);
        if (before && before.from.every((value, i) => value === from[i])) return before.part;
        const made = hungPart(job, part, known[part.id]);
        hungBefore.set(part.id, { from, part: made });
        return made;
      });
    },
    tank(state, items, hanging) {
      const job = jobOf(state);
      const known = sizesOf(state);
      const request = items ? requestOf(job, items, known, state.unitSystem) : null;
      const check = hanging.tankCheck;
      const copies = copiesOf(job, known);
      const { packed } = hanging;
      if (!request || !packed) {
        const isPacking = request !== null;
        const help = NO_PACKING_HELP;
        return { plan: null, help, check, sizes: known, request, copies, isPacking };
      }
      const isPacking = packed.request.key !== request.key;
      if (!isPacking) {
        const within = new Map(packed.within);
        const { plan, help } = packed;
        return {
          plan,
          help,
          check,
          sizes: known,
          request,
          copies,
          loadsWithin: (area) => within.get(area),
        };
      }
      // For the moment the loads as they were, where they hold the pieces that there are now.
      return {
        plan: stillHolds(packed, request) ? asNow(packed.plan, request) : null,
        help: NO_PACKING_HELP,
        check,
        sizes: known,
        request,
        copies,
        isPacking,
      };
    },
    hanging(state, parts, measures, hanging) {
      const found: Record<string, PartHangingPlan> = {};
      for (const part of parts) {
        const geometry = state.meshes[part.id]?.geometry;
        const known = hanging.parts[part.id];
        const measure = measures[part.id];
        if (!geometry || !known?.facts || !measure || known.key !== hangingKey(geometry, part)) continue;
        found[part.id] = hangingOf(state, part, measure, known);
      }
      return found;
    },
    messages(state, { hanging, tank }, measures, known) {
      const job = jobOf(state);
      return [
        ...job.parts.flatMap((part) => {
          const plan = hanging[part.id];
          return [
            ...(plan ? hangingMessages(part, plan, state.unitSystem) : []),
            ...piecesOf(state, part),
            ...pinMessagesOf(state, part, measures[part.id], known.parts[part.id]),
          ];
        }),
        ...tankMessages(job, tank, state.unitSystem),
      ];
    },
  };
}

/** A typed part has no surface for pins to lie on. */
function pinMessagesOf(
  state: AppState,
  part: Part,
  measure: PartMeasure | undefined,
  known: PartHanging | undefined,
): JobMessage[] {
  const geometry = state.meshes[part.id]?.geometry;
  if (!geometry || !measure || part.contacts.length === 0) return [];
  const current = known?.key === hangingKey(geometry, part) ? known : null;
  return pinMessages(
    part,
    {
      critique: current ? pinsAsJudged(current, part.contacts).critique : {},
      failure: current?.pinsFailure ?? null,
      onPart: new Set(measure.contacts.map(({ contactId }) => contactId)),
    },
    state.unitSystem,
  );
}

const stillHolds = ({ request }: PackedTank, now: PackRequest): boolean =>
  request.job.parts.length === now.job.parts.length &&
  request.job.parts.every(({ id, quantity }, i) => {
    const part = now.job.parts[i]!;
    return part.id === id && part.quantity === quantity;
  });

/** Loads packed before, with the areas that their pieces have now. */
function asNow(plan: PackedTank['plan'], { items }: PackRequest): Result<TankPlan> | null {
  if (!plan.ok) return null;
  const loads = plan.value.loads.map(({ pieces }) => ({
    pieces,
    areaM2: pieces.reduce((sum, count, i) => sum + count * items[i]!.areaM2, 0),
  }));
  return { ok: true, value: { ...plan.value, loads } };
}
