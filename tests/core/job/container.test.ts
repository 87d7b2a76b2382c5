import fc from 'fast-check';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { packJob, unpackJob } from '../../../core/job/container.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { fileOf } from '../../../core/job/part-source.ts';
import { addPart, confirmUnit, putContact } from '../../../core/job/edit-job.ts';
import { JOB_VERSION, type Job } from '../../../core/job/job.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';

const bytes = new Uint8Array([1, 2, 3, 250, 0, 7]);

function sample(): { job: Job; models: Map<string, Uint8Array> } {
  const part = newPart('p1', 'dove/tail.stl', bytes.length, 'mm', false);
  let job = confirmUnit(addPart(emptyJob('Plate'), part), 'p1', 'in');
  job = putContact(job, 'p1', {
    id: 'c1',
    at: [1, 2.5, -3],
    triangle: 4,
    patchDiameterM: 0.004,
    hanger: { ...FIRST_HANGER, count: 2 },
  });
  return { job, models: new Map([[fileOf(part)!.entry, bytes]]) };
}

const refusal = (file: Uint8Array): string => {
  const opened = unpackJob(file);
  return opened.ok ? 'opened' : opened.error.code;
};
const zipOf = (job: unknown, more: Record<string, Uint8Array> = {}): Uint8Array =>
  zipSync({ 'job.json': strToU8(JSON.stringify(job)), ...more });

describe('the job file', () => {
  it('comes back as it was, with the model’s bytes untouched', () => {
    const { job, models } = sample();
    const opened = unpackJob(packJob(job, models));
    if (!opened.ok) throw new Error(opened.error.message);
    expect(opened.value.job).toEqual(job);
    expect(opened.value.models.get(fileOf(job.parts[0]!)!.entry)).toEqual(bytes);
  });

  it('is the same byte for byte when nothing changed', () => {
    const { job, models } = sample();
    expect(packJob(job, models)).toEqual(packJob(job, models));
  });

  it('can’t be written without its model', () => {
    expect(() => packJob(sample().job, new Map())).toThrow(RangeError);
  });

  it('is refused with a reason when empty, foreign, newer or damaged', () => {
    const { job, models } = sample();
    const entry = fileOf(job.parts[0]!)!.entry;
    const whole = packJob(job, models);
    expect(refusal(new Uint8Array())).toBe('job-empty');
    expect(refusal(strToU8('solid nothing'))).toBe('job-not-a-container');
    expect(refusal(zipSync({ 'other.txt': strToU8('x') }))).toBe('job-foreign');
    expect(refusal(zipOf({ format: 'something-else', version: 1 }))).toBe('job-foreign');
    expect(refusal(zipOf({ ...job, version: JOB_VERSION + 1 }, { [entry]: bytes }))).toBe('job-newer');
    expect(refusal(zipOf({ ...job, version: 'one' }, { [entry]: bytes }))).toBe('job-damaged');
    expect(refusal(zipOf({ ...job, parts: 3 }))).toBe('job-damaged');
    expect(refusal(zipOf(job))).toBe('job-damaged');
    expect(refusal(zipOf(job, { [entry]: bytes.slice(1) }))).toBe('job-damaged');
    expect(refusal(zipSync({ 'job.json': strToU8('{"format":') }))).toBe('job-damaged');
    expect(refusal(whole.slice(0, whole.length - 30))).toBe('job-damaged');
  });

  it('never unpacks places outside models/', () => {
    const { job } = sample();
    const hostile = {
      ...job,
      parts: [{ ...job.parts[0]!, source: { ...fileOf(job.parts[0]!)!, entry: 'models/../x' } }],
    };
    expect(refusal(zipOf(hostile, { 'models/../x': bytes }))).toBe('job-damaged');
  });

  it('refuses a size that its own compressed bytes can’t unfold to, before unpacking', () => {
    const { job, models } = sample();
    const file = packJob(job, models);
    const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
    for (let at = 0; at + 4 < file.length; at++) {
      if (view.getUint32(at, true) === 0x02014b50) view.setUint32(at + 24, 0xf0000000, true);
    }
    expect(['job-too-large', 'job-damaged']).toContain(refusal(file));
  });

  it('gives an outcome for any bytes', () => {
    const { job, models } = sample();
    const whole = packJob(job, models);
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 }), (at, flip) => {
        const bent = whole.slice();
        bent[at]! ^= flip;
        const opened = unpackJob(bent);
        expect(typeof opened.ok).toBe('boolean');
      }),
      { numRuns: 300 },
    );
  });
});
