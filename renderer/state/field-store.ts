import { createStore, type StoreApi } from 'zustand/vanilla';
import type { FieldSetting, FieldVariant } from '../../core/job/field-setting.ts';
import type { SceneField, ScenePreview } from '../../core/field/solve-scene.ts';
import type { Failure } from '../../core/result.ts';
import type { FieldStep } from '../worker/field-jobs.ts';
import { mappedParts, rememberMapped } from './mapped-parts.ts';

/** A solved setting. Not part of the job: it can always be worked out again. */
export interface FieldOutcome {
  readonly setting: FieldSetting;
  readonly field: SceneField;
  readonly seconds: number;
}

/** What is being solved now. */
export interface FieldRun {
  readonly key: string;
  readonly partId: string;
  /** "the map", "cathodes on the left end". */
  readonly what: string;
  readonly startedAtMs: number;
  readonly fraction: number;
  readonly phase: string;
  readonly step: FieldStep | null;
  readonly preview: ScenePreview | null;
  /** Of several in a row, from 1. */
  readonly place: { readonly number: number; readonly of: number } | null;
  readonly stop: () => void;
}

/** A what-if beside the job as it stands. */
export interface FieldTrial {
  readonly id: string;
  readonly partId: string;
  readonly name: string;
  readonly variant: FieldVariant;
  /** What taking it into the job changes; nothing of the job can hold it when absent. */
  readonly taken: 'tank' | 'attitude' | 'density' | null;
}

/** Cathode layouts of the tank, most even first. */
export interface SideRanking {
  readonly partId: string;
  readonly rows: readonly {
    readonly layoutId: string;
    readonly name: string;
    readonly spread: number;
    readonly leastShare: number;
    readonly cellVoltageV: number;
  }[];
  /** Layouts that could not be solved, with the reason. */
  readonly failed: readonly { readonly name: string; readonly message: string }[];
}

export type SectionAxis = 'x' | 'y' | 'z';

export interface FieldState {
  /** By setting key, the latest last. */
  readonly results: ReadonlyMap<string, FieldOutcome>;
  /** Of each part, the key of the last map of the job itself. */
  readonly lastKeys: Readonly<Record<string, string>>;
  /** Parts that had a map before this window was opened: until it is found again, what it warned of is not known. */
  readonly mappedBefore: ReadonlySet<string>;
  /** Parts whose thickness was looked at: nothing is worked out for the others. */
  readonly opened: ReadonlySet<string>;
  readonly run: FieldRun | null;
  readonly failure: { readonly partId: string; readonly failure: Failure } | null;
  /** Which of a part's copies in the tank is mapped. */
  readonly copies: Readonly<Record<string, number>>;
  readonly trials: readonly FieldTrial[];
  readonly ranking: SideRanking | null;
  readonly comparing: boolean;
  /** Cut at a share of the part's length along a model axis; `keepsHigh` says which side stays. */
  readonly section: {
    readonly axis: SectionAxis;
    readonly share: number;
    readonly keepsHigh: boolean;
  } | null;
  /** Under the pointer. */
  readonly cursor: { readonly thicknessM: number | null; readonly row: number } | null;
  /** Measured on this computer by the last solution. */
  readonly secondsPerCell: number;
}

export type FieldStore = StoreApi<FieldState>;

const MOST_RESULTS = 12;
/** On two cores of a small computer, the page busy beside it; the first solution puts a measured one in its place. */
const SECONDS_PER_CELL = 8e-6;

export function createFieldStore(): FieldStore {
  return createStore<FieldState>(() => ({
    results: new Map(),
    lastKeys: {},
    mappedBefore: new Set(mappedParts()),
    opened: new Set(),
    run: null,
    failure: null,
    copies: {},
    trials: [],
    ranking: null,
    comparing: false,
    section: null,
    cursor: null,
    secondsPerCell: SECONDS_PER_CELL,
  }));
}

export function openPart(store: FieldStore, partId: string): void {
  const { opened } = store.getState();
  if (!opened.has(partId)) store.setState({ opened: new Set([...opened, partId]) });
}

/** Keeps a result; the oldest that no part shows goes first when there are too many. */
export function keepResult(store: FieldStore, outcome: FieldOutcome, isJobs: boolean): void {
  if (isJobs) rememberMapped(outcome.setting.partId);
  store.setState((state) => {
    const { key, partId } = outcome.setting;
    const results = new Map(state.results);
    results.delete(key);
    results.set(key, outcome);
    const lastKeys = isJobs ? { ...state.lastKeys, [partId]: key } : state.lastKeys;
    const shown = new Set(Object.values(lastKeys));
    for (const old of results.keys()) {
      if (results.size <= MOST_RESULTS) break;
      if (!shown.has(old) && old !== key) results.delete(old);
    }
    return { results, lastKeys };
  });
}
