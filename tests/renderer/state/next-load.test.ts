import { expect, test } from 'vitest';
import type { StepMark } from '../../../core/run/step-clock.ts';
import type { RunRecord } from '../../../core/shop/run-record.ts';
import { createAppStore } from '../../../renderer/state/app-store.ts';
import { takeNextLoad } from '../../../renderer/state/next-load.ts';

const STEPS = (['hang', 'ramp', 'hold', 'rinse'] as const).map((kind) => ({
  kind,
  label: kind,
  plannedS: null,
}));
const ran = (load: number, marks: string, practise: object | null = null): RunRecord =>
  ({
    plan: { load, loads: 3 },
    practise,
    clock: {
      steps: STEPS,
      marks: marks.split(' ').map((kind, i) => ({ kind: kind as StepMark['kind'], atMs: i })),
    },
  }) as unknown as RunRecord;
const WHOLE = 'begin next next next next';

test('after a load the next one that has not run is offered, and after the last the first', () => {
  const store = createAppStore();
  const now = (): [number, readonly number[]] => {
    const { nextLoad, loadsRun } = store.getState();
    return [nextLoad, loadsRun];
  };
  takeNextLoad(store, ran(1, WHOLE, {}));
  expect(now()).toEqual([0, []]);
  takeNextLoad(store, ran(2, WHOLE));
  expect(now()).toEqual([2, [1]]);
  takeNextLoad(store, ran(3, WHOLE));
  expect(now()).toEqual([0, [1, 2]]);
  takeNextLoad(store, ran(1, WHOLE));
  expect(now()).toEqual([0, [1, 2, 0]]);
});

test('a load ended before its film was done comes again; one ended in its rinse is done', () => {
  const store = createAppStore();
  for (const early of [
    'begin end',
    'begin next end',
    'begin next next end',
    'begin next next next back end',
  ]) {
    takeNextLoad(store, ran(2, early));
    expect([store.getState().nextLoad, store.getState().loadsRun], early).toEqual([1, []]);
  }
  takeNextLoad(store, ran(2, 'begin next next next end'));
  expect([store.getState().nextLoad, store.getState().loadsRun]).toEqual([2, [1]]);
});
