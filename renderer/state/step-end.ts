import type { StepTimer } from '../../core/run/step-clock.ts';
import type { RunView } from './run-view.ts';

/** Less than this at a step, s, is a tap, and nothing done. */
const TAP_S = 3;
/** Of the planned time: a step left by no more before its time had it. */
const NEARLY = 0.03;

/** How a step that is over was left: tapped through, before its time, or done. */
export type StepEnd = 'skipped' | 'early' | 'done';

/**
 * Null while it waits or runs. Neither what was tapped through nor what was left before its time is ticked as if it had been done.
 *
 * @param speed of a practise run, whose own time goes faster than a finger: what takes as long as it takes is done there with a tap; null else
 * @param hasFilm the wanted film is there: a hold has had what it wanted, however long that took
 */
export function stepEnd(
  { state, elapsedMs, step }: StepTimer,
  speed: number | null,
  hasFilm: boolean,
): StepEnd | null {
  if (state !== 'done') return null;
  const plannedS = step.plannedS ?? 0;
  if (speed !== null && step.plannedS === null) return 'done';
  const tapMs = Math.min(TAP_S * (speed ?? 1), step.plannedS === null ? Infinity : plannedS / 2) * 1000;
  if (elapsedMs < tapMs) return 'skipped';
  const hasTime = elapsedMs >= 1000 * plannedS * (1 - NEARLY);
  return hasTime || (step.kind === 'hold' && hasFilm) ? 'done' : 'early';
}

/** The same of a run's step. */
export function stepEndOf({ timers, record, progress }: RunView, index: number): StepEnd | null {
  const timer = timers[index];
  const hasFilm = progress !== null && progress.wantedSinceS !== null;
  return timer ? stepEnd(timer, record?.practise?.speed ?? null, hasFilm) : null;
}
