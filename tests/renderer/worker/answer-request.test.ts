import { describe, expect, it } from 'vitest';
import { failure, success } from '../../../core/result.ts';
import { answerRequest } from '../../../renderer/worker/answer-request.ts';
import type { JobReply, JobRunners } from '../../../renderer/worker/jobs.ts';
import { transferablesIn } from '../../../renderer/worker/transferables.ts';

async function answer(run: JobRunners['buildPickIndex'], clock: () => number = () => 0) {
  const posted: { reply: JobReply; transfer: ArrayBuffer[] }[] = [];
  await answerRequest(
    { id: 5, job: 'buildPickIndex', input: { name: 'part.stl', positions: new Float32Array(9) } },
    { buildPickIndex: run } as unknown as JobRunners,
    (reply, transfer) => posted.push({ reply, transfer }),
    clock,
  );
  return posted;
}

const index = () => ({
  roots: [new ArrayBuffer(32)],
  indirectBuffer: new Uint32Array(4),
  index: null,
  version: 1,
});

describe('answerRequest', () => {
  it('moves the buffers of the result', async () => {
    const value = index();
    const [done] = await answer(async () => success(value));
    expect(done!.reply).toEqual({ id: 5, kind: 'done', result: success(value) });
    expect(done!.transfer).toEqual([value.roots[0], value.indirectBuffer.buffer]);
  });

  it('passes a failure on as it is', async () => {
    const [done] = await answer(async () => failure('no-triangles', 'a', 'b'));
    expect(done!.reply).toMatchObject({ result: { ok: false, error: { code: 'no-triangles' } } });
  });

  it('turns an exception into a failure with the file’s name', async () => {
    const [done] = await answer(async () => {
      throw new RangeError('Array buffer allocation failed');
    });
    expect(done!.reply).toMatchObject({ result: { ok: false, error: { code: 'worker-fault' } } });
    expect(JSON.stringify(done!.reply)).toMatch(/part\.stl.*Array buffer allocation failed/);
  });

  it('tells each phase, and within one only every 40 ms', async () => {
    let ms = 0;
    const posted = await answer(
      async (_, report) => {
        for (let i = 0; i < 100; i++, ms += 1) report({ phase: i < 50 ? 'one' : 'two', fraction: i / 100 });
        return success(index());
      },
      () => ms,
    );
    const told = posted.flatMap(({ reply }) => (reply.kind === 'progress' ? [reply.progress.fraction] : []));
    expect(told).toEqual([0, 0.4, 0.5, 0.9]);
  });
});

describe('transferablesIn', () => {
  it('finds each buffer once, however deep, and leaves empty ones', () => {
    const shared = new ArrayBuffer(16);
    const loop: Record<string, unknown> = { a: new Uint8Array(shared, 4, 4), b: [new Float32Array(shared)] };
    loop.self = loop;
    expect(transferablesIn({ loop, none: new Uint32Array(0), text: 'x', nothing: null })).toEqual([shared]);
  });
});
