import { failure, type Failure, type Result } from '../../core/result.ts';

/** What the run in progress refuses or reports, in words. */
export const runInProgress = (name: string): Result<never> =>
  failure(
    'run-in-progress',
    `“${name}” is still going on here.`,
    'End it first with the supply off, or open another window.',
  );

export const noRunForLog = (): Result<never> =>
  failure('run-not-here', 'No run is open in this window to put the log into.', 'Open the run first.');

export const RUN_TAKEN_OVER: Failure = {
  code: 'run-taken-over',
  message: 'The window that kept this run is gone; this one keeps it now.',
  remedy: 'Connect the supply here if its readings should go on.',
};
