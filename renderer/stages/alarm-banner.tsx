import { isSimulated } from '../../core/shop/run-record.ts';
import { useApp, useRun, useServices, useSupplyDesk } from '../app/services.ts';
import { NO_READINGS_NOW, READING_DUE, standingCalls, type RunCall } from '../state/run-calls.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { RunStrip } from './run-strip.tsx';

/** Silenced, these stand on without the colour of a gap. */
const QUIET_ONCE_SILENCED: readonly RunCall['kind'][] = ['event', 'still-on', 'no-current', 'hold-done'];

/** Over everything, at every stage: what rings until somebody silences it, and what stands until it is dealt with. */
export function AlarmBanner() {
  const { runs, store } = useServices();
  const view = useRun((state) => state);
  const desk = useSupplyDesk((state) => state);
  const stage = useApp((state) => state.stage);
  const system = useApp((state) => state.unitSystem);
  // The board itself says that a step is over.
  const calls = standingCalls(view, desk, system).filter(
    ({ kind }) => kind !== 'step-over' || stage !== 'run',
  );
  if (calls.length === 0) return stage === 'run' ? null : <RunStrip />;
  const rings = calls.some((call) => call.rings);
  const isQuiet = calls.every(({ kind }) => QUIET_ONCE_SILENCED.includes(kind));
  const isOwner = view.role === 'owner';
  const isOver = view.record?.endedAtMs !== null;
  const { recorder } = runs;
  return (
    <div
      className={`alarm-banner ${rings ? '' : isQuiet ? 'quiet' : 'gap'}`}
      role={rings || calls.some(({ kind }) => kind === 'gap' || kind === 'no-readings') ? 'alert' : 'status'}
    >
      <div className="grow">
        {calls.map((call) => (
          <CallWords key={call.id} call={call} simulated={view.record !== null && isSimulated(view.record)} />
        ))}
      </div>
      {rings && !isOwner ? <span>Silence it in the window that keeps the run.</span> : null}
      {rings && isOwner ? (
        <ActionButton
          onPress={() => recorder.silence(calls.filter((call) => call.rings).map(({ id }) => id))}
        >
          Silence
        </ActionButton>
      ) : null}
      {isOwner && isOver && stage !== 'run' ? (
        <ActionButton onPress={() => recorder.sayOff()}>I looked: the supply is off</ActionButton>
      ) : null}
      {isOwner && !isOver && calls.some(({ kind, rings: loud }) => kind === 'event' && !loud) ? (
        <ActionButton onPress={() => recorder.dealWith()}>It is dealt with</ActionButton>
      ) : null}
      {isOwner && calls.some(({ kind }) => kind === 'no-readings') ? (
        <ActionButton look="small" onPress={() => recorder.silence([NO_READINGS_NOW])}>
          I type them from here
        </ActionButton>
      ) : null}
      {isOwner && calls.some(({ kind }) => kind === 'reading-due') ? (
        <ActionButton look="small" onPress={() => recorder.silence([READING_DUE])}>
          Don’t ask in this run
        </ActionButton>
      ) : null}
      {isOver && calls.some(({ kind }) => kind === 'unkept')
        ? view.unkept.map(({ id, name }) => (
            <ActionButton key={id} look="small" onPress={() => void recorder.open(id)}>
              Take up “{name}”
            </ActionButton>
          ))
        : null}
      {stage === 'run' ? null : (
        <ActionButton onPress={() => store.setState({ stage: 'run' })}>Go to the run</ActionButton>
      )}
    </div>
  );
}

function CallWords({ call, simulated }: { readonly call: RunCall; readonly simulated: boolean }) {
  const { event, message, remedy } = call;
  return (
    <div className="alarm-call">
      <strong>{message}</strong>
      <span>{remedy}</span>
      {event && simulated ? <span className="soft-on-alarm">simulated</span> : null}
    </div>
  );
}
