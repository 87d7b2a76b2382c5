import type { RunView } from './run-view.ts';

/**
 * Time left of the step that runs, ms; below zero when overdue, null where it can't be told. The last step with power on
 * follows the charge once there are readings: a low stretch makes it longer.
 */
export function stepLeft(view: RunView): { readonly leftMs: number | null; readonly byCharge: boolean } {
  const timer = view.timers[view.step];
  if (!timer) return { leftMs: null, byCharge: false };
  const next = view.timers[view.step + 1]?.step.kind;
  const isLastPower = timer.step.kind === 'hold' && next !== 'hold' && next !== 'ramp';
  const { progress, powerS } = view;
  if (!isLastPower || !progress || powerS === null) return { leftMs: timer.remainingMs, byCharge: false };
  if (progress.done) return { leftMs: -1000 * secondsOver(view, powerS), byCharge: true };
  return { leftMs: progress.endS ? (progress.endS.valueSi - powerS) * 1000 : null, byCharge: true };
}

/** For how long the film has been thicker than wanted, at the rate it grows now. */
function secondsOver({ record, readings, progress, events }: RunView, powerS: number): number {
  if (!record || !progress) return 0;
  const { plan } = record;
  const last = readings.tS.length - 1;
  const left = events.findLast(({ kind }) => kind.startsWith('contact'))?.likelyAreaLeft ?? 1;
  const growthMPerS =
    (readings.currentA[last] ?? 0) / (plan.chargePerVolumeCPerM3 * plan.areaM2 * Math.max(left, 0.02));
  const surplusM = progress.thicknessM.valueSi - plan.thicknessM;
  const sinceLastS = Math.max(0, powerS - (readings.tS[last] ?? powerS));
  return growthMPerS > 0 ? Math.min(powerS, surplusM / growthMPerS + sinceLastS) : 0;
}
