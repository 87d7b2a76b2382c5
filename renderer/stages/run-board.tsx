import { useEffect } from 'react';
import type { StepTimer } from '../../core/run/step-clock.ts';
import { isSimulated } from '../../core/shop/run-record.ts';
import { NoticeStack } from '../app/notice-stack.tsx';
import { useRun, useServices } from '../app/services.ts';
import type { RunView } from '../state/run-view.ts';
import { cautionsNow, powerKnown } from '../state/run-power.ts';
import { stepTitle } from '../state/run-words.ts';
import { stepEndOf, type StepEnd } from '../state/step-end.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { TracePlot } from '../widgets/trace-plot.tsx';
import { BoardClock } from './run-board-clock.tsx';
import { RunBoardButtons } from './run-board-buttons.tsx';
import { RunBoardFigures, RunBoardSupply } from './run-board-figures.tsx';
import { RunMessages } from './run-messages.tsx';
import { clockText } from './spoken-time.ts';

/** The run, to be read from two metres: the step, its time, what can hurt there, what the supply shows, the film so far. */
export function RunBoard({
  full,
  onFull,
}: {
  readonly full: boolean;
  readonly onFull: (full: boolean) => void;
}) {
  const view = useRun((state) => state);
  const { record, timers, step, powerIsOn, powerOnMs } = view;
  useEffect(() => {
    if (!full) return;
    const onKey = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') onFull(false);
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [full, onFull]);
  if (!record) return null;
  const timer = timers[step];
  const over = record.endedAtMs !== null;
  // With the power on the numbers come first, else what is to be done.
  const detail = !over && timer?.step.detail ? <p className="board-detail">{timer.step.detail}</p> : null;
  return (
    <section className={`run-board ${full ? 'full' : ''}`} aria-label="Run board">
      {isSimulated(record) ? (
        <p className="practise-ribbon">Practise: simulated supply, no real run</p>
      ) : null}
      <header className="board-head">
        <div className="grow">
          <p className="board-step-count">
            {over ? 'The run is over' : `Step ${step + 1} of ${timers.length} · ${record.name}`}
          </p>
          <h2 className="board-step">{over ? record.name : stepTitle(view)}</h2>
        </div>
        <ActionButton look="small" onPress={() => onFull(!full)}>
          {full ? 'Back to the window' : 'Fill the window'}
        </ActionButton>
      </header>
      <StepCautions cautions={cautionsNow(view)} />
      {full ? <NoticeStack /> : null}
      <SupplyIsOff view={view} />
      {over ? null : (
        <>
          <div className="board-now">
            <BoardClock view={view} />
            <RunBoardSupply view={view} />
          </div>
          <RunBoardButtons view={view} />
        </>
      )}
      {powerIsOn ? null : detail}
      {powerOnMs === null ? null : <RunBoardFigures view={view} />}
      {powerIsOn ? detail : null}
      {full ? <RunMessages /> : null}
      <LiveTrace view={view} />
      <StepList view={view} />
    </section>
  );
}

function StepCautions({ cautions }: { readonly cautions: readonly string[] }) {
  if (cautions.length === 0) return null;
  return (
    <ul className="board-cautions" aria-label="Take care at this step">
      {cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  );
}

/** Past the hold nothing shows the supply off, and of a run that is over nothing will: somebody who looked says it. */
function SupplyIsOff({ view }: { readonly view: RunView }) {
  const { recorder } = useServices().runs;
  const known = powerKnown(view);
  const isLeftOn = known === 'still-on' && view.record?.endedAtMs !== null;
  if (view.role !== 'owner' || (known !== 'may-be-on' && !isLeftOn)) return null;
  return <ActionButton onPress={() => recorder.sayOff()}>I looked: the supply is off</ActionButton>;
}

function LiveTrace({ view }: { readonly view: RunView }) {
  const { readings, record } = view;
  if (!record || readings.tS.length < 2) return null;
  return (
    <TracePlot
      live
      label={`Volts and amps of the last ${Math.round((readings.tS.at(-1) ?? 0) / 60)} minutes`}
      traces={[{ label: record.name, readings }]}
      marks={view.events.map(({ atS, level }) => ({ atS, alarm: level === 'alarm' }))}
    />
  );
}

const END_MARKS = { skipped: '–', early: '!', done: '✓' } as const;
const STATE_MARKS = { waiting: '·', running: '▸', paused: '▸', done: '✓' } as const;

function StepList({ view }: { readonly view: RunView }) {
  return (
    <ol className="step-list" aria-label="Steps of the run">
      {view.timers.map((timer, index) => {
        const end = stepEndOf(view, index);
        return (
          <li
            key={index}
            className={end === 'early' ? 'early' : timer.state}
            aria-current={index === view.step ? 'step' : undefined}
          >
            <span aria-hidden="true">{end ? END_MARKS[end] : STATE_MARKS[timer.state]}</span>
            <span className="grow">{stepTitle(view, index)}</span>
            <span>{stepTime(timer, end)}</span>
          </li>
        );
      })}
    </ol>
  );
}

/** What a step will take, has taken so far, or had; of what was left early, of what it wanted too. */
function stepTime({ state, step, elapsedMs }: StepTimer, end: StepEnd | null): string {
  const planned = step.plannedS === null ? 'as long as it takes' : clockText(step.plannedS * 1000);
  if (state === 'waiting') return planned;
  const had = clockText(elapsedMs);
  if (end === 'early') return `left early, ${had} of ${planned}`;
  return end === 'skipped' ? `skipped, ${had}` : had;
}
