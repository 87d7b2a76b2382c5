/** Undo and redo over whole documents. Documents are never changed in place, so keeping them shares their parts. */
export interface HistoryEntry<T> {
  /** What the user did, for “Undo mask f3”. */
  readonly label: string;
  readonly document: T;
}

export interface History<T> {
  readonly past: readonly HistoryEntry<T>[];
  readonly present: HistoryEntry<T>;
  readonly future: readonly HistoryEntry<T>[];
  /** Changes with the same non-empty key in a row become one step (typing in one field, dragging one pin). */
  readonly mergeKey: string;
}

const MOST_STEPS = 200;

export function startHistory<T>(document: T, label: string): History<T> {
  return { past: [], present: { label, document }, future: [], mergeKey: '' };
}

/** Adds a step; the same document again adds none. */
export function recordChange<T>(history: History<T>, document: T, label: string, mergeKey = ''): History<T> {
  if (document === history.present.document) return history;
  const merges = mergeKey !== '' && mergeKey === history.mergeKey && history.past.length > 0;
  const past = merges ? history.past : [...history.past, history.present].slice(-MOST_STEPS);
  return { past, present: { label, document }, future: [], mergeKey };
}

export function undo<T>(history: History<T>): History<T> {
  const back = history.past[history.past.length - 1];
  if (!back) return history;
  return {
    past: history.past.slice(0, -1),
    present: back,
    future: [history.present, ...history.future],
    mergeKey: '',
  };
}

export function redo<T>(history: History<T>): History<T> {
  const [next, ...future] = history.future;
  if (!next) return history;
  return { past: [...history.past, history.present], present: next, future, mergeKey: '' };
}
