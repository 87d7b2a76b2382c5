import { useRun, useServices } from '../app/services.ts';
import { leftOnElsewhere } from '../state/left-on.ts';
import { powerKnown } from '../state/run-power.ts';
import { stepLeft } from '../state/step-left.ts';
import { stepTitle } from '../state/run-words.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { clockText } from './spoken-time.ts';

/** At every other stage: a run goes on, and the way to it. */
export function RunStrip() {
  const { runs, store } = useServices();
  const view = useRun((state) => state);
  const { record, running, unkept } = view;
  const isOn = record !== null && record.endedAtMs === null;
  // One that nobody watches comes first.
  const other = isOn ? undefined : (unkept[0] ?? running.find(({ id }) => id !== record?.id));
  if (!isOn && !other) return null;
  const isUnkept = unkept.some(({ id }) => id === other?.id);
  const isLeft = other !== undefined && leftOnElsewhere(view).includes(other.id);
  const { leftMs } = stepLeft(view);
  const power = powerKnown(view);
  const go = (): void => {
    store.setState({ stage: 'run' });
    if (other) void runs.recorder.open(other.id);
  };
  return (
    <div className="run-strip" role="region" aria-label="Run in progress">
      <span className="grow">
        {isOn ? (
          <>
            <strong>{stepTitle(view)}</strong>
            {leftMs === null ? '' : leftMs > 0 ? `, ${clockText(leftMs)} left` : ', over'} ·{' '}
            <span className="soft">{record.name}</span>
            {power === 'may-be-on' || power === 'still-on' ? (
              <strong> · {power === 'still-on' ? 'POWER IS STILL ON' : 'POWER MAY BE ON'}</strong>
            ) : null}
          </>
        ) : (
          <>
            <strong>
              {isUnkept
                ? 'No window keeps a run:'
                : isLeft
                  ? 'A run is over, its supply left on, in another window:'
                  : 'A run goes on in another window:'}
            </strong>{' '}
            {other?.name}
          </>
        )}
      </span>
      <ActionButton look="small" onPress={go}>
        {isOn ? 'Go to the run' : isUnkept ? 'Take it up here' : 'Follow it here'}
      </ActionButton>
    </div>
  );
}
