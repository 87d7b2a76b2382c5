import { standingMarks, type RunStep, type StepClock } from './step-clock.ts';

/** When current was to flow, in the run's own time; null while it has not begun or not ended. */
export interface PowerSpan {
  readonly onMs: number | null;
  readonly offMs: number | null;
}

/** Whether current is to flow in a step. */
export function hasPowerNow(step: Pick<RunStep, 'kind'> | undefined): boolean {
  return step?.kind === 'ramp' || step?.kind === 'hold';
}

/** From the first entry into a ramp or hold to the moment the steps leave it for good, or the run's end. */
export function powerSpan(clock: StepClock): PowerSpan {
  const isPower = (index: number): boolean => hasPowerNow(clock.steps[index]);
  const last = clock.steps.findLastIndex((_, index) => isPower(index));
  let onMs: number | null = null;
  let index = 0;
  for (const mark of standingMarks(clock)) {
    if (mark.kind === 'pause' || mark.kind === 'resume') continue;
    if (mark.kind === 'next') index++;
    if (mark.kind === 'end' || index > last) return { onMs, offMs: onMs === null ? null : mark.atMs };
    if (onMs === null && isPower(index)) onMs = mark.atMs;
  }
  return { onMs, offMs: null };
}

/**
 * Whether the steps have led into one with current, ways back included: what was switched on there may be on still.
 *
 * @param fromMark marks before this one do not count; where the run stands at it does not either
 */
export function enteredPower(clock: Pick<StepClock, 'marks' | 'steps'>, fromMark = 0): boolean {
  return entered(clock, fromMark, hasPowerNow);
}

/** Whether the steps have led into a hold, ways back included: what was on there may be on still. */
export function enteredHold(clock: Pick<StepClock, 'marks' | 'steps'>): boolean {
  return entered(clock, 0, (step) => step?.kind === 'hold');
}

function entered(
  { marks, steps }: Pick<StepClock, 'marks' | 'steps'>,
  fromMark: number,
  isOne: (step: RunStep | undefined) => boolean,
): boolean {
  let index = 0;
  return marks.some(({ kind }, place) => {
    if (kind === 'next') index++;
    else if (kind === 'back') index = Math.max(0, index - 1);
    return kind !== 'note' && place >= fromMark && isOne(steps[index]);
  });
}
