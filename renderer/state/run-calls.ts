import { readingDueS } from '../../core/run/reading-times.ts';
import type { SaidEvent } from '../../core/shop/run-record.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { noCurrentCall, stillOnCall } from './current-calls.ts';
import { isKnownOff } from './run-power.ts';
import type { RunView } from './run-view.ts';
import { standingAlarm, wordsNow } from './run-words.ts';
import { stepLeft } from './step-left.ts';
import { GAP_REMEDIES, GAP_WORDS, type SupplyDeskState } from './supply-desk.ts';

/** Something that stands until it is dealt with: what the watch said, a hold that is done, readings that stopped. */
export interface RunCall {
  /** Names it; a call silenced is remembered by this. */
  readonly id: string;
  readonly kind:
    | 'event'
    | 'still-on'
    | 'no-current'
    | 'hold-done'
    | 'step-over'
    | 'gap'
    | 'no-readings'
    | 'read-again'
    | 'reading-due'
    | 'unkept';
  /** Rings until somebody silences it. */
  readonly rings: boolean;
  readonly message: string;
  readonly remedy: string;
  /** What the watch said, where it is that. */
  readonly event: SaidEvent | null;
}

export const HOLD_DONE = 'hold-done';
/** The hold is done and nothing shows the supply off. */
export const SWITCH_OFF_NOW = 'Hold done: switch the supply off, then hands in.';
export const READING_DUE = 'reading-due';
export const NO_READINGS_NOW = 'no-readings';
/** A supply that was read and is silent for so long has stopped. */
const STOPPED_S = 60;
/** So long may it take to set the current and type it. */
const SET_S = 60;

/** All that stands now: power that should be off, then what rings, then the rest. */
export function standingCalls(
  view: RunView,
  desk: Pick<SupplyDeskState, 'status' | 'gap'>,
  system: UnitSystem,
): RunCall[] {
  const { record } = view;
  if (!record) return [];
  if (record.endedAtMs !== null) return callsAfterEnd(view, system);
  const over = stepCall(view);
  const reading = readingsCall(view, desk, system);
  // A hold that is done wants the switch, not a reading.
  const isAsked = reading?.kind !== 'reading-due' || over?.kind !== 'hold-done';
  const said = eventCall(view, system);
  // That all contact is lost says the same.
  const gone = said?.event?.kind === 'contact-total' ? null : noCurrentCall(view, system);
  return [stillOnCall(view, system), said, gone, over, isAsked ? reading : null, unkeptCall(view)]
    .filter((call) => call !== null)
    .sort((a, b) => urgency(b) - urgency(a));
}

/** Another run that goes on, or was left on, and that nobody would hear of. */
function unkeptCall({ record, unkept }: RunView): RunCall | null {
  const [first, ...more] = unkept;
  if (!first) return null;
  const names = unkept.map(({ name }) => `“${name}”`).join(', ');
  return {
    id: `unkept ${unkept.map(({ id }) => id).join(' ')}`,
    kind: 'unkept',
    rings: false,
    message:
      more.length > 0
        ? `${names} go on too, or were left on, and no window keeps them.`
        : `${names} goes on too, or was left on, and no window keeps it.`,
    remedy:
      record?.endedAtMs === null
        ? 'Look at its supply; open another window for it, so that this run stays watched.'
        : 'Look at its supply, then take it up here or in another window.',
    event: null,
  };
}

/** Of a run that is over nothing stands but a current that flows on, and the alarm it was ended under. */
function callsAfterEnd(view: RunView, system: UnitSystem): RunCall[] {
  const on = stillOnCall(view, system);
  const stands = on === null ? [] : [on, eventCall(view, system)];
  return [...stands, unkeptCall(view)].filter((call) => call !== null);
}

const urgency = ({ kind, rings }: RunCall): number => {
  if (kind === 'still-on' || kind === 'hold-done') return 3;
  // Without current nothing else can be done.
  return rings && kind === 'no-current' ? 2 : Number(rings);
};

function eventCall(view: RunView, system: UnitSystem): RunCall | null {
  const alarm = standingAlarm(view);
  if (!alarm) return null;
  const { event, rings } = alarm;
  return { id: `${event.kind} ${event.atS}`, kind: 'event', rings, event, ...wordsNow(event, view, system) };
}

/** The step that runs has had its time. */
function stepCall(view: RunView): RunCall | null {
  const { record, timers, step } = view;
  const timer = timers[step];
  const { leftMs } = stepLeft(view);
  if (!record || timer?.state !== 'running' || leftMs === null || leftMs > 0) return null;
  const { kind, label } = timer.step;
  const next = timers[step + 1]?.step;
  if (kind === 'hold' && isKnownOff(view)) {
    return {
      id: HOLD_DONE,
      kind: 'hold-done',
      rings: false,
      message: 'Hold done, and the last readings show the power off.',
      remedy: `Look at the switch, then go on to ${next?.label ?? 'the end'}.`,
      event: null,
    };
  }
  if (kind === 'hold') {
    return {
      id: HOLD_DONE,
      kind: 'hold-done',
      rings: !record.silencedCalls.includes(HOLD_DONE),
      message: SWITCH_OFF_NOW,
      remedy: `Then go on to ${next?.label ?? 'the end'}.`,
      event: null,
    };
  }
  return {
    id: `step-over ${step}`,
    kind: 'step-over',
    rings: false,
    message: `${label} is over.`,
    remedy: `Next: ${next?.label ?? 'the end of the run'}.`,
    event: null,
  };
}

/** With the power on somebody, or a supply, must read. */
function readingsCall(
  view: RunView,
  desk: Pick<SupplyDeskState, 'status' | 'gap'>,
  system: UnitSystem,
): RunCall | null {
  const { record, readings, powerS, powerIsOn, role } = view;
  if (!record || !powerIsOn || powerS === null || record.practise !== null) return null;
  const call = { rings: false, event: null } as const;
  if (desk.gap) {
    const { why, sinceS } = desk.gap;
    const message = `No readings: ${GAP_WORDS[why]}`;
    const remedy = `${GAP_REMEDIES[why]} The gap widens the film’s range.`;
    return { ...call, id: `gap ${sinceS}`, kind: 'gap', message, remedy };
  }
  const lastS = readings.tS.at(-1) ?? null;
  const isRead = desk.status === 'live' || desk.status === 'connecting' || desk.status === 'choosing';
  if (isRead) return null;
  const typesInstead = record.silencedCalls.includes(NO_READINGS_NOW);
  if (record.origin === 'supply' && role === 'owner' && !typesInstead) {
    if (lastS !== null && powerS - lastS < STOPPED_S) return null;
    return {
      ...call,
      id: `no-readings ${lastS}`,
      kind: 'no-readings',
      message: 'No readings: the supply is not being read any more.',
      remedy:
        'Connect it again at the run, or type volts and amps; a lost contact can not be seen meanwhile.',
    };
  }
  const doubted = view.events.at(-1);
  if (doubted?.kind === 'reading-doubtful' && doubted.atS === lastS)
    return { ...call, id: `read-again ${lastS}`, kind: 'read-again', ...wordsNow(doubted, view, system) };
  if (record.silencedCalls.includes(READING_DUE)) return null;
  // Until what came of a current told to be set is read, nobody knows when the hold is done.
  const isUnread = (view.progress?.currentNow?.insteadOfA ?? null) !== null;
  if (isUnread && lastS !== null && powerS - lastS >= SET_S) {
    return {
      ...call,
      id: `${READING_DUE} ${lastS + SET_S}`,
      kind: 'reading-due',
      message: 'Is the current set down? Type volts and amps.',
      remedy: 'The time left is counted as if it were.',
    };
  }
  const dueS = readingDueS(record.plan.rampS, record.plan.holdS, lastS, powerS);
  if (dueS === null) return null;
  return {
    ...call,
    id: `${READING_DUE} ${dueS}`,
    kind: 'reading-due',
    message: 'A reading is due: volts, amps and the bath.',
    remedy: 'Read the supply and type them at the run: a lost contact is seen in the readings alone.',
  };
}
