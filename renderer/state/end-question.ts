import { hasNoCurrent } from '../../core/run/no-current.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { timerText } from '../../core/units/timer-text.ts';
import { newestReading, shownOff } from './newest-reading.ts';
import { isRead, isSpokenNow, powerKnown } from './run-power.ts';
import type { RunView } from './run-view.ts';

/** What is asked before a run is ended at its step. */
export interface EndQuestion {
  readonly level: 'check' | 'stop';
  readonly message: string;
  readonly remedy: string;
  /** The power may be on: somebody who looked can say that it is not. False where the supply itself shows current. */
  readonly asksForOff: boolean;
}

const KEPT = 'The run stays in the logbook as it is now.';

/** The power comes first: a run ends on the screen alone, and the supply goes on. */
export function endQuestion(view: RunView): EndQuestion {
  const { record, nowMs, powerOnMs } = view;
  const known = powerKnown(view);
  if (!record || known === 'never' || known === 'off') {
    return { level: 'check', message: 'End the run at this step?', remedy: KEPT, asksForOff: false };
  }
  const last = newestReading(view);
  if (!last || powerOnMs === null || hasNoCurrent(last, record.plan)) {
    const isOnce = shownOff(view.readings, record.plan) === 'once';
    return {
      level: 'check',
      message: `${isOnce ? 'One reading alone shows' : 'Nothing shows'} the supply off: switch it off first, then hands in.`,
      remedy: KEPT,
      asksForOff: true,
    };
  }
  const amps = formatIn('current', last.currentA, 'A', 3).text;
  const ageS = Math.max(0, (nowMs - powerOnMs) / 1000 - last.tS);
  const speaks = isRead(record) && isSpokenNow(ageS);
  return {
    level: 'stop',
    message: speaks
      ? `The supply still gives ${amps}: switch it off first.`
      : `At the last reading, ${timerText(ageS)} ago, ${amps} flowed: switch the supply off first.`,
    remedy: `Ending the run here switches nothing off. ${KEPT}`,
    asksForOff: !speaks,
  };
}
