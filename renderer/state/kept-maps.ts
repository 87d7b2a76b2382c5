import type { Services } from '../app/services.ts';
import { jobOf } from './app-store.ts';
import type { MapRow } from './desk-database.ts';
import { keepResult } from './field-store.ts';
import { settingFor } from './run-field.ts';

/** As much of the database as is needed here, so that tests can stand in for it. */
export interface MapShelf {
  get(partId: string): Promise<MapRow | undefined>;
  put(row: MapRow): Promise<unknown>;
  /** Keys of all, the oldest first. */
  oldestFirst(): Promise<string[]>;
  bulkDelete(partIds: string[]): Promise<void>;
}

type Desk = Pick<Services, 'store' | 'derived' | 'field' | 'worker'>;

/** A map takes some megabytes. */
const MOST_MAPS = 20;
/** While parts are still being read, or somebody types, the setting is another every moment. */
const SETTLED_MS = 300;

/** The database's table as a shelf. */
export function mapShelf(table: {
  get(partId: string): PromiseLike<MapRow | undefined>;
  put(row: MapRow): PromiseLike<unknown>;
  orderBy(index: 'savedAtMs'): { primaryKeys(): PromiseLike<string[]> };
  bulkDelete(partIds: string[]): PromiseLike<void>;
}): MapShelf {
  return {
    get: async (partId) => table.get(partId),
    put: async (row) => table.put(row),
    oldestFirst: async () => table.orderBy('savedAtMs').primaryKeys(),
    bulkDelete: async (partIds) => table.bulkDelete(partIds),
  };
}

/**
 * Keeps the last thickness map of each part over a reload, and finds it again while the job is still the one it was
 * worked out for: same meshes, masks, tank, places, bath and current. A full or blocked database loses the map and
 * nothing else; that it is lost is an open check (core/job/field-messages.ts).
 */
export function followMaps(desk: Desk, shelf: MapShelf, nowMs: () => number = Date.now): void {
  const { store, derived, field } = desk;
  const rows = new Map<string, MapRow | null>();
  let timer: ReturnType<typeof setTimeout> | undefined;

  const keep = async (partId: string, key: string): Promise<void> => {
    const outcome = field.store.getState().results.get(key);
    const known = rows.get(partId);
    if (!outcome || known?.key === key) return;
    const row = { partId, key, savedAtMs: nowMs(), seconds: outcome.seconds, field: outcome.field };
    rows.set(partId, row);
    await shelf.put(row);
    const all = await shelf.oldestFirst();
    if (all.length > MOST_MAPS) await shelf.bulkDelete(all.slice(0, all.length - MOST_MAPS));
  };

  const find = async (): Promise<void> => {
    for (const { id } of jobOf(store.getState()).parts) {
      const { mappedBefore, lastKeys } = field.store.getState();
      if (!mappedBefore.has(id) || lastKeys[id] !== undefined || !derived.getState().measures[id]) continue;
      if (!rows.has(id)) rows.set(id, (await shelf.get(id)) ?? null);
      const row = rows.get(id);
      if (!row || field.store.getState().lastKeys[id] !== undefined) continue;
      const setting = settingFor(desk, id);
      if (!setting.ok || setting.value.key !== row.key) continue;
      keepResult(field.store, { setting: setting.value, field: row.field, seconds: row.seconds }, true);
    }
  };

  const lost = (): void => {};
  field.store.subscribe(({ lastKeys }, before) => {
    if (lastKeys === before.lastKeys) return;
    for (const [partId, key] of Object.entries(lastKeys))
      if (before.lastKeys[partId] !== key) void keep(partId, key).catch(lost);
  });
  const look = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => void find().catch(lost), SETTLED_MS);
  };
  derived.subscribe((now, before) => {
    if (now.measures !== before.measures) look();
  });
  look();
}
