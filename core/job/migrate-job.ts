import { failure, success, type Result } from '../result.ts';
import { JOB_FORMAT, JOB_VERSION, jobSchema, type Job } from './job.ts';

/**
 * One step from version n to n + 1 stands at index n − 1. Append only: a step that was released is never changed,
 * so that every job ever saved can still be opened.
 */
const STEPS: readonly ((job: Record<string, unknown>) => Record<string, unknown>)[] = [
  keepMachinedSize,
  stripsOfParts,
  oneLoadHangs,
];

/** Version 1 kept that a fit is machined first, not to which size; the plan may have moved since, so it is asked again. */
function keepMachinedSize(job: Record<string, unknown>): Record<string, unknown> {
  const ofFit = (fit: unknown): unknown => {
    if (!isRecord(fit)) return fit;
    const { machined, ...rest } = fit;
    return { ...rest, machinedTo: machined === true ? 'not kept' : null };
  };
  const ofPart = (part: unknown): unknown =>
    isRecord(part) && Array.isArray(part.fits) ? { ...part, fits: part.fits.map(ofFit) } : part;
  return { ...job, version: 2, ...(Array.isArray(job.parts) ? { parts: job.parts.map(ofPart) } : {}) };
}

/** Version 2 counted strips, and the wall they thin, for the job: each of its parts has them all. */
function stripsOfParts(job: Record<string, unknown>): Record<string, unknown> {
  if (!isRecord(job.finish) || !isRecord(job.finish.strip)) return { ...job, version: 3 };
  const { redosSoFar, first, wallM, leastWallM, ...strip } = job.finish.strip;
  const strips = { soFar: redosSoFar, first, wallM, leastWallM };
  const ofPart = (part: unknown): unknown => (isRecord(part) ? { ...part, strips } : part);
  return {
    ...job,
    version: 3,
    finish: { ...job.finish, strip },
    ...(Array.isArray(job.parts) ? { parts: job.parts.map(ofPart) } : {}),
  };
}

/** Version 3 knew only of what hangs now. */
function oneLoadHangs(job: Record<string, unknown>): Record<string, unknown> {
  return { ...job, version: 4, otherLoads: [] };
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

/**
 * Brings parsed JSON of any released version up to today's job and checks it against the schema.
 * Codes: job-foreign, job-newer, job-damaged.
 */
export function migrateJob(raw: unknown): Result<Job> {
  if (typeof raw !== 'object' || raw === null || (raw as Record<string, unknown>).format !== JOB_FORMAT) {
    return failure(
      'job-foreign',
      'This file is not a Tankside job.',
      'Open a file that Tankside saved, or drop a model (STL, OBJ) to start a new job.',
    );
  }
  let job = raw as Record<string, unknown>;
  const version = job.version;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    return failure(
      'job-damaged',
      'The job’s version number is missing or damaged.',
      'Open a copy or an older save of this job.',
    );
  }
  if (version > JOB_VERSION) {
    return failure(
      'job-newer',
      `This job was saved by a newer Tankside (job version ${version}; this one reads up to ${JOB_VERSION}).`,
      'Update Tankside, then open it again. The file was not changed.',
    );
  }
  for (let step = version; step < JOB_VERSION; step++) job = STEPS[step - 1]!(job);
  const checked = jobSchema.safeParse(job);
  if (!checked.success) {
    const issue = checked.error.issues[0];
    const where = issue && issue.path.length > 0 ? ` at ${issue.path.join('.')}` : '';
    return failure(
      'job-damaged',
      `The job’s contents are damaged${where}${issue ? ` (${issue.message})` : ''}.`,
      'Open a copy or an older save of this job. The file was not changed.',
    );
  }
  return success(checked.data);
}
