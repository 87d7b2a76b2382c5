import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Contact } from '../../core/job/job.ts';
import type { PackedLoads, PackingHelp, PackRequest } from '../../core/job/pack-request.ts';
import type { PluggedTraps } from '../../core/racking/plugged-traps.ts';
import type { AttitudeSearch } from '../../core/racking/search-attitudes.ts';
import type { TankCheck } from '../../core/racking/tank-clearance.ts';
import type { Failure } from '../../core/result.ts';
import type { PinVerdicts } from '../../core/racking/judge-pins.ts';
import type { Vec3 } from '../../core/racking/vec3.ts';
import type { ContactReport, HangingFacts } from '../worker/hanging-jobs.ts';

/** What the worker has made of one part's hanging. Never saved. */
export interface PartHanging {
  /** Which geometry and unit it was made from. */
  readonly key: string;
  readonly facts: HangingFacts | null;
  readonly traps: PluggedTraps | null;
  /** Of the proposals; kept while newer ones are worked out. */
  readonly contacts: ContactReport | null;
  readonly looking: boolean;
  /** Of the user's own pins, and where each of them was then. */
  readonly pins: (PinVerdicts & { readonly at: Readonly<Record<string, Vec3>> }) | null;
  readonly pinsFailure: Failure | null;
  readonly failure: Failure | null;
}

export const NOTHING_KNOWN: Omit<PartHanging, 'key'> = {
  facts: null,
  traps: null,
  contacts: null,
  looking: false,
  pins: null,
  pinsFailure: null,
  failure: null,
};

export type SearchState =
  | { readonly state: 'running'; readonly fraction: number | null; readonly cancel: () => void }
  /** `key`: the geometry and plugs it was made from. */
  | { readonly state: 'done'; readonly key: string; readonly search: AttitudeSearch }
  | { readonly state: 'failed'; readonly failure: Failure };

export interface PackedTank extends PackedLoads {
  readonly request: PackRequest;
  readonly help: PackingHelp;
}

export interface HangingState {
  readonly parts: Readonly<Record<string, PartHanging>>;
  readonly searches: Readonly<Record<string, SearchState>>;
  /** The loads as they were packed last, and for what. */
  readonly packed: PackedTank | null;
  readonly tankCheck: TankCheck | null;
  /** While a copy is dragged: its own clearances, as it is now. */
  readonly dragCheck: TankCheck | null;
  readonly tankFailure: Failure | null;
  readonly selectedPlacementId: string | null;
}

export type HangingStore = StoreApi<HangingState>;

export function createHangingStore(): HangingStore {
  return createStore<HangingState>(() => ({
    parts: {},
    searches: {},
    packed: null,
    tankCheck: null,
    dragCheck: null,
    tankFailure: null,
    selectedPlacementId: null,
  }));
}

/** Proposals are lettered, so that they are not taken for pins. */
export const proposalLetter = (index: number): string => String.fromCharCode(65 + (index % 26));

/** What is known of the pins where they are now; those that were moved since are absent. */
export function pinsAsJudged(
  { pins }: Pick<PartHanging, 'pins'>,
  contacts: readonly Pick<Contact, 'id' | 'at'>[],
): PinVerdicts {
  const same = ({ id, at }: Pick<Contact, 'id' | 'at'>): boolean =>
    pins?.at[id]?.every((value, axis) => value === at[axis]) === true;
  if (!pins) return { critique: {}, together: null };
  const known = contacts.filter(same);
  return {
    critique: Object.fromEntries(
      known.flatMap(({ id }) => {
        const verdict = pins.critique[id];
        return verdict ? [[id, verdict]] : [];
      }),
    ),
    together: known.length === contacts.length ? pins.together : null,
  };
}
