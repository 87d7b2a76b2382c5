import type { Job } from '../../../../core/job/job.ts';
import { failure, success } from '../../../../core/result.ts';
import { readingAt, readingsFrom, type Reading } from '../../../../core/run/readings.ts';
import { isSimulated, runRecordSchema, type RunRecord } from '../../../../core/shop/run-record.ts';
import { beganAtMs } from '../../../../core/shop/run-summary.ts';
import type { RunStore } from '../../../../renderer/state/run-store.ts';

/** A book in memory, with the same rules as the database's: what was not written is not there. */
export class MemoryRunStore implements RunStore {
  readonly records = new Map<string, string>();
  readonly readings = new Map<string, Reading[]>();
  readonly jobs = new Map<string, Job>();
  /** Thrown by the next writes while set. */
  fault: Error | null = null;
  writes = 0;
  private readonly listeners = new Set<() => void>();

  private keep(record: RunRecord): void {
    if (this.fault) throw this.fault;
    this.writes++;
    this.records.set(record.id, JSON.stringify(record));
  }
  private told(): void {
    for (const listener of this.listeners) listener();
  }
  async create(record: RunRecord, job: Job): Promise<void> {
    this.keep(record);
    this.jobs.set(record.id, job);
    this.told();
  }
  async write(record: RunRecord, fresh: readonly Reading[]): Promise<void> {
    this.keep(record);
    this.readings.set(record.id, [...(this.readings.get(record.id) ?? []), ...fresh]);
    this.told();
  }
  async pack(record: RunRecord, all: ReturnType<typeof readingsFrom>): Promise<void> {
    this.keep(record);
    this.readings.set(
      record.id,
      Array.from(all.tS, (_, i) => readingAt(all, i)),
    );
    this.told();
  }
  async load(id: string): ReturnType<RunStore['load']> {
    const text = this.records.get(id);
    if (text === undefined) return failure('run-gone', 'gone', 'restore');
    const record = runRecordSchema.parse(JSON.parse(text));
    const readings = readingsFrom(this.readings.get(id) ?? [], record.origin ?? 'typed');
    return success({ record, readings, trouble: null });
  }
  async change(id: string, edit: (record: RunRecord) => RunRecord): Promise<void> {
    this.keep(edit(this.stored(id)));
    this.told();
  }
  async job(id: string): ReturnType<RunStore['job']> {
    return success({ job: this.jobs.get(id)!, models: new Map() });
  }
  async remove(id: string): Promise<void> {
    this.records.delete(id);
  }
  follow(id: string, onChange: Parameters<RunStore['follow']>[1]): () => void {
    const tell = (): void => void this.load(id).then(onChange);
    this.listeners.add(tell);
    tell();
    return () => void this.listeners.delete(tell);
  }
  followRunning(onChange: Parameters<RunStore['followRunning']>[0]): () => void {
    const tell = (): void =>
      onChange(
        [...this.records.values()]
          .map((text) => JSON.parse(text) as RunRecord)
          .filter(({ outcome }) => outcome === 'running')
          .map((record) => ({
            id: record.id,
            name: record.name,
            startedAtMs: beganAtMs(record),
            simulated: isSimulated(record),
          })),
      );
    this.listeners.add(tell);
    queueMicrotask(tell);
    return () => void this.listeners.delete(tell);
  }
  stored(id: string): RunRecord {
    return JSON.parse(this.records.get(id)!) as RunRecord;
  }
}

/** As much of localStorage as the journal uses. */
export class MemoryStorage {
  private items = new Map<string, string>();
  getItem(key: string): string | null {
    return this.items.get(key) ?? null;
  }
  setItem(key: string, text: string): void {
    this.items.set(key, text);
  }
  removeItem(key: string): void {
    this.items.delete(key);
  }
  get size(): number {
    return this.items.size;
  }
  copy(): Map<string, string> {
    return new Map(this.items);
  }
  restore(items: Map<string, string>): void {
    this.items = new Map(items);
  }
}

type Held = (lock: Lock | null) => unknown;

/** Web Locks as the standard has them, exclusive ones alone: one holder, a queue, `ifAvailable`, an abort signal. */
export class StandInLocks {
  private readonly held = new Map<string, object>();
  private readonly queues = new Map<string, (() => void)[]>();

  readonly request = (async (name: string, options: LockOptions, work: Held): Promise<unknown> => {
    if (this.held.has(name)) {
      if (options.ifAvailable) return work(null);
      await new Promise<void>((resolve, reject) => {
        const queue = this.queues.get(name) ?? [];
        queue.push(resolve);
        this.queues.set(name, queue);
        options.signal?.addEventListener('abort', () => {
          const at = queue.indexOf(resolve);
          if (at < 0) return;
          queue.splice(at, 1);
          reject(options.signal!.reason as Error);
        });
      });
    }
    const mark = {};
    this.held.set(name, mark);
    try {
      return await work({ name, mode: 'exclusive' });
    } finally {
      if (this.held.get(name) === mark) this.free(name);
    }
  }) as LockManager['request'];

  async query(): Promise<LockManagerSnapshot> {
    return { held: [...this.held.keys()].map((name) => ({ name })), pending: [] };
  }

  /** As when the window that holds it is closed or crashes. */
  free(name: string): void {
    this.held.delete(name);
    this.queues.get(name)?.shift()?.();
  }
}
