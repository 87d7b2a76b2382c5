import { describe, expect, it } from 'vitest';
import { success } from '../../../core/result.ts';
import { createWorkerClient, type WorkerLike } from '../../../renderer/worker/client.ts';
import {
  copyInStretches,
  largeArraysIn,
  STRETCH_BYTES,
  withCopies,
} from '../../../renderer/worker/copy-in-stretches.ts';
import type { JobRequest } from '../../../renderer/worker/jobs.ts';

/** Two stretches and a bit. */
const large = (): Float32Array => {
  const numbers = new Float32Array(STRETCH_BYTES / 2 + 5);
  for (let i = 0; i < numbers.length; i++) numbers[i] = i % 1013;
  return numbers;
};

/** Compares bytes: a matcher that looks at every number takes seconds. */
const isSame = (a: ArrayBufferView, b: ArrayBufferView): boolean => {
  const bytes = (view: ArrayBufferView): Uint8Array =>
    new Uint8Array(view.buffer, view.byteOffset, view.byteLength);
  return Buffer.compare(bytes(a), bytes(b)) === 0;
};

/** Tasks of the page between now and when it is asked again. */
const tasks = async (count: number): Promise<void> => {
  for (let i = 0; i < count; i++) await new Promise((resolve) => setTimeout(resolve, 0));
};

describe('copies of large arrays', () => {
  it('are the same numbers in other memory; what is small or shared twice is left as it stands', async () => {
    const positions = large();
    const small = new Uint8Array(8);
    const input = {
      name: 'a',
      geometry: { positions, again: positions, small },
      list: [1, 2, 3],
      none: null,
    };
    const found = largeArraysIn(input, []);
    expect(found.length).toBe(1);
    expect(found[0] === positions).toBe(true);
    const copies = await copyInStretches(found, () => true);
    const copied = withCopies(input, copies!);
    expect(copied).toMatchObject({ name: 'a', none: null });
    expect(copied.geometry.positions === positions).toBe(false);
    expect(isSame(copied.geometry.positions, positions)).toBe(true);
    expect(copied.geometry.again === copied.geometry.positions).toBe(true);
    expect(copied.geometry.small === small).toBe(true);
    expect(copied.list).toBe(input.list);
  });

  it('of a piece of a buffer take no more than the piece', async () => {
    const whole = new Uint32Array(STRETCH_BYTES);
    whole.fill(7);
    const piece = whole.subarray(10, 10 + STRETCH_BYTES / 2);
    const copies = await copyInStretches([piece], () => true);
    const copy = copies!.get(piece)!;
    expect(copy.buffer.byteLength).toBe(piece.byteLength);
    expect(isSame(copy, piece)).toBe(true);
  });

  it('are not made of what the page gives away', () => {
    const positions = large();
    expect(largeArraysIn({ positions }, [positions.buffer as ArrayBuffer])).toEqual([]);
  });

  it('are given up as soon as nobody wants them', async () => {
    let asked = 0;
    expect(await copyInStretches([large()], () => ++asked < 2)).toBeNull();
    expect(asked).toBe(2);
  });
});

describe('a job with a large input', () => {
  const setUp = () => {
    const requests: JobRequest[] = [];
    const transfers: ArrayBuffer[][] = [];
    const workers: WorkerLike[] = [];
    const client = createWorkerClient(() => {
      const worker: WorkerLike = {
        onmessage: null,
        onerror: null,
        onmessageerror: null,
        postMessage(request, transfer) {
          requests.push(request);
          transfers.push(transfer);
        },
        terminate() {},
      };
      workers.push(worker);
      return worker;
    });
    return { requests, transfers, workers, client };
  };

  it('goes to the worker as a copy that it may keep; the page keeps its own', async () => {
    const { requests, transfers, workers, client } = setUp();
    const positions = large();
    const index = client.run('buildPickIndex', { name: 'a', positions });
    expect(requests).toEqual([]);
    await expect.poll(() => requests.length).toBe(1);
    const sent = (requests[0]!.input as { positions: Float32Array }).positions;
    expect(sent === positions).toBe(false);
    expect(isSame(sent, positions)).toBe(true);
    expect(transfers[0]!.length).toBe(1);
    expect(transfers[0]![0] === sent.buffer).toBe(true);
    workers[0]!.onmessage!({ data: { id: requests[0]!.id, kind: 'done', result: success('tree') } } as never);
    expect(await index).toEqual(success('tree'));
  });

  it('cancelled while it is being copied is never sent, and the next one is', async () => {
    const { requests, client } = setUp();
    const stop = new AbortController();
    const first = client.run('buildPickIndex', { name: 'a', positions: large() }, { signal: stop.signal });
    stop.abort();
    expect(await first).toMatchObject({ ok: false, error: { code: 'cancelled' } });
    void client.run('buildPickIndex', { name: 'b', positions: new Float32Array(9) });
    await tasks(20);
    expect(requests.map(({ input }) => input.name)).toEqual(['b']);
  });
});
