import { strFromU8, strToU8, unzipSync } from 'fflate';
import { z } from 'zod';
import { dyeSchema } from '../finish/colour-book.ts';
import { failure, success, type Result } from '../result.ts';
import { unpackReadings } from '../run/pack-readings.ts';
import { bathRecordSchema } from './bath-record.ts';
import { dipRecordSchema } from './dip-record.ts';
import { hangerRecordSchema } from './hanger-record.ts';
import { runRecordSchema } from './run-record.ts';
import { supplyRecordSchema } from './supply-record.ts';
import { tankRecordSchema } from './tank-record.ts';

/**
 * The shop's whole book as one zip: `book.json` says what it is; one JSON text per table; readings, photos and model files
 * as they are under `readings/`, `photos/`, `models/`. Every entry is checked when it is read, so that a damaged or foreign
 * file changes nothing; entries of a later version of a record are left out and counted.
 */
export const BOOK_FORMAT = 'tankside-book';
export const BOOK_VERSION = 1;

export const SHELVES = {
  tanks: tankRecordSchema,
  supplies: supplyRecordSchema,
  hangers: hangerRecordSchema,
  baths: bathRecordSchema,
  dyes: dyeSchema,
  dips: dipRecordSchema,
} as const;
export type ShelfName = keyof typeof SHELVES;
export const SHELF_NAMES = Object.keys(SHELVES) as ShelfName[];

const id = z.string().min(1).max(200);
const rowSchema = z.object({ id, changedAtMs: z.number().finite(), record: z.unknown() });
const runRowSchema = z.object({
  changedAtMs: z.number().finite(),
  record: runRecordSchema,
  job: z.unknown(),
  models: z.array(z.object({ entry: z.string(), modelId: id })),
});
const photoRowSchema = z.object({ id, ownerId: z.string(), type: z.string().max(100) });
const headSchema = z.object({
  format: z.literal(BOOK_FORMAT),
  version: z.number().int(),
  madeAtMs: z.number(),
});

export type BookRow = z.infer<typeof rowSchema>;
export type BookRun = z.infer<typeof runRowSchema>;
export type BookPhoto = z.infer<typeof photoRowSchema>;

export interface BookHead {
  readonly madeAtMs: number;
}

export interface ReadBook {
  readonly shelves: Readonly<Record<ShelfName, readonly BookRow[]>>;
  readonly runs: readonly BookRun[];
  /** Packed, checked; by run id. */
  readonly readings: ReadonlyMap<string, Uint8Array>;
  readonly photos: readonly (BookPhoto & { readonly bytes: Uint8Array })[];
  readonly models: ReadonlyMap<string, Uint8Array>;
  /** Entries that could not be read. */
  readonly refused: number;
}

/** The texts of a book; readings, photos and models are added as they are. Names of the zip's entries to bytes. */
export function bookTexts(
  head: BookHead,
  shelves: Readonly<Record<ShelfName, readonly BookRow[]>>,
  runs: readonly BookRun[],
  photos: readonly BookPhoto[],
): ReadonlyMap<string, Uint8Array> {
  const texts = new Map<string, Uint8Array>();
  texts.set('book.json', strToU8(JSON.stringify({ format: BOOK_FORMAT, version: BOOK_VERSION, ...head })));
  for (const name of SHELF_NAMES) texts.set(`${name}.json`, strToU8(JSON.stringify(shelves[name])));
  texts.set('photos.json', strToU8(JSON.stringify(photos)));
  // In stretches, so that no single text gets too long for ten thousand runs.
  for (let from = 0, part = 0; from < runs.length; from += RUNS_PER_TEXT, part++) {
    texts.set(`runs/${part}.json`, strToU8(JSON.stringify(runs.slice(from, from + RUNS_PER_TEXT))));
  }
  return texts;
}

const RUNS_PER_TEXT = 500;
const MOST_BYTES = 3 * 2 ** 30;
/** Deflate can't shrink by more than about 1032 : 1; a larger claim is a lie that would only cost memory. */
const MOST_SHRINKAGE = 1100;

/** Failures: `book-not-a-backup`, `book-newer`, `book-too-large`, `book-damaged`. */
export function readBook(bytes: Uint8Array): Result<ReadBook> {
  const foreign = failure(
    'book-not-a-backup',
    'This file is not a backup of a shop’s book.',
    'Choose a file that “Back up the whole book” made.',
  );
  if (bytes.length < 4 || bytes[0] !== 0x50 || bytes[1] !== 0x4b) return foreign;
  let claimed = 0;
  let tooLarge = false;
  let entries: Record<string, Uint8Array>;
  try {
    entries = unzipSync(bytes, {
      filter(entry) {
        claimed += entry.originalSize;
        if (claimed > MOST_BYTES || entry.originalSize > 4096 + MOST_SHRINKAGE * entry.size) tooLarge = true;
        return !tooLarge;
      },
    });
  } catch {
    return failure('book-damaged', 'This backup is damaged.', 'Use another copy; nothing was changed.');
  }
  if (tooLarge) {
    return failure(
      'book-too-large',
      'This backup claims to hold more than fits.',
      'Use another copy; nothing was changed.',
    );
  }
  const head = headSchema.safeParse(parse(entries['book.json']));
  if (!head.success) return foreign;
  if (head.data.version > BOOK_VERSION) {
    return failure(
      'book-newer',
      'This backup was made by a newer version of the program.',
      'Update the program first.',
    );
  }
  let refused = 0;
  const listOf = <T>(name: string, schema: z.ZodType<T>): T[] => {
    const list = parse(entries[name]);
    if (!Array.isArray(list)) return [];
    return list.flatMap((entry: unknown) => {
      const read = schema.safeParse(entry);
      if (!read.success) refused++;
      return read.success ? [read.data] : [];
    });
  };
  const shelf = (name: ShelfName): BookRow[] =>
    listOf(`${name}.json`, rowSchema).filter((row) => {
      const record = SHELVES[name].safeParse(row.record);
      const good = record.success && record.data.id === row.id;
      if (!good) refused++;
      return good;
    });
  const shelves = Object.fromEntries(SHELF_NAMES.map((name) => [name, shelf(name)])) as Record<
    ShelfName,
    BookRow[]
  >;
  const runs = Object.keys(entries)
    .filter((name) => /^runs\/\d+\.json$/.test(name))
    .flatMap((name) => listOf(name, runRowSchema));
  const readings = new Map<string, Uint8Array>();
  const models = new Map<string, Uint8Array>();
  for (const [name, content] of Object.entries(entries)) {
    if (name.startsWith('readings/')) {
      if (unpackReadings(content).ok) readings.set(name.slice('readings/'.length), content);
      else refused++;
    } else if (name.startsWith('models/')) models.set(name.slice('models/'.length), content);
  }
  const photos = listOf('photos.json', photoRowSchema).flatMap((photo) => {
    const content = entries[`photos/${photo.id}`];
    if (!content) refused++;
    return content ? [{ ...photo, bytes: content }] : [];
  });
  return success({ shelves, runs, readings, photos, models, refused });
}

function parse(text: Uint8Array | undefined): unknown {
  if (!text) return undefined;
  try {
    return JSON.parse(strFromU8(text)) as unknown;
  } catch {
    return undefined;
  }
}

/** Whether an entry of the backup replaces the one that is here. */
export function whichWins(hereMs: number | undefined, backupMs: number): 'added' | 'newer' | 'same' {
  if (hereMs === undefined) return 'added';
  return backupMs > hereMs ? 'newer' : 'same';
}
