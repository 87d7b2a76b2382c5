import { expect, it } from 'vitest';
import type { RunRecord } from '../../../core/shop/run-record.ts';
import type { StepKind } from '../../../core/run/step-clock.ts';
import { runInRail } from '../../../renderer/state/run-in-rail.ts';
import { NO_RUN, type RunView } from '../../../renderer/state/run-view.ts';

const at = (
  kind: StepKind,
  leftMs: number | null,
  state: 'waiting' | 'running' | 'paused' = 'running',
): string =>
  runInRail({
    ...NO_RUN,
    record: { endedAtMs: null } as RunRecord,
    timers: [
      {
        step: { kind, label: 'as the board says it', plannedS: leftMs === null ? null : 600 },
        state,
        elapsedMs: 0,
        remainingMs: leftMs,
      },
    ],
  } satisfies RunView);

it('says the step that runs and the time left, in a few letters', () => {
  expect(at('hold', 42.2 * 60_000)).toBe('Hold 43 min'); // the minute that has begun counts
  expect(at('hold', 60_000)).toBe('Hold 60 s');
  expect(at('ramp', 12_400)).toBe('Ramp 13 s');
  expect(at('hold', -5000)).toBe('Hold over');
  expect(at('ready', null)).toBe('Getting ready');
  expect(at('ready', null, 'waiting')).toBe('to begin');
  expect(at('dye', 60_000, 'paused')).toBe('Paused');
});

it('says nothing where none goes on, and that one goes on in another window', () => {
  expect(runInRail(NO_RUN)).toBe('');
  expect(
    runInRail({ ...NO_RUN, running: [{ id: 'r', name: 'Plate', startedAtMs: 0, simulated: false }] }),
  ).toBe('going on');
  const left = { id: 'l', name: 'Cup', startedAtMs: 0, simulated: false };
  const elsewhere = [{ ...NO_RUN, record: { id: 'l', endedAtMs: 1, outcome: 'running' } as RunRecord }];
  expect(runInRail({ ...NO_RUN, running: [left], elsewhere })).toBe('left on');
  expect(runInRail({ ...NO_RUN, running: [{ ...left, id: 'r' }, left], elsewhere })).toBe('going on');
  expect(runInRail({ ...NO_RUN, record: { endedAtMs: 1, outcome: 'unjudged' } as RunRecord })).toBe('');
  expect(runInRail({ ...NO_RUN, record: { endedAtMs: 1, outcome: 'running' } as RunRecord })).toBe('left on');
});
