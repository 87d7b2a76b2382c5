import { runInBath } from '../../core/shop/run-in-bath.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import type { Services } from '../app/services.ts';
import { noteInBathBook } from './bath-book.ts';
import { notify } from './notices.ts';

/**
 * Each run that ends in this window goes into the history of the bath that its job was planned for, once; one whose readings come
 * after its end goes there with them.
 */
export function countRunsInBaths(services: Services): void {
  const { recorder } = services.runs;
  recorder.view.subscribe(({ record, role }, before) => {
    if (role !== 'owner' || !record || record.endedAtMs === null || before.record?.id !== record.id) return;
    const isJustOver = before.record.endedAtMs === null;
    const hasNewReadings = before.record.facts !== record.facts;
    if (isJustOver || hasNewReadings) void countRunInBath(services, record);
  });
}

/** Where it was counted before, with other readings, that line of the history takes the new charge. */
async function countRunInBath(services: Services, record: RunRecord): Promise<void> {
  const job = await services.runs.store.job(record.id);
  const bathId = job.ok ? job.value.job.bath.shopBathId : null;
  const bath = services.wetShop.baths.store.getState().records.find(({ id }) => id === bathId);
  if (!bath) return;
  const entry = runInBath(record);
  if (!entry.ok) return notify(services.store, entry.error, 'note');
  const { value } = entry;
  if (!value) return;
  const counted = bath.entries.find((known) => known.kind === 'run' && known.at === value.at);
  if (counted?.kind === 'run' && counted.chargeC === value.chargeC) return;
  await noteInBathBook(services, bath.id, value, counted);
  notify(
    services.store,
    {
      code: 'run-counted-in-bath',
      message: `${formatIn('charge', value.chargeC, 'A·h').text} of this run went into the history of “${bath.name}”.`,
      remedy: 'Take the entry out there if the run was in another bath.',
    },
    'note',
  );
}
