import { expect, it } from 'vitest';
import type { StepTimer } from '../../../core/run/step-clock.ts';
import { wasSkipped } from '../../../renderer/state/step-skipped.ts';

const timer = (elapsedS: number, plannedS: number | null, state: StepTimer['state'] = 'done'): StepTimer => ({
  step: { kind: 'rinse', label: 'Rinse', plannedS },
  state,
  elapsedMs: elapsedS * 1000,
  remainingMs: null,
});

it('a step left within three seconds is skipped, one that had its time or still runs is not', () => {
  expect(wasSkipped(timer(0.4, 60), 1)).toBe(true);
  expect(wasSkipped(timer(0.4, null), 1)).toBe(true);
  expect(wasSkipped(timer(4, 60), 1)).toBe(false);
  expect(wasSkipped(timer(0.4, 60, 'running'), 1)).toBe(false);
  expect(wasSkipped(timer(0, 60, 'waiting'), 1)).toBe(false);
});

it('in a practise run a tap takes longer by its own time, and half of what was planned is no tap', () => {
  expect(wasSkipped(timer(25, 300), 60)).toBe(true);
  expect(wasSkipped(timer(40, 60), 600)).toBe(false);
  expect(wasSkipped(timer(20, 60), 600)).toBe(true);
});
