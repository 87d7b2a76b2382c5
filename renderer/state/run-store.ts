import { liveQuery } from 'dexie';
import type { Job } from '../../core/job/job.ts';
import { migrateJob } from '../../core/job/migrate-job.ts';
import { failure, success, type Failure, type Result } from '../../core/result.ts';
import { joinedOrigin } from '../../core/run/join-readings.ts';
import { packReadings, unpackReadings } from '../../core/run/pack-readings.ts';
import { readingAt, readingsFrom, type Reading, type Readings } from '../../core/run/readings.ts';
import { runRecordSchema, type RunRecord } from '../../core/shop/run-record.ts';
import { runSummary, runSummarySchema } from '../../core/shop/run-summary.ts';
import type { NamedRun } from './run-view.ts';
import type { FreshReadingRow, RunRow, ShopDatabase } from './shop-database.ts';

export interface StoredRun {
  readonly record: RunRecord;
  readonly readings: Readings;
  /** Why the readings can't be shown, where they can't. */
  readonly trouble: Failure | null;
}

/** Runs in the shop's book. A write rejects with the database's own error; `storageFailure` puts it into words. */
export interface RunStore {
  create(record: RunRecord, job: Job, models: ReadonlyMap<string, Uint8Array>): Promise<void>;
  /** The record as it stands, and readings that came since the last write: both or neither. */
  write(record: RunRecord, fresh: readonly Reading[]): Promise<void>;
  /** The record with all its readings packed into one row. */
  pack(record: RunRecord, readings: Readings): Promise<void>;
  load(id: string): Promise<Result<StoredRun>>;
  /** Changes the record as it stands in the book by then: two changes at once, from two fields or windows, both stay. */
  change(id: string, edit: (record: RunRecord) => RunRecord): Promise<void>;
  job(id: string): Promise<Result<{ job: Job; models: ReadonlyMap<string, Uint8Array> }>>;
  remove(id: string): Promise<void>;
  /** Calls back now and after every change, from any window. Returns the stopper. */
  follow(
    id: string,
    onChange: (run: Result<StoredRun>) => void,
    onTrouble: (fault: unknown) => void,
  ): () => void;
  /** Runs in progress and left on, newest first. */
  followRunning(
    onChange: (runs: readonly NamedRun[]) => void,
    onTrouble: (fault: unknown) => void,
  ): () => void;
}

export const NO_READINGS: Readings = readingsFrom([], 'typed');

export function openRunStore(
  database: ShopDatabase,
  digest: (bytes: Uint8Array) => Promise<string>,
  nowMs: () => number,
): RunStore {
  const { runs, runDetails, readings, freshReadings, runJobs, models, photos } = database;

  const putRecord = async (record: RunRecord): Promise<void> => {
    const summary = runSummary(record);
    const changedAtMs = nowMs();
    await runDetails.put({ runId: record.id, changedAtMs, record });
    const before = await runs.get(record.id);
    // While a run goes on its summary hardly changes; a list in another window need not be read again every second.
    if (before && JSON.stringify(before.record) === JSON.stringify(summary)) return;
    const { startedAtMs, name, outcome } = summary;
    await runs.put({ id: record.id, changedAtMs, startedAtMs, name, outcome, record: summary });
  };

  const load = async (id: string): Promise<Result<StoredRun>> => {
    const [detail, packed, fresh] = await database.transaction(
      'r',
      [runDetails, readings, freshReadings],
      () =>
        Promise.all([
          runDetails.get(id),
          readings.get(id),
          freshReadings.where('runId').equals(id).toArray(),
        ]),
    );
    if (!detail) {
      return failure('run-gone', 'This run is no longer in the book.', 'Restore it from a backup file.');
    }
    const record = runRecordSchema.safeParse(detail.record);
    if (!record.success) {
      return failure(
        'run-unreadable',
        'This run’s entry can’t be read; it may be from a newer version of the program.',
        'Update the program; the entry is kept as it is.',
      );
    }
    const origin = record.data.origin ?? 'typed';
    const unpacked = packed ? unpackReadings(packed.bytes) : success(NO_READINGS);
    if (!unpacked.ok) return success({ record: record.data, readings: NO_READINGS, trouble: unpacked.error });
    return success({
      record: record.data,
      readings: withFresh(unpacked.value, fresh, origin),
      trouble: null,
    });
  };

  return {
    async create(record, job, files) {
      const links: { entry: string; modelId: string }[] = [];
      const rows: { id: string; bytes: Uint8Array }[] = [];
      for (const [entry, bytes] of files) {
        const modelId = await digest(bytes);
        links.push({ entry, modelId });
        rows.push({ id: modelId, bytes });
      }
      await database.transaction('rw', [runs, runDetails, runJobs, models], async () => {
        for (const row of rows) if (!(await models.get(row.id))) await models.put(row);
        await runJobs.put({ runId: record.id, job, models: links });
        await putRecord(record);
      });
    },

    async write(record, fresh) {
      await database.transaction('rw', [runs, runDetails, freshReadings], async () => {
        await putRecord(record);
        if (fresh.length > 0) {
          await freshReadings.bulkAdd(fresh.map((reading) => ({ runId: record.id, ...reading })));
        }
      });
    },

    async pack(record, all) {
      const bytes = packReadings(all);
      await database.transaction('rw', [runs, runDetails, readings, freshReadings], async () => {
        await putRecord(record);
        await readings.put({ runId: record.id, bytes });
        await freshReadings.where('runId').equals(record.id).delete();
      });
    },

    load,

    async change(id, edit) {
      await database.transaction('rw', [runs, runDetails], async () => {
        const detail = await runDetails.get(id);
        const record = runRecordSchema.safeParse(detail?.record);
        if (record.success) await putRecord(edit(record.data));
      });
    },

    async job(id) {
      const row = await runJobs.get(id);
      const job = row ? migrateJob(row.job) : null;
      if (!row || !job) {
        return failure(
          'run-job-gone',
          'The job of this run is not in the book.',
          'Open its job file instead.',
        );
      }
      if (!job.ok) return job;
      const files = new Map<string, Uint8Array>();
      for (const { entry, modelId } of row.models) {
        const model = await models.get(modelId);
        if (!model) {
          return failure(
            'run-model-gone',
            'A model file of this run is not in the book.',
            'Open its job file instead.',
          );
        }
        files.set(entry, model.bytes);
      }
      return success({ job: job.value, models: files });
    },

    async remove(id) {
      await database.transaction(
        'rw',
        [runs, runDetails, readings, freshReadings, runJobs, photos, models],
        async () => {
          const mine = (await runJobs.get(id))?.models ?? [];
          await Promise.all([
            runs.delete(id),
            runDetails.delete(id),
            readings.delete(id),
            runJobs.delete(id),
          ]);
          await freshReadings.where('runId').equals(id).delete();
          await photos.where('ownerId').equals(id).delete();
          // A model goes with the last run that was made with it.
          for (const { modelId } of mine) {
            const other = await runJobs
              .filter((row) => row.models.some((link) => link.modelId === modelId))
              .first();
            if (!other) await models.delete(modelId);
          }
        },
      );
    },

    follow(id, onChange, onTrouble) {
      const subscription = liveQuery(() => load(id)).subscribe({ next: onChange, error: onTrouble });
      return () => subscription.unsubscribe();
    },

    followRunning(onChange, onTrouble) {
      const query = liveQuery(() => runs.where('outcome').equals('running').toArray());
      const subscription = query.subscribe({
        next: (rows) => {
          rows.sort((a, b) => b.startedAtMs - a.startedAtMs);
          onChange(rows.map(namedRun));
        },
        error: onTrouble,
      });
      return () => subscription.unsubscribe();
    },
  };
}

function namedRun({ id, name, startedAtMs, record }: RunRow): NamedRun {
  const summary = runSummarySchema.safeParse(record);
  return { id, name, startedAtMs, simulated: summary.success && summary.data.simulated };
}

function withFresh(
  packed: Readings,
  fresh: readonly FreshReadingRow[],
  origin: Readings['origin'],
): Readings {
  if (fresh.length === 0) return packed;
  const list: Reading[] = Array.from(packed.tS, (_, i) => readingAt(packed, i));
  for (const { tS, voltageV, currentA, bathTemperatureK } of fresh) {
    list.push({ tS, voltageV, currentA, ...(bathTemperatureK === undefined ? {} : { bathTemperatureK }) });
  }
  list.sort((a, b) => a.tS - b.tS);
  return readingsFrom(list, packed.tS.length === 0 ? origin : joinedOrigin(packed.origin, origin));
}

/** What the database refused, in words. */
export function storageFailure(fault: unknown): Failure {
  const text = fault instanceof Error ? `${fault.name} ${fault.message}` : String(fault);
  if (/quota/i.test(text)) {
    return {
      code: 'book-disk-full',
      message: 'There is no room left on this computer to keep the run.',
      remedy:
        'Free some space now; what was read meanwhile is held in this window and written as soon as there is room.',
    };
  }
  if (/VersionError|version/i.test(text)) {
    return {
      code: 'book-newer',
      message: 'The shop’s book was written by a newer version of the program.',
      remedy: 'Update the program, or use the window that wrote it.',
    };
  }
  return {
    code: 'book-blocked',
    message: 'The shop’s book can’t be written here (its storage is blocked or damaged).',
    remedy: 'Allow storage for this page; until then note the run on paper as well.',
  };
}
