import { isSimulated } from '../../core/shop/run-record.ts';
import { useApp, useRun, useServices, useSupplyDesk } from '../app/services.ts';
import { callsElsewhere, type CallElsewhere } from '../state/calls-elsewhere.ts';
import { NO_READINGS_NOW, READING_DUE, standingCalls, type RunCall } from '../state/run-calls.ts';
import { keepsRun, type NamedRun, type RunView } from '../state/run-view.ts';
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
  const others = callsElsewhere(view, system);
  // What calls itself need not be told of too.
  const isSilent = ({ id }: NamedRun): boolean => others.every(({ runId }) => runId !== id);
  // The board itself says that a step is over.
  const calls = standingCalls(view, desk, system).filter(
    ({ kind }) =>
      (kind !== 'step-over' || stage !== 'run') && (kind !== 'unkept' || view.unkept.some(isSilent)),
  );
  const all = [...calls, ...others];
  if (all.length === 0) return stage === 'run' ? null : <RunStrip />;
  const rings = all.some((call) => call.rings);
  const ringsHere = calls.some((call) => call.rings);
  const isQuiet = all.every(({ kind }) => QUIET_ONCE_SILENCED.includes(kind));
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
        {others.map((call) => (
          <CallWords key={call.id} call={call} simulated={call.simulated} of={call} />
        ))}
      </div>
      {ringsHere && !isOwner ? <span>Silence it in the window that keeps the run.</span> : null}
      {ringsHere && isOwner ? (
        <ActionButton
          onPress={() => recorder.silence(calls.filter((call) => call.rings).map(({ id }) => id))}
        >
          Silence
        </ActionButton>
      ) : null}
      {others.length > 0 ? <OtherRunButtons calls={others} view={view} /> : null}
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
      {stage === 'run' || view.record === null ? null : (
        <ActionButton onPress={() => store.setState({ stage: 'run' })}>Go to the run</ActionButton>
      )}
    </div>
  );
}

/** Silence in this window; the way to a run of which one calls, where this window does not keep one of its own. */
function OtherRunButtons({
  calls,
  view,
}: {
  readonly calls: readonly CallElsewhere[];
  readonly view: RunView;
}) {
  const { runs, store } = useServices();
  const ringing = calls.filter((call) => call.rings);
  const byRun = new Map(calls.map((call) => [call.runId, call]));
  const isFree = !keepsRun(view);
  const show = (id: string): void => {
    store.setState({ stage: 'run' });
    void runs.recorder.open(id);
  };
  return (
    <>
      {ringing.length > 0 ? (
        <ActionButton onPress={() => runs.recorder.silenceHere(ringing.map(({ id }) => id))}>
          Silence in this window
        </ActionButton>
      ) : null}
      {isFree
        ? [...byRun.values()].map(({ runId, runName, isUnkept }) => (
            <ActionButton key={runId} onPress={() => show(runId)}>
              {isUnkept ? 'Take up' : 'Follow'} “{runName}” here
            </ActionButton>
          ))
        : null}
    </>
  );
}

interface CallWordsProps {
  readonly call: RunCall;
  readonly simulated: boolean;
  /** The run it is of, where this window does not show that. */
  readonly of?: CallElsewhere;
}

function CallWords({ call, simulated, of }: CallWordsProps) {
  const { event, message, remedy } = call;
  return (
    <div className="alarm-call">
      {of ? (
        <span>
          “{of.runName}”, {of.isUnkept ? 'which no window keeps' : 'in another window'}:
        </span>
      ) : null}
      <strong>{message}</strong>
      <span>{remedy}</span>
      {(event || of) && simulated ? <span className="soft-on-alarm">simulated</span> : null}
    </div>
  );
}
