import { isSimulated } from '../../core/shop/run-record.ts';
import { beganAtMs } from '../../core/shop/run-summary.ts';
import { useApp, useRun, useServices, useSupplyDesk } from '../app/services.ts';
import { callsElsewhere, type CallElsewhere } from '../state/calls-elsewhere.ts';
import { NO_READINGS_NOW, READING_DUE, standingCalls, type RunCall } from '../state/run-calls.ts';
import type { NamedRun } from '../state/run-view.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { RunStrip } from './run-strip.tsx';
import { timeOfDay } from './spoken-time.ts';

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
  const { record } = view;
  const isOver = record?.endedAtMs !== null;
  const { recorder } = runs;
  return (
    <div
      className={`alarm-banner ${rings ? '' : isQuiet ? 'quiet' : 'gap'}`}
      role={rings || calls.some(({ kind }) => kind === 'gap' || kind === 'no-readings') ? 'alert' : 'status'}
    >
      <div className="grow">
        {calls.map((call) => (
          <CallWords
            key={call.id}
            call={call}
            simulated={record !== null && isSimulated(record)}
            whose={
              record && others.length > 0
                ? whoseText(record.name, beganAtMs(record), isOwner ? 'kept here' : 'followed here')
                : undefined
            }
          />
        ))}
        {firstOfEach(others).map((call) => (
          <CallWords
            key={call.id}
            call={call}
            simulated={call.simulated}
            whose={whoseText(
              call.runName,
              call.beganAtMs,
              call.isUnkept ? 'which no window keeps' : 'in another window',
            )}
          />
        ))}
      </div>
      {ringsHere && !isOwner ? <span>Silence it in the window that keeps the run.</span> : null}
      {rings && (isOwner || !ringsHere) ? (
        <ActionButton
          onPress={() => {
            if (ringsHere) recorder.silence(ringing(calls));
            recorder.silenceHere(ringing(others));
          }}
        >
          {ringsHere ? 'Silence' : 'Silence in this window'}
        </ActionButton>
      ) : null}
      {record === null || isOver ? (
        <WaysToOthers calls={firstOfEach(others)} it={record === null ? 'it' : 'the other one'} />
      ) : null}
      {isOwner && isOver && stage !== 'run' && others.length === 0 ? (
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
      {record !== null && isOver && calls.some(({ kind }) => kind === 'unkept')
        ? view.unkept.map(({ id, name }) => (
            <ActionButton key={id} look="small" onPress={() => void recorder.open(id)}>
              Take up “{name}”
            </ActionButton>
          ))
        : null}
      {stage === 'run' || record === null ? null : (
        <ActionButton onPress={() => store.setState({ stage: 'run' })}>Go to the run</ActionButton>
      )}
    </div>
  );
}

const ringing = (calls: readonly RunCall[]): string[] =>
  calls.filter((call) => call.rings).map(({ id }) => id);

/** Of each run the call that matters most: the rest stands in its own window. */
const firstOfEach = (calls: readonly CallElsewhere[]): CallElsewhere[] =>
  calls.filter((call, i) => calls.findIndex(({ runId }) => runId === call.runId) === i);

/** To the runs that call, for a window that has none in progress. */
function WaysToOthers({ calls, it }: { readonly calls: readonly CallElsewhere[]; readonly it: string }) {
  const { runs, store } = useServices();
  const show = (id: string): void => {
    store.setState({ stage: 'run' });
    void runs.recorder.open(id);
  };
  return calls.map(({ runId, runName, isUnkept }) => {
    const run = calls.length > 1 ? `“${runName}”` : it;
    return (
      <ActionButton key={runId} onPress={() => show(runId)}>
        {isUnkept ? `Take ${run} up here` : `Follow ${run} here`}
      </ActionButton>
    );
  });
}

interface CallWordsProps {
  readonly call: RunCall;
  readonly simulated: boolean;
  /** Which run's it is, where more than one calls. */
  readonly whose?: string | undefined;
}

function CallWords({ call, simulated, whose }: CallWordsProps) {
  const { event, message, remedy } = call;
  return (
    <div className="alarm-call">
      {whose === undefined ? null : <span>{whose}:</span>}
      <strong>{message}</strong>
      <span>{remedy}</span>
      {(event || whose !== undefined) && simulated ? <span className="soft-on-alarm">simulated</span> : null}
    </div>
  );
}

const whoseText = (name: string, beganMs: number, where: string): string =>
  `“${name}” of ${timeOfDay(beganMs)}, ${where}`;
