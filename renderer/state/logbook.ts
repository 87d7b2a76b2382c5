import { liveQuery } from 'dexie';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { NO_FILTER, type RunFilter } from '../../core/shop/find-runs.ts';
import { runSummarySchema, type RunSummary } from '../../core/shop/run-summary.ts';
import type { ShopDatabase } from './shop-database.ts';

export interface LogbookState {
  /** Newest first. */
  readonly runs: readonly RunSummary[];
  /** Entries of another shape than this version knows: kept, not shown, said. */
  readonly unreadable: number;
  readonly ready: boolean;
  readonly filter: RunFilter;
  readonly page: 'run' | 'learning';
  /** The run held against the open one. */
  readonly compareId: string | null;
  /** The next run chosen in the list is the one to compare with. */
  readonly picking: boolean;
}

export interface Logbook {
  readonly state: StoreApi<LogbookState>;
  /** Follows the book while the logbook is shown. Returns the stopper. */
  follow(onTrouble: (fault: unknown) => void): () => void;
}

export function openLogbook(database: ShopDatabase): Logbook {
  const state = createStore<LogbookState>(() => ({
    runs: [],
    unreadable: 0,
    ready: false,
    filter: NO_FILTER,
    page: 'run',
    compareId: null,
    picking: false,
  }));
  /** Entries that have not changed need not be checked again. */
  let checked = new Map<string, RunSummary>();
  return {
    state,
    follow(onTrouble) {
      const query = liveQuery(() => database.runs.orderBy('startedAtMs').reverse().toArray());
      const subscription = query.subscribe({
        next(rows) {
          const known = new Map<string, RunSummary>();
          const runs: RunSummary[] = [];
          for (const row of rows) {
            const key = `${row.id} ${row.changedAtMs}`;
            const read = checked.get(key) ?? runSummarySchema.safeParse(row.record).data;
            if (!read) continue;
            known.set(key, read);
            runs.push(read);
          }
          checked = known;
          state.setState({ runs, unreadable: rows.length - runs.length, ready: true });
        },
        error: onTrouble,
      });
      return () => subscription.unsubscribe();
    },
  };
}
