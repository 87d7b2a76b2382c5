import { fieldMessages, mapForgotten } from '../../core/job/field-messages.ts';
import { readBores, readField, type BoreSummary, type FieldReading } from '../../core/job/field-reading.ts';
import {
  fieldSetting,
  type FieldGround,
  type FieldSetting,
  type FieldVariant,
} from '../../core/job/field-setting.ts';
import type { SceneField } from '../../core/field/solve-scene.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import type { WetPlan } from '../../core/job/wet-messages.ts';
import type { Job } from '../../core/job/job.ts';
import type { PartMeasure } from '../../core/job/measure-part.ts';
import type { Result } from '../../core/result.ts';
import type { AppState } from './app-state.ts';
import { jobOf } from './app-store.ts';
import type { FieldOutcome, FieldState } from './field-store.ts';
import { createMeshKeys } from './mesh-keys.ts';
import { knownPlugs } from './plugs-of-part.ts';

/** What is known of one part's thickness. */
export interface PartField {
  /** The job as it stands now, as the solver would see it. */
  readonly setting: Result<FieldSetting>;
  /** Of the last solution for this part; null before there is one. */
  readonly reading: FieldReading | null;
  readonly field: SceneField | null;
  readonly outcome: FieldOutcome | null;
  /** The job has changed since that solution. */
  readonly stale: boolean;
  readonly bores: Result<BoreSummary>;
}

export type DerivedField = Readonly<Record<string, PartField>>;

/** By part, as far as they are known. */
export interface FieldSurfaces {
  readonly measures: Readonly<Record<string, PartMeasure>>;
  readonly fits: WetPlan['fits'];
}

export type FieldDeriver = ReturnType<typeof createFieldDeriver>;

export function createFieldDeriver() {
  const meshKey = createMeshKeys();
  const remembered = new Map<string, { readonly on: readonly unknown[]; readonly value: PartField }>();

  const groundsOf = (
    state: Pick<AppState, 'meshes'>,
    { measures, fits }: FieldSurfaces,
  ): Record<string, FieldGround> =>
    Object.fromEntries(
      Object.entries(measures).flatMap(([id, measure]) => {
        const geometry = state.meshes[id]?.geometry;
        // Of a large part the bores are known in a moment: until then nobody can say which have a plug.
        if (!geometry || !fits[id]) return [];
        const plugs = knownPlugs(geometry, measure, fits[id]);
        return [[id, { geometry, measure, plugs, meshKey: meshKey(geometry) }]];
      }),
    );

  const settingOf = (
    state: AppState,
    surfaces: FieldSurfaces,
    partId: string,
    field: FieldState,
    variant: FieldVariant = {},
  ): Result<FieldSetting> =>
    fieldSetting(jobOf(state), partId, groundsOf(state, surfaces), field.copies[partId] ?? 0, variant);

  const onePart = (
    state: AppState,
    job: Job,
    surfaces: FieldSurfaces,
    partId: string,
    field: FieldState,
  ): PartField => {
    const lastKey = field.lastKeys[partId];
    const last = lastKey === undefined ? undefined : field.results.get(lastKey);
    const on = [
      job.parts,
      job.tank,
      job.placements,
      job.bath,
      job.process,
      job.field,
      state.meshes,
      last,
      field.copies[partId],
      ...job.parts.flatMap(({ id }) => [surfaces.measures[id], surfaces.fits[id]?.rounds]),
    ];
    const known = remembered.get(partId);
    if (known && known.on.length === on.length && known.on.every((value, i) => value === on[i]))
      return known.value;
    const grounds = groundsOf(state, surfaces);
    const setting = settingOf(state, surfaces, partId, field);
    const current = setting.ok ? field.results.get(setting.value.key) : undefined;
    const outcome = current ?? last ?? null;
    const part = job.parts.find(({ id }) => id === partId)!;
    const ground = grounds[partId]!;
    // A solution is of one mesh; another mesh has other triangles.
    const fits = outcome !== null && outcome.field.source.every((t) => t < ground.geometry.triangleCount);
    const reading = outcome && fits ? readField(job, outcome.setting, outcome.field, ground) : null;
    const value: PartField = {
      setting,
      reading,
      field: reading ? outcome!.field : null,
      outcome: reading ? outcome : null,
      stale: reading !== null && current === undefined,
      bores: readBores(job, part, ground, reading ? { reading, field: outcome!.field } : undefined),
    };
    remembered.set(partId, { on, value });
    return value;
  };

  return {
    settingOf,
    parts(state: AppState, surfaces: FieldSurfaces, field: FieldState): DerivedField {
      const job = jobOf(state);
      const known = job.parts.filter(
        ({ id }) =>
          surfaces.measures[id] &&
          surfaces.fits[id] &&
          state.meshes[id] &&
          (field.opened.has(id) || field.lastKeys[id] !== undefined),
      );
      for (const id of remembered.keys()) if (!known.some((part) => part.id === id)) remembered.delete(id);
      return Object.fromEntries(known.map(({ id }) => [id, onePart(state, job, surfaces, id, field)]));
    },
    messages(state: AppState, fields: DerivedField, desk: FieldState): JobMessage[] {
      const job = jobOf(state);
      return job.parts.flatMap((part) => {
        const field = fields[part.id];
        const forgotten = desk.mappedBefore.has(part.id) && desk.lastKeys[part.id] === undefined;
        if (forgotten && state.meshes[part.id]) return [mapForgotten(part)];
        if (!field || field.stale) return [];
        const bores = field.bores.ok ? field.bores.value : null;
        return fieldMessages(job, part, field.reading, bores, state.unitSystem);
      });
    },
  };
}
