import Dexie, { type EntityTable } from 'dexie';

/** One entry of the shop's book. `record` is checked by its schema in core/shop whenever it is read. */
export interface ShopRow {
  id: string;
  /** Milliseconds since 1970, UTC; decides which of two copies is newer when a backup is restored. */
  changedAtMs: number;
  record: unknown;
}

/** A run's entry in the logbook: `record` is its summary (core/shop/run-summary.ts), all that lists and filters need. */
export interface RunRow extends ShopRow {
  startedAtMs: number;
  name: string;
  outcome: string;
}

/** A run's readings, packed by core/run/pack-readings.ts; apart, so that lists stay fast. */
export interface ReadingsRow {
  runId: string;
  bytes: Uint8Array;
}

/** The whole of a run (core/shop/run-record.ts), written every second while it goes on. */
export interface RunDetailRow {
  runId: string;
  changedAtMs: number;
  record: unknown;
}

/** A reading of a run in progress, not yet packed: written the moment it is made. */
export interface FreshReadingRow {
  at?: number;
  runId: string;
  tS: number;
  voltageV: number;
  currentA: number;
  bathTemperatureK?: number;
}

/** The job a run was made from, with the ids of its model files. */
export interface RunJobRow {
  runId: string;
  job: unknown;
  models: { entry: string; modelId: string }[];
}

/** A model file's bytes under their SHA-256: runs of the same part share them. */
export interface ModelRow {
  id: string;
  bytes: Uint8Array;
}

export interface PhotoRow {
  id: string;
  ownerId: string;
  bytes: Uint8Array;
  type: string;
}

/**
 * The shop's own book: equipment, baths, dyes, runs. Apart from desk-database.ts, which only remembers how this
 * window was left. A new version() is added for every change of tables or indexes; none is ever edited.
 */
export class ShopDatabase extends Dexie {
  tanks!: EntityTable<ShopRow, 'id'>;
  supplies!: EntityTable<ShopRow, 'id'>;
  hangers!: EntityTable<ShopRow, 'id'>;
  baths!: EntityTable<ShopRow, 'id'>;
  dyes!: EntityTable<ShopRow, 'id'>;
  dips!: EntityTable<ShopRow, 'id'>;
  runs!: EntityTable<RunRow, 'id'>;
  readings!: EntityTable<ReadingsRow, 'runId'>;
  photos!: EntityTable<PhotoRow, 'id'>;
  runDetails!: EntityTable<RunDetailRow, 'runId'>;
  freshReadings!: EntityTable<FreshReadingRow, 'at'>;
  runJobs!: EntityTable<RunJobRow, 'runId'>;
  models!: EntityTable<ModelRow, 'id'>;

  constructor() {
    super('tankside-shop');
    this.version(1).stores({
      tanks: 'id',
      supplies: 'id',
      hangers: 'id',
      baths: 'id',
      dyes: 'id',
      dips: 'id',
      runs: 'id, startedAtMs, outcome, name',
      readings: 'runId',
      photos: 'id, ownerId',
    });
    this.version(2).stores({
      runDetails: 'runId',
      freshReadings: '++at, runId',
      runJobs: 'runId',
      models: 'id',
    });
  }
}
