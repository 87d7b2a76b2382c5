import { describe, expect, it } from 'vitest';
import { success } from '../../../core/result.ts';
import { createWorkerClient, type WorkerLike } from '../../../renderer/worker/client.ts';
import type { JobReply, JobRequest } from '../../../renderer/worker/jobs.ts';

/** A worker that answers when told to. */
class WorkerUnderTest implements WorkerLike {
  onmessage: WorkerLike['onmessage'] = null;
  onerror: WorkerLike['onerror'] = null;
  onmessageerror: WorkerLike['onmessageerror'] = null;
  readonly requests: JobRequest[] = [];
  ended = false;

  postMessage(request: JobRequest): void {
    this.requests.push(request);
  }
  terminate(): void {
    this.ended = true;
  }
  say(reply: JobReply): void {
    this.onmessage?.({ data: reply } as MessageEvent<JobReply>);
  }
  answer(value: unknown): void {
    this.say({ id: this.requests.at(-1)!.id, kind: 'done', result: success(value) });
  }
  crash(message: string): void {
    this.onerror?.({ message, preventDefault() {} } as ErrorEvent);
  }
}

function setUp() {
  const workers: WorkerUnderTest[] = [];
  const client = createWorkerClient(() => {
    const worker = new WorkerUnderTest();
    workers.push(worker);
    return worker;
  });
  const split = (name: string, options = {}) =>
    client.run('resplit', { name, geometry: {} as never, splitAngleRad: 0.5, facetAnswers: [] }, options);
  const read = (name: string, options = {}) =>
    client.run('readModel', { name, content: { via: 'url', url: name }, splitAngleRad: 0.5 }, options);
  return { workers, client, split, read };
}

describe('createWorkerClient', () => {
  it('runs the jobs of a lane one after another, in order', async () => {
    const { workers, split } = setUp();
    const first = split('a');
    const second = split('b');
    expect(workers).toHaveLength(1);
    expect(workers[0]!.requests.map(({ input }) => input.name)).toEqual(['a']);
    workers[0]!.answer('one');
    expect(await first).toEqual(success('one'));
    expect(workers[0]!.requests.map(({ input }) => input.name)).toEqual(['a', 'b']);
    workers[0]!.answer('two');
    expect(await second).toEqual(success('two'));
  });

  it('passes progress of the running job on', async () => {
    const { workers, split } = setUp();
    const seen: unknown[] = [];
    const done = split('a', { onProgress: (step: unknown) => seen.push(step) });
    workers[0]!.say({
      id: workers[0]!.requests[0]!.id,
      kind: 'progress',
      progress: { phase: 'x', fraction: 0.5 },
    });
    workers[0]!.say({ id: 999, kind: 'progress', progress: { phase: 'of another', fraction: 0.5 } });
    workers[0]!.answer(1);
    await done;
    expect(seen).toEqual([{ phase: 'x', fraction: 0.5 }]);
  });

  it('ends the worker of a running job that is stopped, and runs what waits on a new one', async () => {
    const { workers, split } = setUp();
    const stop = new AbortController();
    const stopped = split('a', { signal: stop.signal });
    const waiting = split('b');
    stop.abort();
    expect(await stopped).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    expect(workers[0]!.ended).toBe(true);
    expect(workers[1]!.requests.map(({ input }) => input.name)).toEqual(['b']);
    // A late answer of the ended worker reaches nobody.
    expect(workers[0]!.onmessage).toBeNull();
    workers[1]!.answer('two');
    expect(await waiting).toEqual(success('two'));
  });

  it('drops a waiting job without touching the running one', async () => {
    const { workers, split } = setUp();
    const stop = new AbortController();
    const running = split('a');
    const waiting = split('b', { signal: stop.signal });
    stop.abort();
    expect(await waiting).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    expect(workers[0]!.ended).toBe(false);
    workers[0]!.answer('one');
    expect(await running).toEqual(success('one'));
    expect(workers[0]!.requests).toHaveLength(1);
  });

  it('does not start what was stopped before', async () => {
    const { workers, split } = setUp();
    expect(await split('a', { signal: AbortSignal.abort() })).toMatchObject({ ok: false });
    expect(workers).toHaveLength(0);
  });

  it('keeps only the last of waiting jobs that replace each other', async () => {
    const { workers, split } = setUp();
    const first = split('a', { supersede: 'angle' });
    const second = split('b', { supersede: 'angle' });
    const other = split('c', { supersede: 'other' });
    const third = split('d', { supersede: 'angle' });
    expect(await second).toMatchObject({ ok: false, error: { code: 'superseded' } });
    for (const expected of ['a', 'c', 'd']) {
      expect(workers[0]!.requests.at(-1)!.input.name).toBe(expected);
      workers[0]!.answer(expected);
    }
    expect(await Promise.all([first, other, third])).toEqual(['a', 'c', 'd'].map(success));
  });

  it('fails the job of a worker that broke, with the file’s name, and replaces the worker', async () => {
    const { workers, split } = setUp();
    const broken = split('bracket.stl');
    const next = split('b');
    workers[0]!.crash('out of memory');
    const result = await broken;
    expect(result).toMatchObject({ ok: false, error: { code: 'worker-fault' } });
    expect(result.ok ? '' : result.error.message).toMatch(/bracket\.stl.*out of memory/);
    expect(workers[0]!.ended).toBe(true);
    workers[1]!.answer('two');
    expect(await next).toEqual(success('two'));
  });

  it('fails the job when the worker can’t even be started', async () => {
    const client = createWorkerClient(() => {
      throw new Error('refused');
    });
    const result = await client.run('buildPickIndex', { name: 'a', positions: new Float32Array(9) });
    expect(result).toMatchObject({ ok: false, error: { code: 'worker-fault' } });
  });

  it('loads on a worker of its own and ends it when nothing waits', async () => {
    const { workers, read, split } = setUp();
    const splitting = split('a');
    const stop = new AbortController();
    const reading = read('b.stl', { signal: stop.signal });
    expect(workers).toHaveLength(2);
    stop.abort();
    expect(await reading).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    expect(workers.map(({ ended }) => ended)).toEqual([false, true]);
    const again = read('c.stl');
    workers[2]!.answer('part');
    expect(await again).toEqual(success('part'));
    expect(workers[2]!.ended).toBe(true);
    workers[0]!.answer('one');
    expect(await splitting).toEqual(success('one'));
  });

  it('settles everything when it is put away', async () => {
    const { workers, client, split } = setUp();
    const jobs = [split('a'), split('b')];
    client.dispose();
    for (const job of jobs) expect(await job).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    expect(workers[0]!.ended).toBe(true);
  });
});
