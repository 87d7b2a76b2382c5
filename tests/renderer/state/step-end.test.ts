import { expect, it } from 'vitest';
import type { StepTimer } from '../../../core/run/step-clock.ts';
import { stepEnd } from '../../../renderer/state/step-end.ts';

const timer = (elapsedS: number, plannedS: number | null, state: StepTimer['state'] = 'done'): StepTimer => ({
  step: { kind: 'rinse', label: 'Rinse', plannedS },
  state,
  elapsedMs: elapsedS * 1000,
  remainingMs: null,
});

it('a step left within three seconds is skipped, one that had its time or still runs is not', () => {
  expect(stepEnd(timer(0.4, 60), null, false)).toBe('skipped');
  expect(stepEnd(timer(0.4, null), null, false)).toBe('skipped');
  expect(stepEnd(timer(4, null), null, false)).toBe('done');
  expect(stepEnd(timer(60, 60), null, false)).toBe('done');
  expect(stepEnd(timer(0.4, 60, 'running'), null, false)).toBeNull();
  expect(stepEnd(timer(0, 60, 'waiting'), null, false)).toBeNull();
  // None was wanted.
  expect(stepEnd(timer(0, 0), null, false)).toBe('done');
});

it('in a practise run a tap takes longer by its own time, and half of what was planned is no tap', () => {
  expect(stepEnd(timer(25, 300), 60, false)).toBe('skipped');
  expect(stepEnd(timer(40, 60), 600, false)).toBe('early');
  expect(stepEnd(timer(20, 60), 600, false)).toBe('skipped');
  // Hanging takes as long as it takes: nobody hangs anything there.
  for (const speed of [1, 60, 600]) expect(stepEnd(timer(0.4, null), speed, false)).toBe('done');
});

it('a step left before its time is left early; a hold is not once its film is there', () => {
  expect(stepEnd(timer(40, 60), null, false)).toBe('early');
  expect(stepEnd(timer(40, 60), null, true)).toBe('early');
  // A second before the minute is over somebody has counted on their own.
  expect(stepEnd(timer(59, 60), null, false)).toBe('done');
  const hold = { ...timer(2400, 2700), step: { kind: 'hold', label: 'Hold', plannedS: 2700 } } as const;
  expect(stepEnd(hold, null, false)).toBe('early');
  expect(stepEnd(hold, null, true)).toBe('done');
});
