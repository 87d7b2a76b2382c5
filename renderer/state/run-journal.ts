import { z } from 'zod';
import type { Reading } from '../../core/run/readings.ts';
import { runRecordSchema, type RunRecord } from '../../core/shop/run-record.ts';

/** What was entered and is not in the book yet. */
export interface JournalEntry {
  readonly record: RunRecord;
  /** Readings that are not in the book. */
  readonly fresh: readonly Reading[];
  /** True where the book's own readings no longer count: `fresh` is all there is. */
  readonly replaces: boolean;
  /** A temperature that waits for the next reading. */
  readonly waitingKelvin?: number | undefined;
}

/**
 * Where an entry stands from the keystroke on until the book has it. The book's writes take some milliseconds, and a page that
 * is closed meanwhile takes them along; the journal is written before the keystroke returns.
 */
export interface RunJournal {
  put(entry: JournalEntry): void;
  take(id: string): JournalEntry | null;
  clear(id: string): void;
}

const KEY = (id: string): string => `tankside-run-journal-${id}`;

const readingSchema = z.object({
  tS: z.number(),
  voltageV: z.number(),
  currentA: z.number(),
  bathTemperatureK: z.number().optional(),
});

const entrySchema = z.object({
  record: runRecordSchema,
  fresh: z.array(readingSchema),
  replaces: z.boolean(),
  waitingKelvin: z.number().optional(),
});

/** @param storage the page's localStorage, or null where it is blocked: the book alone keeps the run then */
export function openRunJournal(
  storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | null,
): RunJournal {
  return {
    put(entry) {
      const key = KEY(entry.record.id);
      try {
        storage?.setItem(key, JSON.stringify(entry));
      } catch {
        // Full: an older entry must not be taken for the newest.
        storage?.removeItem(key);
      }
    },

    take(id) {
      try {
        const text = storage?.getItem(KEY(id)) ?? null;
        if (text === null) return null;
        const entry = entrySchema.safeParse(JSON.parse(text));
        return entry.success && entry.data.record.id === id ? plainEntry(entry.data) : null;
      } catch {
        return null; // Cut short or blocked.
      }
    },

    clear(id) {
      storage?.removeItem(KEY(id));
    },
  };
}

function plainEntry({ fresh, ...entry }: z.infer<typeof entrySchema>): JournalEntry {
  return {
    ...entry,
    fresh: fresh.map(({ bathTemperatureK, ...reading }) =>
      bathTemperatureK === undefined ? reading : { ...reading, bathTemperatureK },
    ),
  };
}

/** The book's readings with those of the journal; one that reached the book before the page was gone stands once. */
export function withJournal(book: readonly Reading[], { fresh, replaces }: JournalEntry): Reading[] {
  if (replaces) return [...fresh];
  const same = (a: Reading, b: Reading): boolean =>
    a.tS === b.tS && a.voltageV === b.voltageV && a.currentA === b.currentA;
  return [...book, ...fresh.filter((reading) => !book.some((known) => same(known, reading)))].sort(
    (a, b) => a.tS - b.tS,
  );
}
