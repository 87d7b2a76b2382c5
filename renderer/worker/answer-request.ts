import { failure } from '../../core/result.ts';
import type { JobInput, JobName, JobReply, JobRequest, JobRunners, ReportProgress } from './jobs.ts';
import { transferablesIn } from './transferables.ts';

/** Progress at most this often; a phase is always told. */
const REPORT_EVERY_MS = 40;

/** Runs one request and posts what it gives. An exception becomes a Failure with the file's name, so no caller waits for ever. */
export async function answerRequest(
  request: JobRequest,
  runners: JobRunners,
  post: (reply: JobReply, transfer: ArrayBuffer[]) => void,
  now: () => number,
): Promise<void> {
  const { id, job, input } = request;
  let lastPhase = '';
  let lastMs = -Infinity;
  const report: ReportProgress = (progress) => {
    const ms = now();
    if (progress.phase === lastPhase && ms - lastMs < REPORT_EVERY_MS) return;
    lastPhase = progress.phase;
    lastMs = ms;
    post({ id, kind: 'progress', progress }, []);
  };
  try {
    const run = runners[job] as (
      input: JobInput<JobName>,
      report: ReportProgress,
    ) => ReturnType<JobRunners[JobName]>;
    const result = await run(input, report);
    post({ id, kind: 'done', result }, transferablesIn(result));
  } catch (error) {
    post({ id, kind: 'done', result: workerFault(input.name, error) }, []);
  }
}

export function workerFault(name: string, error: unknown): ReturnType<typeof failure> {
  const reason = error instanceof Error ? error.message : String(error);
  return failure(
    'worker-fault',
    `Work on ${name} broke off inside the program (${reason}).`,
    'Try it once more; if it breaks off again, close other programs to free memory or export the model more coarsely.',
  );
}
