import { packJob } from '../../core/job/container.ts';
import type { Services } from '../app/services.ts';
import { jobOf } from './app-store.ts';
import { notify } from './notices.ts';

/** A job name as a file name any system takes. */
export function safeFileName(name: string): string {
  const safe = name
    .replace(/[\\/:*?"<>|\p{Cc}]/gu, '-')
    .replace(/[. ]+$/, '')
    .trim()
    .slice(0, 120);
  return safe === '' ? 'job' : safe;
}

/** Writes the job to its file, or asks for one. The window counts as saved only when the file is written. */
export async function saveJob(services: Services, asNew: boolean): Promise<void> {
  const { store, bridge } = services;
  const state = store.getState();
  const job = jobOf(state);
  try {
    const saved = await bridge.saveJob({
      bytes: packJob(job, state.models),
      suggestedName: `${safeFileName(job.name)}.tankside`,
      target: asNew ? null : state.target,
    });
    if (!saved.ok) notify(store, saved.error);
    else if (saved.value) store.setState({ savedDocument: job, target: saved.value });
  } catch {
    notify(store, {
      code: 'save-failed',
      message: 'The job could not be written.',
      remedy: 'Try again or choose another place; your work is still here and kept as a draft.',
    });
  }
}
