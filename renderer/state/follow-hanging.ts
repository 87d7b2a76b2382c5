import { levelOnPart } from '../../core/job/hung-depth.ts';
import {
  adviceRequest,
  pinsToJudge,
  type AdviceRequest,
  type PinsRequest,
} from '../../core/job/advice-request.ts';
import type { Part } from '../../core/job/job.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { Plugs } from '../../core/racking/plugs.ts';
import { unit } from '../../core/racking/vec3.ts';
import type { Result } from '../../core/result.ts';
import type { AppState } from './app-state.ts';
import { jobOf, type AppStore } from './app-store.ts';
import type { DerivedStore } from './derived.ts';
import { plugsOfPart } from './plugs-of-part.ts';
import { NOTHING_KNOWN, type HangingStore, type PartHanging } from './hanging-store.ts';
import type { WorkerClient } from '../worker/client.ts';

/** So that a part just opened is drawn and can be clicked before its hanging is worked out. */
const WAIT_MS = 250;

/** Names a geometry at a scale; the same key as long as both are the same. */
const numbers = new WeakMap<PartGeometry, number>();
let lastNumber = 0;
export function hangingKey(geometry: PartGeometry, part: Pick<Part, 'unit'>): string {
  let number = numbers.get(geometry);
  if (number === undefined) numbers.set(geometry, (number = lastNumber += 1));
  return `${number} ${part.unit}`;
}

interface Asked {
  key: string;
  traps: string;
  contacts: string;
  pins: string;
}

/**
 * Keeps what is known of every part's hanging up to date: weight, traps and what is to be said of its pins always,
 * proposals for the part in sight at the hanging stage. What is asked again while the worker is busy replaces what was asked before.
 */
export function followHanging(
  store: AppStore,
  derived: DerivedStore,
  hanging: HangingStore,
  worker: WorkerClient,
): void {
  const asked = new Map<string, Asked>();
  let timer: ReturnType<typeof setTimeout> | undefined;

  const put = (partId: string, key: string, change: Partial<PartHanging>): void =>
    hanging.setState(({ parts }) => {
      const known = parts[partId];
      return known?.key === key ? { parts: { ...parts, [partId]: { ...known, ...change } } } : {};
    });

  /** Makes the part ready again where the worker no longer has it, and asks once more. */
  const onKept = async <T>(
    part: Part,
    geometry: PartGeometry,
    key: string,
    ask: () => Promise<Result<T>>,
  ): Promise<Result<T>> => {
    const first = await ask();
    if (first.ok || first.error.code !== 'not-kept') return first;
    const made = await worker.run('prepareHanging', {
      name: part.name,
      key,
      geometry,
      metresPerUnit: metresPerUnit(part.unit),
    });
    return made.ok ? ask() : made;
  };

  const prepare = async (part: Part, geometry: PartGeometry, key: string): Promise<void> => {
    const facts = await worker.run('prepareHanging', {
      name: part.name,
      key,
      geometry,
      metresPerUnit: metresPerUnit(part.unit),
    });
    if (facts.ok) put(part.id, key, { facts: facts.value });
    else put(part.id, key, { failure: facts.error });
  };

  const findTraps = async (
    part: Part,
    geometry: PartGeometry,
    key: string,
    plugs: Plugs | null,
  ): Promise<void> => {
    const up = unit(part.attitude.up);
    const found = await onKept(part, geometry, key, () =>
      worker.run('findTraps', { name: part.name, key, up, plugs }, { supersede: `traps ${part.id}` }),
    );
    if (found.ok) put(part.id, key, { traps: found.value });
    else if (found.error.code !== 'superseded') put(part.id, key, { traps: null });
  };

  const advise = async (
    part: Part,
    geometry: PartGeometry,
    key: string,
    request: AdviceRequest,
  ): Promise<void> => {
    put(part.id, key, { looking: true });
    const found = await onKept(part, geometry, key, () =>
      worker.run(
        'adviseContacts',
        { name: part.name, key, ...request },
        { supersede: `contacts ${part.id}` },
      ),
    );
    if (found.ok) put(part.id, key, { contacts: found.value, looking: false, failure: null });
    else if (found.error.code !== 'superseded') {
      put(part.id, key, { contacts: null, looking: false, failure: found.error });
    }
  };

  const judge = async (
    part: Part,
    geometry: PartGeometry,
    key: string,
    request: PinsRequest,
  ): Promise<void> => {
    const found = await onKept(part, geometry, key, () =>
      worker.run('judgePins', { name: part.name, key, ...request }, { supersede: `pins ${part.id}` }),
    );
    const at = Object.fromEntries(request.pins.map((pin) => [pin.id, pin.at]));
    if (found.ok) put(part.id, key, { pins: { ...found.value, at }, pinsFailure: null });
    else if (found.error.code !== 'superseded') put(part.id, key, { pins: null, pinsFailure: found.error });
  };

  const look = (state: AppState): void => {
    const job = jobOf(state);
    for (const part of job.parts) {
      const geometry = state.meshes[part.id]?.geometry;
      if (!geometry || geometry.triangleCount === 0) continue;
      const key = hangingKey(geometry, part);
      let known = asked.get(part.id);
      if (known?.key !== key) {
        if (known) void worker.run('dropHanging', { name: part.name, key: known.key });
        known = { key, traps: '', contacts: '', pins: '' };
        asked.set(part.id, known);
        hanging.setState(({ parts, searches }) => ({
          parts: {
            ...parts,
            [part.id]: { ...NOTHING_KNOWN, key },
          },
          searches: Object.fromEntries(Object.entries(searches).filter(([id]) => id !== part.id)),
        }));
        void prepare(part, geometry, key);
      }
      const plugs = plugsOfPart(derived.getState(), part, geometry);
      const trapsKey = `${part.attitude.up.join()} plugs ${plugs?.key ?? ''}`;
      if (known.traps !== trapsKey) {
        known.traps = trapsKey;
        void findTraps(part, geometry, key, plugs);
      }
      const measure = derived.getState().measures[part.id];
      // A large part is still being measured: what it takes of current is known in a moment.
      if (!measure) continue;
      const level = levelOnPart(derived.getState().tank.sizes[part.id], part);
      const request = adviceRequest(job, part, geometry, state.unitSystem, measure.coatedM2, level);
      const said = [request.options, part.coverage];
      const pins = pinsToJudge(part, geometry);
      const pinsKey = JSON.stringify([said, pins]);
      if (known.pins !== pinsKey) {
        known.pins = pinsKey;
        if (pins.length > 0) void judge(part, geometry, key, { ...request, pins });
      }
      if (state.stage !== 'hanging' || part.id !== state.activePartId) continue;
      const contactsKey = JSON.stringify(said);
      if (known.contacts !== contactsKey) {
        known.contacts = contactsKey;
        void advise(part, geometry, key, request);
      }
    }
    for (const [partId, { key }] of asked) {
      if (job.parts.some(({ id }) => id === partId)) continue;
      asked.delete(partId);
      void worker.run('dropHanging', { name: partId, key });
      hanging.setState(({ parts }) => ({
        parts: Object.fromEntries(Object.entries(parts).filter(([id]) => id !== partId)),
      }));
    }
  };

  const soon = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => look(store.getState()), WAIT_MS);
  };
  store.subscribe((state, before) => {
    if (
      jobOf(state) !== jobOf(before) ||
      state.meshes !== before.meshes ||
      state.stage !== before.stage ||
      state.unitSystem !== before.unitSystem ||
      state.activePartId !== before.activePartId
    )
      soon();
  });
  derived.subscribe(({ measures, wet: { fits } }, before) => {
    const ids = Object.keys(measures);
    const isNew = (id: string): boolean =>
      measures[id]?.coatedM2 !== before.measures[id]?.coatedM2 ||
      fits[id]?.rounds !== before.wet.fits[id]?.rounds;
    if (ids.some(isNew)) soon();
  });
}
