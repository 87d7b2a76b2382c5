import { runRecordSchema } from '../../core/shop/run-record.ts';
import type { ShopDatabase } from './shop-database.ts';

/** The notes of runs, by id, for what is taken out of the book; the list itself carries none. */
export async function runNotes(
  { runDetails }: Pick<ShopDatabase, 'runDetails'>,
  ids: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  const notes = new Map<string, string>();
  for (const detail of await runDetails.bulkGet([...ids])) {
    const record = runRecordSchema.shape.note.safeParse(
      (detail?.record as { note?: unknown } | undefined)?.note,
    );
    if (detail && record.success) notes.set(detail.runId, record.data);
  }
  return notes;
}
