import type { Reading, Readings } from '../../core/run/readings.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import type { RunJournal } from './run-journal.ts';
import type { RunStore } from './run-store.ts';

/** The run as it stands, all of it. */
export interface RunToWrite {
  readonly record: RunRecord;
  readonly list: readonly Reading[];
  readonly readings: Readings;
  /** A temperature that waits for the next reading. */
  readonly waitingKelvin: number | undefined;
}

/** Brings a run into the book, one write at a time; what fails is kept and tried again. */
export interface RunWriter {
  isKept(): boolean;
  /** The record is another than the book has. */
  touch(): void;
  /** Readings that came at the end. */
  add(fresh: readonly Reading[]): void;
  /** The readings are others than the book has: all are written again. */
  rewrite(): void;
  /** What was entered stands in the journal before the entry is answered, and in the book a moment later. */
  keep(): void;
  /** Writes what is not yet in the book. */
  flush(): Promise<void>;
  /** Resolves when everything is in the book. */
  settled(): Promise<void>;
  /** Begins with another run, or none. `unwritten`: there was more in the journal than in the book. */
  reset(unwritten: boolean): void;
}

interface RunWriterParts {
  readonly store: Pick<RunStore, 'write' | 'pack'>;
  readonly journal: RunJournal;
  /** null in a window that must not write. */
  readonly run: () => RunToWrite | null;
  readonly onWritten: () => void;
  readonly onFault: (fault: unknown) => void;
  /** A round of writing is over. */
  readonly onRest: () => void;
}

const PACK_AFTER = 400;

export function createRunWriter(parts: RunWriterParts): RunWriter {
  const { store, journal } = parts;
  /** Not in the book, and not on its way there. */
  let fresh: Reading[] = [];
  let underWay: readonly Reading[] = [];
  let unpacked = 0;
  let packNext = false;
  let packing = false;
  let dirty = false;
  let writing: Promise<void> | null = null;

  const writeAll = async (): Promise<void> => {
    for (let run = parts.run(); dirty && run; run = parts.run()) {
      dirty = false;
      const batch = fresh;
      const pack = packNext || unpacked >= PACK_AFTER;
      underWay = batch;
      fresh = [];
      packing = pack;
      packNext = false;
      try {
        if (pack) await store.pack(run.record, run.readings);
        else await store.write(run.record, batch);
        unpacked = pack ? 0 : unpacked + batch.length;
        parts.onWritten();
      } catch (fault) {
        fresh = [...batch, ...fresh];
        packNext ||= pack;
        dirty = true;
        parts.onFault(fault);
        break;
      } finally {
        underWay = [];
        packing = false;
      }
    }
    const run = parts.run();
    if (!dirty && run && run.waitingKelvin === undefined) journal.clear(run.record.id);
  };

  const flush = (): Promise<void> => {
    writing ??= writeAll().finally(() => {
      writing = null;
      parts.onRest();
    });
    return writing;
  };

  return {
    isKept: () => !dirty,
    touch() {
      dirty = true;
    },
    add(more) {
      fresh.push(...more);
      dirty = true;
    },
    rewrite() {
      packNext = true;
      dirty = true;
    },
    keep() {
      const run = parts.run();
      if (run) {
        journal.put({
          record: run.record,
          fresh: packNext || packing ? run.list : [...underWay, ...fresh],
          replaces: packNext || packing,
          waitingKelvin: run.waitingKelvin,
        });
      }
      void flush();
    },
    flush,
    async settled() {
      await writing;
      await flush();
    },
    reset(unwritten) {
      fresh = [];
      unpacked = PACK_AFTER; // Whatever lies unpacked is packed with the next write.
      packNext = unwritten;
      dirty = unwritten;
    },
  };
}
