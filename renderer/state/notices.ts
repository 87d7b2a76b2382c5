import type { Failure } from '../../core/result.ts';
import type { Notice } from './app-state.ts';
import type { AppStore } from './app-store.ts';

let lastNotice = 0;

/** Tells the user of something that went wrong outside any field; it stays until it is dismissed. */
export function notify(store: AppStore, failure: Failure, level: Notice['level'] = 'stop'): void {
  show(store, { failure, level, ofJob: false });
}

/** As notify, of a file on its way into the open job: it goes when another job is shown. */
export function notifyOfFile(store: AppStore, failure: Failure, level: Notice['level'] = 'stop'): void {
  show(store, { failure, level, ofJob: true });
}

function show(store: AppStore, said: Omit<Notice, 'id'>): void {
  lastNotice += 1;
  const notice: Notice = { id: `notice-${lastNotice}`, ...said };
  const { failure } = said;
  store.setState((state) => ({
    notices: [...state.notices.filter((n) => n.failure.message !== failure.message), notice].slice(-4),
  }));
}

export function dismissNotice(store: AppStore, id: string): void {
  store.setState((state) => ({ notices: state.notices.filter((notice) => notice.id !== id) }));
}

/** Takes back every notice of one kind, where what it says no longer holds. */
export function dropNotices(store: AppStore, code: string): void {
  store.setState((state) => ({ notices: state.notices.filter(({ failure }) => failure.code !== code) }));
}

/** Code of the word that a job is back as its window left it. */
export const DRAFT_RESTORED = 'draft-restored';

/** Another job is shown: what was said of the files of the one before goes, and that it was back. */
export function dropNoticesOfJob(store: AppStore): void {
  store.setState((state) => ({
    notices: state.notices.filter(({ ofJob, failure }) => !ofJob && failure.code !== DRAFT_RESTORED),
  }));
}

/** Before more files are read: what kept earlier ones from being read has been seen, and would only pile up. */
export function dropFileStops(store: AppStore): void {
  store.setState((state) => ({ notices: state.notices.filter((n) => !(n.ofJob && n.level === 'stop')) }));
}

/**
 * Notices of files close with the stage they were said at; those to be looked at stay, since what they say may stand nowhere else.
 * @returns what to call to end it
 */
export function closeNoticesWithStage(store: AppStore): () => void {
  return store.subscribe((state, before) => {
    if (state.stage === before.stage || !state.notices.some(goesWithStage)) return;
    store.setState({ notices: state.notices.filter((notice) => !goesWithStage(notice)) });
  });
}

const goesWithStage = ({ ofJob, level }: Notice): boolean => ofJob && level !== 'check';
