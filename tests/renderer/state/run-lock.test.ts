import { expect, it } from 'vitest';
import { createRunLock } from '../../../renderer/state/run-lock.ts';
import { StandInLocks } from './stand-ins/memory-run-store.ts';

it('looks which runs no window holds without holding one meanwhile', async () => {
  const locks = new StandInLocks();
  const [one, other] = [createRunLock(locks), createRunLock(locks)];
  const looking = one.free(['a', 'b']);
  expect(await other.take('a', 'none')).toBe(true);
  await looking;
  expect(await one.free(['a', 'b'])).toEqual(['b']);
  other.giveBack();
  await Promise.resolve();
  expect(await one.free(['a', 'b'])).toEqual(['a', 'b']);
});

it('names none where the browser does not say', async () => {
  const { request } = new StandInLocks();
  const mute = { request, query: () => Promise.reject(new DOMException('not here', 'SecurityError')) };
  expect(await createRunLock(mute).free(['a'])).toEqual([]);
});
