import { liveQuery, type EntityTable } from 'dexie';
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { z } from 'zod';
import type { ShopRow } from './shop-database.ts';

/** What every record in the shop's book has. */
export interface ShopRecord {
  readonly id: string;
  readonly name: string;
}

export interface ShelfState<T> {
  /** By name. */
  readonly records: readonly T[];
  /** Entries the schema refused: kept in the database, not shown, said to the user. */
  readonly unreadable: number;
  readonly ready: boolean;
}

/**
 * One kind of record of the shop's book, followed live: a change made in another window shows here too.
 * Records are checked by `schema` on reading; a put rejects with the database's own error when the disk is full.
 */
export interface Shelf<T extends ShopRecord> {
  readonly store: StoreApi<ShelfState<T>>;
  put(record: T, nowMs: number): Promise<void>;
  remove(id: string): Promise<void>;
}

export function openShelf<T extends ShopRecord>(
  table: EntityTable<ShopRow, 'id'>,
  schema: z.ZodType<T>,
  onTrouble: (fault: unknown) => void,
): Shelf<T> {
  const store = createStore<ShelfState<T>>(() => ({ records: [], unreadable: 0, ready: false }));
  liveQuery(() => table.toArray()).subscribe({
    next: (rows) => {
      const read = rows.map((row) => schema.safeParse(row.record));
      const records = read.flatMap((result) => (result.success ? [result.data] : []));
      records.sort((a, b) => a.name.localeCompare(b.name));
      store.setState({ records, unreadable: read.length - records.length, ready: true });
    },
    error: onTrouble,
  });
  return {
    store,
    async put(record, nowMs) {
      await table.put({ id: record.id, changedAtMs: nowMs, record });
    },
    async remove(id) {
      await table.delete(id);
    },
  };
}
