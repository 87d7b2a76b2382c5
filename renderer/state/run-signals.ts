import type { UnitSystem } from '../../core/units/unit-table.ts';
import { callsElsewhere } from './calls-elsewhere.ts';
import { standingCalls, type RunCall } from './run-calls.ts';
import { RAMP_OVER } from './run-edits.ts';
import type { RunRecorder, RunView } from './run-view.ts';
import type { Sounds } from './sounds.ts';
import { wordsNow } from './run-words.ts';
import { stepLeft } from './step-left.ts';
import { GAP_WORDS, type SupplyDesk } from './supply-desk.ts';

interface RunSignals {
  readonly recorder: Pick<RunRecorder, 'view'>;
  readonly desk: Pick<SupplyDesk, 'state'>;
  readonly sounds: Sounds;
  readonly tell: (title: string, body: string) => void;
  readonly system: () => UnitSystem;
}

/** A hold or step that was over and has more than this left again is called anew when it is over. */
const AGAIN_MS = 15_000;

/** Turns what happens in the run into sounds and notifications. */
export function followRunSignals({ recorder, desk, sounds, tell, system }: RunSignals): void {
  let runId: string | null = null;
  let isRinging = false;
  let saidEvents = 0;
  let saidLog = 0;
  const said = new Set<string>();
  const saidOfOthers = new Set<string>();

  /** Each call once. The watch's own checks and the gap of a supply have their ways below. */
  const hearCall = ({ id, kind, rings, message, remedy }: RunCall): void => {
    if (said.has(id)) return;
    if (kind === 'gap' || (kind === 'event' && !rings)) return;
    said.add(id);
    if (kind === 'step-over') sounds.chime();
    else if (!rings) sounds.knock();
    tell(message, remedy);
  };

  const hear = (view: RunView): void => {
    const { record, events } = view;
    if (record?.id !== runId) {
      runId = record?.id ?? null;
      saidEvents = events.length;
      saidLog = record?.log.length ?? 0;
      said.clear();
    }
    const calls = standingCalls(view, desk.state.getState(), system());
    const others = callsElsewhere(view, system());
    const rings = [...calls, ...others].some((call) => call.rings);
    if (rings !== isRinging) {
      isRinging = rings;
      sounds.alarm(rings);
    }
    calls.forEach(hearCall);
    // The window that keeps a run tells of it; of one that none keeps this one must.
    for (const { id, isUnkept, runName, message, remedy } of others) {
      if (!isUnkept || saidOfOthers.has(id)) continue;
      saidOfOthers.add(id);
      tell(`“${runName}”: ${message}`, remedy);
    }
    const { leftMs } = stepLeft(view);
    if (leftMs !== null && leftMs > AGAIN_MS) {
      for (const id of said) if (id === 'hold-done' || id === `step-over ${view.step}`) said.delete(id);
    }
    const isGone = calls.some(({ kind }) => kind === 'no-current');
    const checks = events
      .slice(saidEvents)
      .filter(({ level, kind }) => level === 'check' && !(isGone && kind === 'supply-off'));
    saidEvents = Math.max(saidEvents, events.length);
    if (checks.length > 0 && record?.endedAtMs === null) {
      const { message, remedy } = wordsNow(checks.at(-1)!, view, system());
      sounds.knock();
      tell(message, remedy);
    }
    const log = record?.log ?? [];
    const moved = log.slice(saidLog).find(({ kind }) => kind === RAMP_OVER);
    saidLog = log.length;
    if (moved) {
      sounds.chime();
      tell(moved.text, 'Is the current there? If not, go back to the ramp.');
    }
  };
  recorder.view.subscribe(hear);

  desk.state.subscribe((now, before) => {
    if (now.gap && !before.gap) {
      sounds.knock();
      tell('No readings from the supply.', GAP_WORDS[now.gap.why]);
    }
  });
}
