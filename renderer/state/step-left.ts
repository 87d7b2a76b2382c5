import type { RunView } from './run-view.ts';

/** How long the timer has stood, s: what is shown of it stands as long. */
function pausedForS({ record, nowMs }: RunView, state: string): number {
  const since = state === 'paused' ? record?.clock.marks.findLast(({ kind }) => kind === 'pause') : undefined;
  return since ? Math.max(0, (nowMs - since.atMs) / 1000) : 0;
}

/**
 * Time left of the step that runs, ms; below zero when overdue, null where it can't be told. The last step with power on
 * follows the charge once there are readings: a low stretch makes it longer.
 */
export function stepLeft(view: RunView): { readonly leftMs: number | null; readonly byCharge: boolean } {
  const timer = view.timers[view.step];
  if (!timer) return { leftMs: null, byCharge: false };
  const next = view.timers[view.step + 1]?.step.kind;
  const isLastPower = timer.step.kind === 'hold' && next !== 'hold' && next !== 'ramp';
  const { progress } = view;
  const powerS = view.powerS === null ? null : view.powerS - pausedForS(view, timer.state);
  if (!isLastPower || !progress || powerS === null) return { leftMs: timer.remainingMs, byCharge: false };
  if (progress.wantedSinceS !== null) {
    return { leftMs: -1000 * Math.max(0, powerS - progress.wantedSinceS), byCharge: true };
  }
  return { leftMs: progress.endS ? (progress.endS.valueSi - powerS) * 1000 : null, byCharge: true };
}
