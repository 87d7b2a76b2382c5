import Dexie, { type EntityTable } from 'dexie';
import type { SceneField } from '../../core/field/solve-scene.ts';

/** Work in progress of one window: the job's JSON; its model bytes lie beside, written once. */
export interface DraftRow {
  id: string;
  savedAtMs: number;
  /** The job document as JSON text. */
  jobText: string;
  /** True when the document was already in a file at that moment. */
  inFile: boolean;
  targetName: string | null;
}

/** A stretch of a model file of a draft. `at` is its first byte's place in the file; absent in rows of whole files. */
export interface DraftModelRow {
  key: string;
  draftId: string;
  entry: string;
  at?: number;
  bytes: Uint8Array;
}

/** A job file as last opened or saved in a browser that gives no lasting access to files. */
export interface RecentRow {
  id: string;
  name: string;
  openedAtMs: number;
  bytes: Uint8Array;
}

export interface SettingRow {
  key: string;
  value: string;
}

/** The last thickness map of a part, under the key of what was solved (core/job/field-setting.ts). */
export interface MapRow {
  partId: string;
  key: string;
  savedAtMs: number;
  /** What solving it took. */
  seconds: number;
  field: SceneField;
}

/** What this computer remembers between starts. A new version() is added for every change; none is ever edited. */
export class DeskDatabase extends Dexie {
  drafts!: EntityTable<DraftRow, 'id'>;
  draftModels!: EntityTable<DraftModelRow, 'key'>;
  recents!: EntityTable<RecentRow, 'id'>;
  settings!: EntityTable<SettingRow, 'key'>;
  maps!: EntityTable<MapRow, 'partId'>;

  constructor() {
    super('tankside-desk');
    this.version(1).stores({
      drafts: 'id, savedAtMs',
      draftModels: 'key, draftId',
      recents: 'id, openedAtMs',
      settings: 'key',
    });
    this.version(2).stores({ maps: 'partId, savedAtMs' });
  }
}
