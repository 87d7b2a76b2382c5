import { formatIn } from '../../core/units/format-quantity.ts';
import { SWITCH_OFF_NOW } from '../state/run-calls.ts';
import { isKnownOff, powerKnown } from '../state/run-power.ts';
import type { RunView } from '../state/run-view.ts';
import { leftUnlessSet, standsStill, stepLeft, STILL_WORDS } from '../state/step-left.ts';
import { clockText, stepTimeText } from './spoken-time.ts';

/** The step's time in the largest figures, with what they count beside them: what is left, what has gone by, what is over. */
export function BoardClock({ view }: { readonly view: RunView }) {
  const timer = view.timers[view.step];
  const { leftMs } = stepLeft(view);
  if (timer?.state === 'waiting' && leftMs === null) return null;
  const still = timer?.state === 'waiting' ? null : standsStill(view);
  const overdue = leftMs !== null && leftMs <= 0 && timer?.state === 'running';
  if (still) {
    return (
      <div className="board-time">
        <p className="board-clock words" aria-label="Time of this step">
          Stands still
        </p>
        <p className="board-under still">{STILL_WORDS[still]}</p>
      </div>
    );
  }
  const isGone = leftMs === null;
  const text = stepTimeText(leftMs, timer?.elapsedMs ?? 0);
  const look = overdue ? 'overdue' : isGone ? 'gone' : '';
  const word =
    timer?.state === 'waiting' ? '' : leftMs !== null && leftMs <= 0 ? 'over' : isGone ? 'gone by' : 'left';
  // Hours, a sign, a long word take more room: the figures get smaller, never cut.
  const room = text.length + (isGone ? 2 : 0);
  const size = room > 7 ? 'longest' : room > 5 ? 'long' : '';
  return (
    <div className="board-time">
      <p className={`board-clock ${size} ${look}`} aria-label="Time of this step">
        {text} {word === '' ? null : <span className="board-clock-word">{word}</span>}
      </p>
      <p className="board-under">{underClock(view, overdue)}</p>
    </div>
  );
}

function underClock(view: RunView, overdue: boolean): string {
  const { timers, step } = view;
  const timer = timers[step];
  const { leftMs, byCharge } = stepLeft(view);
  const next = timers[step + 1];
  if (timer?.state === 'waiting') return 'Not begun yet';
  if (timer?.state === 'paused') return powerKnown(view) === 'on' ? 'Paused; the supply is not' : 'Paused';
  if (leftMs === null) return 'It ends when you say so.';
  if (overdue) {
    return timer?.step.kind === 'hold'
      ? isKnownOff(view)
        ? 'Hold done; the last readings show the power off.'
        : SWITCH_OFF_NOW
      : `Go on to ${next?.step.label ?? 'the end'}.`;
  }
  const unset = leftUnlessSet(view);
  if (unset) {
    const at = (valueA: number): string =>
      `at ${formatIn('current', valueA, 'A', 3).text.replace(' ', '\u00a0')}`;
    const sooner = unset.leftMs > 0 ? clockText(unset.leftMs) : 'done';
    const type = view.record?.origin === 'typed' ? ' Type it once it is set.' : '';
    return `Counted ${at(unset.askedA)}; ${at(unset.flowedA)} it is ${sooner}.${type}`;
  }
  return byCharge ? 'By the charge that is still to come.' : '';
}
