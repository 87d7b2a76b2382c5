import type { Services } from '../app/services.ts';
import { isUnsaved, jobOf } from './app-store.ts';
import { saveJob } from './save-file.ts';

export type LeaveChoice = 'save' | 'leave' | 'stay';

/** Asked while the open job has changes that are in no file. */
export interface LeaveQuestion {
  readonly jobName: string;
  /** What comes next, as "open the other job". */
  readonly next: string;
  readonly answer: (choice: LeaveChoice) => void;
}

/** Unsaved work is never dropped without asking. Whether the open job may go. */
export async function mayLeaveJob(services: Services, next: string): Promise<boolean> {
  const { store } = services;
  const state = store.getState();
  if (!isUnsaved(state) || jobOf(state).parts.length === 0) return true;
  state.leaveQuestion?.answer('stay');
  const choice = await new Promise<LeaveChoice>((resolve) => {
    const question: LeaveQuestion = {
      jobName: jobOf(state).name,
      next,
      answer: (choice) => {
        if (store.getState().leaveQuestion === question) store.setState({ leaveQuestion: null });
        resolve(choice);
      },
    };
    store.setState({ leaveQuestion: question });
  });
  if (choice === 'save') await saveJob(services, false);
  return choice === 'leave' || (choice === 'save' && !isUnsaved(store.getState()));
}
