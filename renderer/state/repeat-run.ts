import type { RunRecord } from '../../core/shop/run-record.ts';
import { renameJob } from '../../core/job/edit-job.ts';
import { bathState } from '../../core/bath/bath-state.ts';
import { repeatDifferences } from '../../core/shop/repeat-differences.ts';
import { setPlacements } from '../../core/job/edit-hanging.ts';
import { sizesAsHung } from '../../core/job/hung-wires.ts';
import type { Job } from '../../core/job/job.ts';
import { spreadLoad } from '../../core/job/load-hanging.ts';
import { inTank } from '../../core/job/tank-plan.ts';
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
  const own = loadAlone(whole, counts);
  const alone = own && hungAlone(services, whole, own);
  if (alone && alone !== whole) {
    editJob(store, `Load ${load} alone`, () => alone);
    store.setState({ nextLoad: 0 });
  }
  const hangs = alone ? howItHangs(whole, own, alone) : '';
  notifyOfFile(
    store,
    alone
      ? {
          code: 'repeat-load-alone',
          message: `The run you repeat was load ${load} of ${loads}: ${pieces}. The job has these pieces alone.${hangs}`,
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

/** Where another load than this hung in the tank, this one is hung in its place, evenly spaced where it never hung itself. */
function hungAlone({ store }: Services, whole: Job, own: Job): Job {
  if (whole.placements.length === 0 || own.placements.length > 0 || !inTank(own)) return own;
  const { meshes, unitSystem } = store.getState();
  const sizes = sizesAsHung(own.parts, (id) => meshes[id]?.geometry);
  const counts = own.parts.map(({ quantity }) => quantity);
  const spread = spreadLoad(own, counts, sizes, unitSystem);
  return spread.ok && spread.value.made.ok ? setPlacements(own, spread.value.made.value) : own;
}

function howItHangs(whole: Job, own: Job, alone: Job): string {
  if (whole.placements.length === 0) return '';
  if (own.placements.length > 0) return ' In the tank they hang as they did.';
  return alone.placements.length > 0
    ? ' In the job another load hung, so these are hung evenly spaced: look at their distances at the tank stage.'
    : ' In the job another load hung: hang these at the tank stage.';
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
