import type { StepClock } from './step-clock.ts';

/** When current was to flow, in the run's own time; null while it has not begun or not ended. */
export interface PowerSpan {
  readonly onMs: number | null;
  readonly offMs: number | null;
}

/** From the first entry into a ramp or hold to the moment the steps leave it for good, or the run's end. */
export function powerSpan(clock: StepClock): PowerSpan {
  const isPower = (index: number): boolean => {
    const kind = clock.steps[index]?.kind;
    return kind === 'ramp' || kind === 'hold';
  };
  const last = clock.steps.findLastIndex((_, index) => isPower(index));
  let onMs: number | null = null;
  let index = 0;
  for (const mark of clock.marks) {
    if (mark.kind === 'note' || mark.kind === 'pause' || mark.kind === 'resume') continue;
    if (mark.kind === 'next') index++;
    if (mark.kind === 'end' || index > last) return { onMs, offMs: onMs === null ? null : mark.atMs };
    if (onMs === null && isPower(index)) onMs = mark.atMs;
  }
  return { onMs, offMs: null };
}
