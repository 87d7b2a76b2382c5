import { isCurrentGone } from '../../core/run/no-current.ts';
import { liveSpans } from '../../core/run/live-spans.ts';
import type { RunView } from './run-view.ts';

/** How long the timer has stood, s: what is shown of it stands as long. */
function pausedForS({ record, nowMs }: RunView, state: string): number {
  const since = state === 'paused' ? record?.clock.marks.findLast(({ kind }) => kind === 'pause') : undefined;
  return since ? Math.max(0, (nowMs - since.atMs) / 1000) : 0;
}

/** With less of the area in contact the film has no end worth a word. */
const NO_CONTACT_SHARE = 0.02;

/** Why the film of the last step with power has stopped growing before it is done. */
export type Still = 'no-current' | 'short' | 'no-contact' | 'little-current';

/** In so few words that they stand on the board. */
export const STILL_WORDS: Readonly<Record<Still, string>> = {
  'no-current': 'no current',
  short: 'a short: its current makes no film',
  'no-contact': 'all contact is lost',
  'little-current': 'too little current to finish the film',
};

/** Whether the step that runs is the last with power on. */
function isLastPower({ timers, step }: RunView): boolean {
  const next = timers[step + 1]?.step.kind;
  return timers[step]?.step.kind === 'hold' && next !== 'hold' && next !== 'ramp';
}

/** The film is not done and nothing brings it nearer: no end can be told, and no time runs towards it. Null while it grows. */
export function standsStill(view: RunView): Still | null {
  const { record, progress } = view;
  if (!record || !progress || progress.wantedSinceS !== null || !isLastPower(view)) return null;
  if (isCurrentGone(view.readings, record.origin, record.plan)) return 'no-current';
  if (progress.endS) return null;
  const span = liveSpans(view.events).at(-1);
  return span?.short ? 'short' : span && span.likely < NO_CONTACT_SHARE ? 'no-contact' : 'little-current';
}

/**
 * Time left of the step that runs, ms; below zero when overdue, null where it can't be told. The last step with power on
 * follows the charge once there are readings: a low stretch makes it longer.
 */
export function stepLeft(view: RunView): { readonly leftMs: number | null; readonly byCharge: boolean } {
  const timer = view.timers[view.step];
  if (!timer) return { leftMs: null, byCharge: false };
  const { progress } = view;
  const powerS = view.powerS === null ? null : view.powerS - pausedForS(view, timer.state);
  if (!isLastPower(view) || !progress || powerS === null)
    return { leftMs: timer.remainingMs, byCharge: false };
  if (progress.wantedSinceS !== null) {
    return { leftMs: -1000 * Math.max(0, powerS - progress.wantedSinceS), byCharge: true };
  }
  if (standsStill(view) !== null) return { leftMs: null, byCharge: true };
  return { leftMs: progress.endS ? (progress.endS.valueSi - powerS) * 1000 : null, byCharge: true };
}

/** While nobody has read what came of a current that was told to be set: that, what flowed last, and the time left at it. */
export function leftUnlessSet(
  view: RunView,
): { readonly askedA: number; readonly flowedA: number; readonly leftMs: number } | null {
  const { progress } = view;
  const { leftMs, byCharge } = stepLeft(view);
  const now = progress?.currentNow ?? null;
  const lastS = view.readings.tS.at(-1);
  if (!byCharge || leftMs === null || !progress?.endS || lastS === undefined) return null;
  if (!now || now.insteadOfA === null) return null;
  const fromThenS = (progress.endS.valueSi - lastS) * (now.levelA / now.insteadOfA);
  const soonerS = progress.endS.valueSi - lastS - fromThenS;
  return { askedA: now.levelA, flowedA: now.insteadOfA, leftMs: leftMs - 1000 * soonerS };
}
