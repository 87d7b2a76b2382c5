import { powerSpan } from '../../core/run/power-span.ts';
import { currentStep, runTimeMs, stepTimers, type ClockLook } from '../../core/run/step-clock.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import type { RunView } from './run-view.ts';
import type { RunWatching } from './run-watching.ts';

/** Since when the power is on by the steps, and for how long by now. */
export interface PowerNow {
  /** In the run's own time; null while it has not begun. */
  readonly onMs: number | null;
  readonly powerS: number | null;
  readonly isOn: boolean;
}

export const POWER_NEVER: PowerNow = { onMs: null, powerS: null, isOn: false };

export function powerAt({ clock }: RunRecord, look: ClockLook): PowerNow {
  const { onMs, offMs } = powerSpan(clock);
  const nowMs = runTimeMs(clock, look);
  return {
    onMs,
    powerS: onMs === null ? null : Math.max(0, ((offMs ?? nowMs) - onMs) / 1000),
    isOn: onMs !== null && offMs === null,
  };
}

/** What a window knows of the runs beside the one it shows. */
export type OtherRuns = Pick<RunView, 'running' | 'unkept' | 'elsewhere' | 'silencedHere'>;

/** What a run shows at a moment. */
export function shownRun(
  record: RunRecord,
  look: ClockLook,
  watching: Pick<RunWatching, 'readings' | 'progress'>,
): Omit<RunView, 'role' | 'kept' | keyof OtherRuns> {
  const { onMs, powerS, isOn } = powerAt(record, look);
  return {
    record,
    readings: watching.readings(),
    nowMs: runTimeMs(record.clock, look),
    timers: stepTimers(record.clock, look),
    step: currentStep(record.clock),
    powerOnMs: onMs,
    powerS,
    powerIsOn: isOn,
    progress: watching.progress(),
    events: record.events,
  };
}
