import type { Failure } from '../../core/result.ts';
import type { Notice } from './app-state.ts';
import type { AppStore } from './app-store.ts';

let lastNotice = 0;

/** Tells the user of something that went wrong outside any field; it stays until it is dismissed. */
export function notify(store: AppStore, failure: Failure, level: Notice['level'] = 'stop'): void {
  lastNotice += 1;
  const notice: Notice = { id: `notice-${lastNotice}`, level, failure };
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
