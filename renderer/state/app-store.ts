import { createStore, type StoreApi } from 'zustand/vanilla';
import { emptyJob } from '../../core/job/default-job.ts';
import { recordChange, redo, startHistory, undo, type History } from '../../core/job/history.ts';
import type { Job } from '../../core/job/job.ts';
import type { AppState } from './app-state.ts';

export type AppStore = StoreApi<AppState>;

export function createAppStore(initial: Partial<AppState> = {}): AppStore {
  const job = emptyJob('New job');
  return createStore<AppState>(() => ({
    history: startHistory(job, 'New job'),
    savedDocument: job,
    target: null,
    models: new Map(),
    meshes: {},
    loadings: [],
    notices: [],
    leaveQuestion: null,
    repairTrial: null,
    stage: 'part',
    activePartId: null,
    selectedFaces: new Set(),
    hoveredFace: null,
    selectedPinId: null,
    placingPin: false,
    unitSystem: 'metric',
    theme: 'system',
    hintsSeen: false,
    openSections: {},
    nextLoad: 0,
    loadsRun: [],
    openRunId: null,
    dyeOnPart: true,
    ...initial,
  }));
}

export function jobOf(state: AppState): Job {
  return state.history.present.document;
}

/** The job shown at the first start. */
export function isDemo(job: Job): boolean {
  return job.name.startsWith('Demo:');
}

export function isUnsaved(state: AppState): boolean {
  return jobOf(state) !== state.savedDocument;
}

/**
 * Records one change of the job for undo. `mergeKey` joins repeated changes of one field into one step; `along` is shown
 * with the changed job at once.
 */
export function editJob(
  store: AppStore,
  label: string,
  change: (job: Job) => Job,
  mergeKey = '',
  along: Partial<AppState> = {},
): void {
  const { history } = store.getState();
  showHistory(store, recordChange(history, change(history.present.document), label, mergeKey), along);
}

export function undoEdit(store: AppStore): void {
  showHistory(store, undo(store.getState().history));
}

export function redoEdit(store: AppStore): void {
  showHistory(store, redo(store.getState().history));
}

/** Shows a history and drops what pointed at things its present job no longer has. */
function showHistory(store: AppStore, history: History<Job>, along: Partial<AppState> = {}): void {
  store.setState((state) => {
    const parts = history.present.document.parts;
    const active = parts.find((part) => part.id === state.activePartId) ?? parts[0];
    const samePart = active?.id === state.activePartId;
    const pinStays = active?.contacts.some((pin) => pin.id === state.selectedPinId) ?? false;
    return {
      history,
      activePartId: active?.id ?? null,
      selectedFaces: samePart ? state.selectedFaces : new Set<number>(),
      selectedPinId: pinStays ? state.selectedPinId : null,
      ...along,
    };
  });
}

export function showPart(store: AppStore, partId: string): void {
  store.setState({ activePartId: partId, selectedFaces: new Set(), selectedPinId: null, hoveredFace: null });
}
