import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';
import { failure, success, type Result } from '../../core/result.ts';
import { packReadings } from '../../core/run/pack-readings.ts';
import {
  bookTexts,
  readBook,
  SHELF_NAMES,
  whichWins,
  type BookRow,
  type BookRun,
  type ShelfName,
} from '../../core/shop/book-file.ts';
import { runSummary } from '../../core/shop/run-summary.ts';
import { storageFailure, type RunStore } from './run-store.ts';
import type { ShopDatabase } from './shop-database.ts';

const BATCH = 100;

/**
 * The whole book as one zip, put together run by run: what has been packed is handed to the browser as it comes, so that ten
 * thousand runs never lie in memory at once. Rejects with the database's own error.
 */
export async function backUpBook(
  database: ShopDatabase,
  store: RunStore,
  madeAtMs: number,
  onProgress: (done: number, of: number) => void,
): Promise<Blob> {
  const pieces: Blob[] = [];
  let waiting: Uint8Array[] = [];
  let trouble: Error | null = null;
  const zip = new Zip((fault, piece) => {
    if (fault) trouble = fault;
    else waiting.push(piece);
  });
  const settle = (): void => {
    if (trouble) throw trouble;
    pieces.push(new Blob(waiting as BlobPart[]));
    waiting = [];
  };
  const put = (name: string, bytes: Uint8Array, small: boolean): void => {
    // Readings and pictures are packed already.
    const file = small ? new ZipDeflate(name, { level: 6 }) : new ZipPassThrough(name);
    zip.add(file);
    file.push(bytes, true);
  };

  const ids = await database.runDetails.toCollection().primaryKeys();
  const runs: BookRun[] = [];
  for (let from = 0; from < ids.length; from += BATCH) {
    for (const id of ids.slice(from, from + BATCH)) {
      const [stored, detail, job] = await Promise.all([
        store.load(id),
        database.runDetails.get(id),
        database.runJobs.get(id),
      ]);
      if (!stored.ok || !detail) continue;
      runs.push({
        changedAtMs: detail.changedAtMs,
        record: stored.value.record,
        job: job?.job ?? null,
        models: job?.models ?? [],
      });
      put(`readings/${id}`, packReadings(stored.value.readings), false);
    }
    settle();
    onProgress(Math.min(from + BATCH, ids.length), ids.length);
  }
  const shelves = {} as Record<ShelfName, BookRow[]>;
  for (const name of SHELF_NAMES) shelves[name] = await database[name].toArray();
  const photos = await database.photos.toArray();
  for (const photo of photos) put(`photos/${photo.id}`, photo.bytes, false);
  await database.models.each((model) => put(`models/${model.id}`, model.bytes, true));
  settle();
  const photoRows = photos.map(({ id, ownerId, type }) => ({ id, ownerId, type }));
  for (const [name, bytes] of bookTexts({ madeAtMs }, shelves, runs, photoRows)) put(name, bytes, true);
  zip.end();
  settle();
  return new Blob(pieces, { type: 'application/zip' });
}

export interface Restored {
  readonly added: number;
  readonly newer: number;
  readonly same: number;
  readonly refused: number;
}

/** Merges a backup into the book: nothing twice, the newer of two copies stays, nothing here is removed. */
export async function restoreBook(
  database: ShopDatabase,
  bytes: Uint8Array,
  onProgress: (done: number, of: number) => void,
): Promise<Result<Restored>> {
  const read = readBook(bytes);
  if (!read.ok) return read;
  const { shelves, runs, readings, photos, models } = read.value;
  const count = { added: 0, newer: 0, same: 0 };
  try {
    for (const name of SHELF_NAMES) {
      await database.transaction('rw', database[name], async () => {
        for (const row of shelves[name]) {
          const here = await database[name].get(row.id);
          const wins = whichWins(here?.changedAtMs, row.changedAtMs);
          count[wins]++;
          if (wins !== 'same') await database[name].put(row);
        }
      });
    }
    for (let from = 0; from < runs.length; from += BATCH) {
      await restoreRuns(database, runs.slice(from, from + BATCH), readings, models, count);
      onProgress(Math.min(from + BATCH, runs.length), runs.length);
    }
    await database.transaction('rw', database.photos, async () => {
      for (const photo of photos) {
        const here = await database.photos.get(photo.id);
        count[here ? 'same' : 'added']++;
        if (!here) await database.photos.put(photo);
      }
    });
  } catch (fault) {
    const said = storageFailure(fault);
    return failure(
      said.code,
      `${said.message} ${count.added + count.newer} entries are restored.`,
      said.remedy,
    );
  }
  return success({ ...count, refused: read.value.refused });
}

async function restoreRuns(
  database: ShopDatabase,
  batch: readonly BookRun[],
  readings: ReadonlyMap<string, Uint8Array>,
  models: ReadonlyMap<string, Uint8Array>,
  count: { added: number; newer: number; same: number },
): Promise<void> {
  const { runs, runDetails, runJobs } = database;
  const tables = [runs, runDetails, runJobs, database.readings, database.freshReadings, database.models];
  await database.transaction('rw', tables, async () => {
    for (const { changedAtMs, record, job, models: links } of batch) {
      const here = await runDetails.get(record.id);
      const row = await runs.get(record.id);
      // A run that goes on here knows itself best.
      const wins = row?.outcome === 'running' ? 'same' : whichWins(here?.changedAtMs, changedAtMs);
      count[wins]++;
      if (wins === 'same') continue;
      // A backup made while the run went on is all that is left of it elsewhere.
      const kept =
        record.outcome === 'running'
          ? {
              ...record,
              outcome: 'unjudged' as const,
              endedAtMs: record.endedAtMs ?? record.clock.lastLook?.wallMs ?? record.createdAtMs,
            }
          : record;
      const summary = runSummary(kept);
      await runDetails.put({ runId: kept.id, changedAtMs, record: kept });
      await runs.put({
        id: kept.id,
        changedAtMs,
        startedAtMs: summary.startedAtMs,
        name: summary.name,
        outcome: summary.outcome,
        record: summary,
      });
      const packed = readings.get(kept.id);
      if (packed) {
        await database.readings.put({ runId: kept.id, bytes: packed });
        await database.freshReadings.where('runId').equals(kept.id).delete();
      }
      if (job !== null && job !== undefined) await runJobs.put({ runId: kept.id, job, models: links });
      for (const { modelId } of links) {
        const bytes = models.get(modelId);
        if (bytes && !(await database.models.get(modelId))) await database.models.put({ id: modelId, bytes });
      }
    }
  });
}
