import type { StepKind } from '../../core/run/step-clock.ts';
import { isLeftOn, leftOnElsewhere } from './left-on.ts';
import type { RunView } from './run-view.ts';
import { stepLeft } from './step-left.ts';

/** So short that it stands in the rail. */
const SHORT: Readonly<Record<StepKind, string>> = {
  mix: 'Mixing',
  ready: 'Getting ready',
  hang: 'Hanging',
  clean: 'Cleaning',
  'water-break': 'Water break',
  rinse: 'Rinse',
  etch: 'Etch',
  desmut: 'Desmut',
  ramp: 'Ramp',
  hold: 'Hold',
  dye: 'Dye',
  seal: 'Seal',
  check: 'Looking',
};

/** What the rail says of the run in progress: its step and the minutes left, or that it was left on; empty where none goes on. */
export function runInRail(view: RunView): string {
  const { record, timers, step, running } = view;
  if (record && isLeftOn(record)) return 'left on';
  if (!record && running.length > 0) {
    const left = leftOnElsewhere(view);
    return running.every(({ id }) => left.includes(id)) ? 'left on' : 'going on';
  }
  if (!record || record.endedAtMs !== null) return '';
  const timer = timers[step];
  if (!timer) return '';
  const short = SHORT[timer.step.kind];
  if (timer.state === 'waiting') return 'to begin';
  if (timer.state === 'paused') return 'Paused';
  const { leftMs } = stepLeft(view);
  if (leftMs === null) return short;
  return leftMs > 0 ? `${short} ${minutesText(leftMs)}` : `${short} over`;
}

/** Whole minutes; seconds in the last one, so that the rail does not tick all the time. */
function minutesText(ms: number): string {
  const minutes = Math.ceil(ms / 60_000);
  return minutes > 1 ? `${minutes} min` : `${Math.ceil(ms / 1000)} s`;
}
