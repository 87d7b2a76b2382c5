import type { RunRecorder, RunView } from './run-recorder.ts';
import type { Sounds } from './sounds.ts';
import type { SupplyDesk } from './supply-desk.ts';
import { GAP_WORDS } from './supply-desk.ts';
import { stepLeft } from './step-left.ts';

/** Turns what happens in the run into sounds and notifications. */
export function followRunSignals(
  recorder: Pick<RunRecorder, 'view'>,
  desk: Pick<SupplyDesk, 'state'>,
  sounds: Sounds,
  tell: (title: string, body: string) => void,
): void {
  let runId: string | null = null;
  let ringing = '';
  let saidEvents = 0;
  let overdueStep = -1;

  const hear = (view: RunView): void => {
    const { record, alarm, events, step, timers } = view;
    if (record?.id !== runId) {
      runId = record?.id ?? null;
      saidEvents = events.length;
      overdueStep = -1;
    }
    const key = alarm ? `${runId} ${alarm.kind} ${alarm.atS}` : '';
    if (key !== ringing) {
      ringing = key;
      sounds.alarm(alarm !== null);
      if (alarm) tell(alarm.message, alarm.remedy);
    }
    const fresh = events.slice(saidEvents).filter(({ level }) => level === 'check');
    saidEvents = Math.max(saidEvents, events.length);
    if (fresh.length > 0 && record?.endedAtMs === null) {
      sounds.knock();
      tell(fresh.at(-1)!.message, fresh.at(-1)!.remedy);
    }
    const { leftMs } = stepLeft(view);
    if (timers[step]?.state === 'running' && leftMs !== null && leftMs <= 0 && overdueStep !== step) {
      overdueStep = step;
      sounds.chime();
      tell(
        `${timers[step].step.label} is over.`,
        `Next: ${timers[step + 1]?.step.label ?? 'the end of the run'}.`,
      );
    }
    // A hold that is extended counts again.
    if (overdueStep === step && leftMs !== null && leftMs > 15_000) overdueStep = -1;
  };
  recorder.view.subscribe(hear);

  desk.state.subscribe((now, before) => {
    if (now.gap && !before.gap) {
      sounds.knock();
      tell('No readings from the supply.', GAP_WORDS[now.gap.why]);
    }
  });
}
