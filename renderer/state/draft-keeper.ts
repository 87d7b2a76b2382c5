import { migrateJob } from '../../core/job/migrate-job.ts';
import type { Job } from '../../core/job/job.ts';
import type { OpenedJob } from '../../core/job/container.ts';
import { fileOf } from '../../core/job/part-source.ts';
import type { Failure } from '../../core/result.ts';
import { isUnsaved, jobOf, type AppStore } from './app-store.ts';
import type { DeskDatabase, DraftModelRow } from './desk-database.ts';

/**
 * Keeps the work in progress in the embedded database, so that a crash or a closed tab loses at most a second.
 * Every window has a draft of its own and holds a lock of the same name while it lives: a draft whose lock is free
 * belongs to a window that is gone, and the next window takes it over.
 */
export interface FoundDraft extends OpenedJob {
  readonly inFile: boolean;
}

const LOCK = (draftId: string): string => `tankside-draft-${draftId}`;
const WRITE_AFTER_MS = 600;
const TAKE_OVER_MS = 2000;
/** The tab's own draft, so that of several windows each gets its own back. */
const TAB_KEY = 'tankside-draft';
/** The browser copies what it stores while the page stands still: 4 MB take a few milliseconds, a whole model a second. */
const STRETCH_BYTES = 4 * 2 ** 20;

/** Entries of the model files a job refers to. */
const entriesOf = (job: Job): string[] => job.parts.flatMap((part) => fileOf(part)?.entry ?? []);

/** The files that the rows are stretches of, by entry. A file with a gap comes out shorter than it was. */
function joinStretches(rows: readonly DraftModelRow[]): Map<string, Uint8Array> {
  const stretches = new Map<string, DraftModelRow[]>();
  for (const row of rows) stretches.set(row.entry, [...(stretches.get(row.entry) ?? []), row]);
  return new Map(
    [...stretches].map(([entry, parts]) => {
      const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.bytes.length, 0));
      let end = 0;
      for (const part of parts.sort((a, b) => (a.at ?? 0) - (b.at ?? 0))) {
        if ((part.at ?? 0) !== end) break;
        bytes.set(part.bytes, end);
        end += part.bytes.length;
      }
      return [entry, end === bytes.length ? bytes : bytes.slice(0, end)];
    }),
  );
}

/** Holds the lock until the page goes away. Resolves to whether it was free. */
function holdLock(locks: LockManager, draftId: string): Promise<boolean> {
  return new Promise((resolve, reject) => {
    locks
      .request(LOCK(draftId), { ifAvailable: true }, (lock) => {
        resolve(lock !== null);
        return lock === null ? undefined : new Promise<void>(() => {});
      })
      .catch(reject);
  });
}

/** As holdLock, but gives the page before this one in the same tab a moment to let go: a reload overlaps with it. */
async function takeOverLock(locks: LockManager, draftId: string): Promise<boolean> {
  const patience = AbortSignal.timeout(TAKE_OVER_MS);
  return new Promise((resolve) => {
    locks
      .request(LOCK(draftId), { signal: patience }, () => {
        resolve(true);
        return new Promise<void>(() => {});
      })
      .catch(() => resolve(false));
  });
}

/** What the tab remembers over a reload; null where the browser keeps nothing. */
function tabStorage(): Storage | null {
  try {
    return window.sessionStorage;
  } catch {
    return null;
  }
}

export class DraftKeeper {
  private draftId: string;
  private timer: number | undefined;
  private writing: Promise<void> = Promise.resolve();
  private writtenEntries = new Set<string>();
  private complained = false;

  constructor(
    private readonly database: DeskDatabase,
    private readonly locks: LockManager,
    newId: () => string,
    private readonly onTrouble: (failure: Failure) => void,
  ) {
    this.draftId = newId();
  }

  /**
   * This tab's own draft after a reload, else the newest one no living window holds, taken over by this window; older
   * abandoned ones are left for later.
   */
  async adopt(): Promise<FoundDraft | null> {
    const tab = tabStorage();
    const own = tab?.getItem(TAB_KEY) ?? null;
    const newestFirst = await this.database.drafts.orderBy('savedAtMs').reverse().toArray();
    const rows = [
      ...newestFirst.filter(({ id }) => id === own),
      ...newestFirst.filter(({ id }) => id !== own),
    ];
    for (const row of rows) {
      const held = row.id === own ? takeOverLock(this.locks, row.id) : holdLock(this.locks, row.id);
      if (!(await held)) continue;
      const found = await this.read(row.id, row.jobText);
      if (!found) continue;
      this.draftId = row.id;
      tab?.setItem(TAB_KEY, this.draftId);
      this.writtenEntries = new Set(found.models.keys());
      return { ...found, inFile: row.inFile };
    }
    tab?.setItem(TAB_KEY, this.draftId);
    await holdLock(this.locks, this.draftId);
    return null;
  }

  private async read(draftId: string, jobText: string): Promise<OpenedJob | null> {
    let raw: unknown;
    try {
      raw = JSON.parse(jobText);
    } catch {
      return null;
    }
    const job = migrateJob(raw);
    if (!job.ok) return null;
    const rows = await this.database.draftModels.where('draftId').equals(draftId).toArray();
    const models = joinStretches(rows);
    const whole = job.value.parts.every(
      (part) =>
        fileOf(part) === undefined || models.get(fileOf(part)!.entry)?.length === fileOf(part)!.byteLength,
    );
    return whole ? { job: job.value, models } : null;
  }

  /** Writes the draft a moment after each change of the job, at once when it is saved and when the page is hidden. */
  watch(store: AppStore, page: Document): void {
    let seen: Job | null = null;
    let { savedDocument } = store.getState();
    store.subscribe((state) => {
      const job = jobOf(state);
      if (state.savedDocument !== savedDocument) {
        savedDocument = state.savedDocument;
        if (savedDocument === job) {
          seen = job;
          void this.write(store);
          return;
        }
      }
      if (job === seen) return;
      seen = job;
      window.clearTimeout(this.timer);
      this.timer = window.setTimeout(() => void this.write(store), WRITE_AFTER_MS);
    });
    page.addEventListener('visibilitychange', () => {
      if (page.visibilityState === 'hidden') void this.write(store);
    });
  }

  /** Resolves when everything that stands in the store now is in the database. */
  write(store: AppStore): Promise<void> {
    window.clearTimeout(this.timer);
    this.writing = this.writing
      .then(() => this.writeNow(store))
      .catch((fault: unknown) => this.complain(fault));
    return this.writing;
  }

  private async writeNow(store: AppStore): Promise<void> {
    const state = store.getState();
    const job = jobOf(state);
    const entries = entriesOf(job);
    for (const entry of entries) {
      const bytes = state.models.get(entry);
      if (this.writtenEntries.has(entry) || !bytes) continue;
      for (let at = 0; at === 0 || at < bytes.length; at += STRETCH_BYTES) {
        await this.database.draftModels.put({
          key: `${this.draftId}/${entry}/${at}`,
          draftId: this.draftId,
          entry,
          at,
          bytes: bytes.slice(at, at + STRETCH_BYTES),
        });
      }
      this.writtenEntries.add(entry);
    }
    await this.database.drafts.put({
      id: this.draftId,
      savedAtMs: Date.now(),
      jobText: JSON.stringify(job),
      inFile: !isUnsaved(state),
      targetName: state.target?.name ?? null,
    });
    const inUse = new Set(
      state.history.past.concat(state.history.present).flatMap((e) => entriesOf(e.document)),
    );
    for (const entry of this.writtenEntries) {
      if (inUse.has(entry)) continue;
      const key = `${this.draftId}/${entry}`;
      await this.database.draftModels.where('key').equals(key).or('key').startsWith(`${key}/`).delete();
      this.writtenEntries.delete(entry);
    }
  }

  private complain(fault: unknown): void {
    if (this.complained) return;
    this.complained = true;
    const full = fault instanceof Error && /quota/i.test(`${fault.name} ${fault.message}`);
    this.onTrouble({
      code: full ? 'draft-disk-full' : 'draft-not-kept',
      message: full
        ? 'There is no room left to keep work in progress on this computer.'
        : 'Work in progress can’t be kept on this computer (its storage is blocked or damaged).',
      remedy: 'Save the job to a file now, and save often until this is mended.',
    });
  }
}
