import type { BathEntry } from '../../core/bath/bath-history.ts';
import { bathState, type BathState } from '../../core/bath/bath-state.ts';
import { changeBath } from '../../core/job/edit-job.ts';
import type { Job } from '../../core/job/job.ts';
import type { BathRecord } from '../../core/shop/bath-record.ts';
import type { Services } from '../app/services.ts';
import { editJob, jobOf } from './app-store.ts';
import { notify } from './notices.ts';

/** Keeps a bath of the shop's book; says so when the disk is full. Resolves to whether it was kept. */
export async function keepBath({ wetShop, store }: Services, record: BathRecord): Promise<boolean> {
  try {
    await wetShop.baths.put(record, Date.now());
    return true;
  } catch {
    notify(store, {
      code: 'bath-not-kept',
      message: 'The bath’s entry could not be kept in the shop’s book.',
      remedy: 'Make room on the disk, or let this page keep data, and enter it again.',
    });
    return false;
  }
}

/** Adds a line to a bath's history, or puts it in place of another, and brings this job's bath, where it is that one, to what the book now says. */
export async function noteInBathBook(
  services: Services,
  bathId: string,
  entry: BathEntry,
  instead: BathEntry | undefined = undefined,
): Promise<void> {
  const record = services.wetShop.baths.store.getState().records.find(({ id }) => id === bathId);
  if (!record) return;
  const entries = instead
    ? record.entries.map((known) => (known === instead ? entry : known))
    : [...record.entries, entry];
  const next = { ...record, entries };
  if (!(await keepBath(services, next))) return;
  const state = bathState(next.entries);
  if (state.ok && jobOf(services.store.getState()).bath.shopBathId === bathId)
    editJob(services.store, `${record.name} by its history`, (job) => bathFromBook(job, next, state.value));
}

/** Takes a bath of the book as the job's: where it stands by its history. */
export function bathFromBook(job: Job, record: BathRecord, state: BathState): Job {
  return changeBath(job, {
    shopBathId: record.id,
    volumeM3: round(state.volumeM3, 1e-6),
    acidKgPerM3: Math.min(500, Math.max(50, round(state.freeAcidKgPerM3, 0.01))),
    aluminiumKgPerM3:
      state.aluminiumKgPerM3 === null ? null : Math.min(50, round(state.aluminiumKgPerM3, 0.001)),
  });
}

const round = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(9));
