import type { RunRecord } from '../../core/shop/run-record.ts';
import { renameJob } from '../../core/job/edit-job.ts';
import { bathState } from '../../core/bath/bath-state.ts';
import { repeatDifferences } from '../../core/shop/repeat-differences.ts';
import { loadAlone } from '../../core/job/load-alone.ts';
import type { Services } from '../app/services.ts';
import { editJob, jobOf } from './app-store.ts';
import { mayLeaveJob } from './leave-job.ts';
import { notify, notifyOfFile } from './notices.ts';
import { readAllParts, showJob } from './open-files.ts';
import { jobReadAgain } from './read-again.ts';
import { storageFailure } from './run-store.ts';

/**
 * The job of a run as a new, unsaved one: same parts, treatments, hanging, plan and finish. Of a job of several loads it has the
 * pieces of the run's own, with all of them one undo away.
 */
export async function repeatRun(services: Services, record: RunRecord): Promise<void> {
  const { runs, store } = services;
  const stored = await runs.store
    .job(record.id)
    .catch((fault: unknown) => ({ ok: false as const, error: storageFailure(fault) }));
  if (!stored.ok) return notify(store, stored.error);
  if (!(await mayLeaveJob(services, 'repeat this run'))) return;
  const { job, models } = stored.value;
  const opened = { job: renameJob(job, `${job.name} again`), models };
  const meshes = await readAllParts(services, opened);
  if (!meshes) return;
  const again = jobReadAgain(opened, meshes);
  showJob(services, again.opened, meshes, { target: null, saved: false });
  for (const notice of again.notices) notifyOfFile(store, notice, 'check');
  const { load, loads, pieces, counts } = record.plan;
  // At the run its own load is the one offered.
  store.setState({ stage: 'current', nextLoad: load - 1 });
  tellDifferences(services, record);
  if (loads === 1) return;
  const whole = jobOf(store.getState());
  const alone = loadAlone(whole, counts);
  if (alone && alone !== whole) {
    editJob(store, `Load ${load} alone`, () => alone);
    store.setState({ nextLoad: 0 });
  }
  notifyOfFile(
    store,
    alone
      ? {
          code: 'repeat-load-alone',
          message: `The run you repeat was load ${load} of ${loads}: ${pieces}. The job has these pieces alone.`,
          remedy: 'Undo brings back all pieces of the job it was part of.',
        }
      : {
          code: 'repeat-whole-job',
          message: `This is the whole job of ${loads} loads. The run you repeat was load ${load}: ${pieces}.`,
          remedy: `Load ${load} is chosen at the run. For its pieces alone, set the quantities at the part.`,
        },
    'check',
  );
}

/** The planned values come back as they were; where the run went otherwise, or its bath has moved on, is said at once. */
function tellDifferences({ store, wetShop }: Services, record: RunRecord): void {
  const job = jobOf(store.getState());
  const book = wetShop.baths.store.getState().records.find(({ id }) => id === job.bath.shopBathId);
  const state = book ? bathState(book.entries) : null;
  const bath = book && state?.ok ? { record: book, state: state.value } : null;
  const said = repeatDifferences(record, job, bath, store.getState().unitSystem);
  if (said.length === 0) return;
  notifyOfFile(
    store,
    {
      code: 'repeat-differs',
      message: `This job has the planned values of “${record.name}”, which differ from what was done or is there now: ${said.join(' ')}`,
      remedy: `To get the same again set what was really done${bath ? ', and take the bath into this job at Bath, under its history' : ''}.`,
    },
    'check',
  );
}
