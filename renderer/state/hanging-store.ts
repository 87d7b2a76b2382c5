import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Traps } from '../../core/racking/find-traps.ts';
import type { AttitudeSearch } from '../../core/racking/search-attitudes.ts';
import type { TankCheck } from '../../core/racking/tank-clearance.ts';
import type { Failure } from '../../core/result.ts';
import type { ContactReport, HangingFacts } from '../worker/hanging-jobs.ts';

/** What the worker has made of one part's hanging. Never saved. */
export interface PartHanging {
  /** Which geometry and unit it was made from. */
  readonly key: string;
  readonly facts: HangingFacts | null;
  readonly traps: Traps | null;
  /** Of the proposals; kept while newer ones are worked out. */
  readonly contacts: ContactReport | null;
  readonly looking: boolean;
  readonly failure: Failure | null;
}

export type SearchState =
  | { readonly state: 'running'; readonly fraction: number | null; readonly cancel: () => void }
  /** `key`: the geometry it was made from. */
  | { readonly state: 'done'; readonly key: string; readonly search: AttitudeSearch }
  | { readonly state: 'failed'; readonly failure: Failure };

export interface HangingState {
  readonly parts: Readonly<Record<string, PartHanging>>;
  readonly searches: Readonly<Record<string, SearchState>>;
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
    tankCheck: null,
    dragCheck: null,
    tankFailure: null,
    selectedPlacementId: null,
  }));
}

/** Proposals are lettered, so that they are not taken for pins. */
export const proposalLetter = (index: number): string => String.fromCharCode(65 + (index % 26));
