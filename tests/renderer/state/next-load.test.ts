import { expect, test } from 'vitest';
import { createAppStore } from '../../../renderer/state/app-store.ts';
import { takeNextLoad } from '../../../renderer/state/next-load.ts';

test('after a load the next one that has not run is offered, and after the last the first', () => {
  const store = createAppStore();
  const now = (): [number, readonly number[]] => {
    const { nextLoad, loadsRun } = store.getState();
    return [nextLoad, loadsRun];
  };
  takeNextLoad(store, { load: 1, loads: 3 }, true);
  expect(now()).toEqual([0, []]);
  takeNextLoad(store, { load: 2, loads: 3 }, false);
  expect(now()).toEqual([2, [1]]);
  takeNextLoad(store, { load: 3, loads: 3 }, false);
  expect(now()).toEqual([0, [1, 2]]);
  takeNextLoad(store, { load: 1, loads: 3 }, false);
  expect(now()).toEqual([0, [1, 2, 0]]);
});
