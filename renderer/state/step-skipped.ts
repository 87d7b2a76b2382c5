import type { StepTimer } from '../../core/run/step-clock.ts';

/** Less than this at a step, s, is a tap, and nothing done. */
const TAP_S = 3;

/**
 * Whether a step was tapped through: it is not ticked as if it had been done.
 *
 * @param speed of a practise run, whose own time goes faster than a finger; 1 else
 */
export function wasSkipped({ state, elapsedMs, step }: StepTimer, speed: number): boolean {
  const tapMs = Math.min(TAP_S * speed, (step.plannedS ?? Infinity) / 2) * 1000;
  return state === 'done' && elapsedMs < tapMs;
}
