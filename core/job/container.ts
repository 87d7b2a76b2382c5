import { strFromU8, strToU8, unzipSync, zipSync, type UnzipFileInfo, type Zippable } from 'fflate';
import { failure, success, type Result } from '../result.ts';
import type { Job } from './job.ts';
import { migrateJob } from './migrate-job.ts';
import { fileOf } from './part-source.ts';

/**
 * A job file: a zip with `job.json` and the original model files, untouched, under `models/`. Written by us and
 * bounded when read: a zip that claims to unfold into more than MOST_BYTES, or that names a place outside
 * `models/`, is refused before anything is unpacked.
 */
const JOB_ENTRY = 'job.json';
const MOST_BYTES = 4 * 2 ** 30;
const MOST_JOB_TEXT_BYTES = 256 * 2 ** 20;
/** Deflate can't shrink by more than about 1032 : 1; a larger claim is a lie that would only cost memory. */
const MOST_SHRINKAGE = 1100;

/** ZIP's time stamps start in 1980; a fixed one keeps the same job byte for byte the same. */
const FIXED_TIME = '1980-01-01T12:00:00';

export interface OpenedJob {
  readonly job: Job;
  /** Entry name (`models/…`) to the file's own bytes. */
  readonly models: ReadonlyMap<string, Uint8Array>;
}

/** Throws RangeError when a part's model bytes are missing: such a job could never be opened again. */
export function packJob(job: Job, models: ReadonlyMap<string, Uint8Array>): Uint8Array {
  const files: Zippable = { [JOB_ENTRY]: [strToU8(JSON.stringify(job)), { level: 6, mtime: FIXED_TIME }] };
  for (const part of job.parts) {
    const file = fileOf(part);
    if (!file) continue;
    const bytes = models.get(file.entry);
    if (!bytes) throw new RangeError(`packJob: no bytes for "${file.entry}"`);
    files[file.entry] = [bytes, { level: 1, mtime: FIXED_TIME }];
  }
  return zipSync(files);
}

const damaged = (message: string): Result<never> =>
  failure('job-damaged', message, 'Open a copy or an older save of this job. The file was not changed.');

/** Codes: job-empty, job-not-a-container, job-too-large, and those of migrateJob. Nothing is kept of a refused file. */
export function unpackJob(bytes: Uint8Array): Result<OpenedJob> {
  if (bytes.length === 0)
    return failure('job-empty', 'This job file is empty.', 'Open a copy or an older save.');
  if (bytes[0] !== 0x50 || bytes[1] !== 0x4b) {
    return failure(
      'job-not-a-container',
      'This file is not a Tankside job: a job is a zip container.',
      'Open a file that Tankside saved, or drop a model to start a new job.',
    );
  }
  let claimed = 0;
  let tooLarge = false;
  const wanted = (entry: UnzipFileInfo): boolean => {
    claimed += entry.originalSize;
    if (claimed > MOST_BYTES || (entry.name === JOB_ENTRY && entry.originalSize > MOST_JOB_TEXT_BYTES))
      tooLarge = true;
    if (entry.originalSize > 4096 + MOST_SHRINKAGE * entry.size) tooLarge = true;
    return !tooLarge && (entry.name === JOB_ENTRY || /^models\/[^/\\]+$/.test(entry.name));
  };
  let files: Record<string, Uint8Array>;
  try {
    files = unzipSync(bytes, { filter: wanted });
  } catch {
    return damaged('The job’s container is cut short or damaged.');
  }
  if (tooLarge) {
    return failure(
      'job-too-large',
      'This file claims to hold more than it can (or more than 4 GB) and was not unpacked.',
      'Open a job file that Tankside saved itself.',
    );
  }
  const text = files[JOB_ENTRY];
  if (!text) {
    return failure(
      'job-foreign',
      'This zip holds no Tankside job.',
      'Open a file that Tankside saved, or drop a model to start a new job.',
    );
  }
  let raw: unknown;
  try {
    raw = JSON.parse(strFromU8(text));
  } catch {
    return damaged('The job’s text inside the container is damaged.');
  }
  const job = migrateJob(raw);
  if (!job.ok) return job;
  const models = new Map<string, Uint8Array>();
  for (const part of job.value.parts) {
    const file = fileOf(part);
    if (!file) continue;
    const model = files[file.entry];
    if (!model || model.length !== file.byteLength) {
      return damaged(`The model “${file.fileName}” inside the job is missing or cut short.`);
    }
    models.set(file.entry, model);
  }
  return success({ job: job.value, models });
}
