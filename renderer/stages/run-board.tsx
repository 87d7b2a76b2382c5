import { useEffect, useRef, useState } from 'react';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { isSimulated } from '../../core/shop/run-record.ts';
import { useApp, useRun, useServices, useSupplyDesk } from '../app/services.ts';
import type { RunView } from '../state/run-recorder.ts';
import { stepLeft } from '../state/step-left.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { TracePlot } from '../widgets/trace-plot.tsx';
import { clockText, timeOfDay } from './spoken-time.ts';

/** The run, to be read from two metres: the step, its time, what the supply shows, the film so far. */
export function RunBoard({
  full,
  onFull,
}: {
  readonly full: boolean;
  readonly onFull: (full: boolean) => void;
}) {
  const view = useRun((state) => state);
  const { record, timers, step } = view;
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
  const next = timers[step + 1];
  const over = record.endedAtMs !== null;
  const { leftMs, byCharge } = stepLeft(view);
  const waiting = timer?.state === 'waiting';
  const overdue = leftMs !== null && leftMs <= 0 && timer?.state === 'running';
  return (
    <section className={`run-board ${full ? 'full' : ''}`} aria-label="Run board">
      {isSimulated(record) ? (
        <p className="practise-ribbon">Practise: simulated supply, no real run</p>
      ) : null}
      <header className="board-head">
        <div className="grow">
          <p className="board-step-count">
            {over
              ? 'The run is over'
              : `Step ${step + 1} of ${timers.length}${timer?.state === 'paused' ? ' · paused' : ''}`}
          </p>
          <h2 className="board-step">{over ? record.name : (timer?.step.label ?? '')}</h2>
        </div>
        <ActionButton look="small" onPress={() => onFull(!full)}>
          {full ? 'Back to the window' : 'Fill the window'}
        </ActionButton>
      </header>
      {over ? null : (
        <>
          <p className={`board-clock ${overdue ? 'overdue' : ''}`} aria-label="Time left in this step">
            {leftMs === null ? clockText(timer?.elapsedMs ?? 0) : clockText(leftMs)}
          </p>
          <p className="board-under">
            {waiting
              ? 'Not begun yet'
              : leftMs === null
                ? byCharge
                  ? 'gone by; no current flows that could finish the film'
                  : 'gone by; ends when you say so'
                : overdue
                  ? `over; go on to ${next?.step.label ?? 'the end'}`
                  : byCharge
                    ? 'left, by the charge that is still to come'
                    : 'left'}
            {next && !overdue ? ` · then ${next.step.label}` : ''}
          </p>
          <BoardButtons view={view} />
        </>
      )}
      <BoardFigures view={view} />
      <LiveTrace view={view} />
      <StepList view={view} />
    </section>
  );
}

function BoardButtons({ view }: { readonly view: RunView }) {
  const { runs } = useServices();
  const { recorder } = runs;
  const [noting, setNoting] = useState(false);
  const { timers, step, role } = view;
  const state = timers[step]?.state;
  if (role === 'follower') {
    return (
      <p className="soft" role="status">
        Another window keeps this run; this one follows it live and takes over when that window is gone.
      </p>
    );
  }
  const next = timers[step + 1]?.step.label;
  return (
    <div className="board-buttons">
      {state === 'waiting' ? (
        <ActionButton look="main" onPress={() => recorder.mark('begin')}>
          Begin: {timers[step]?.step.label}
        </ActionButton>
      ) : (
        <ActionButton look="main" onPress={() => recorder.mark('next')}>
          {next ? `Next: ${next}` : 'Done: end the run'}
        </ActionButton>
      )}
      {state === 'running' ? (
        <ActionButton onPress={() => recorder.mark('pause')}>Pause the timer</ActionButton>
      ) : null}
      {state === 'paused' ? <ActionButton onPress={() => recorder.mark('resume')}>Go on</ActionButton> : null}
      <ActionButton aria-expanded={noting} onPress={() => setNoting(!noting)}>
        Note…
      </ActionButton>
      {noting ? <NoteEntry onDone={() => setNoting(false)} /> : null}
    </div>
  );
}

function NoteEntry({ onDone }: { readonly onDone: () => void }) {
  const { runs } = useServices();
  const [text, setText] = useState('');
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => input.current?.focus(), []);
  return (
    <form
      className="note-entry"
      onSubmit={(event) => {
        event.preventDefault();
        runs.recorder.note(text);
        onDone();
      }}
    >
      <input
        ref={input}
        aria-label="Note, kept with the time"
        value={text}
        onChange={(event) => setText(event.target.value)}
        onKeyDown={(event) => {
          if (event.key !== 'Escape') return;
          event.stopPropagation();
          onDone();
        }}
      />
      <ActionButton type="submit" look="small">
        Keep the note
      </ActionButton>
    </form>
  );
}

/** The newest numbers; nothing stands there that the supply does not say now. */
function BoardFigures({ view }: { readonly view: RunView }) {
  const system = useApp((state) => state.unitSystem);
  const desk = useSupplyDesk((state) => state);
  const { record, readings, progress, powerS, powerOnMs, powerIsOn } = view;
  if (!record) return null;
  const last = readings.tS.length - 1;
  const fromSupply = record.origin === 'supply' || desk.status === 'live' || desk.status === 'gap';
  const stored =
    last >= 0 ? { voltageV: readings.voltageV[last]!, currentA: readings.currentA[last]! } : null;
  const ageS = last >= 0 && powerS !== null ? Math.max(0, powerS - readings.tS[last]!) : null;
  const lost = fromSupply && powerIsOn && desk.status !== 'live';
  const now = lost ? null : desk.status === 'live' ? desk.last : stored;
  let kelvin = NaN;
  for (let i = last; i >= 0 && Number.isNaN(kelvin); i--) kelvin = readings.bathTemperatureK?.[i] ?? NaN;
  // A tenth of a micrometre is less than anybody can know of a film that grows.
  const micro = (valueM: number): string =>
    system === 'us' ? (valueM / 25.4e-6).toFixed(2) : (valueM * 1e6).toFixed(1);
  const filmUnit = system === 'us' ? 'mil' : 'µm';
  const film = progress?.thicknessM;
  const filmRange =
    film?.lowSi !== undefined && film.highSi !== undefined
      ? `${micro(film.lowSi)} to ${micro(film.highSi)}, `
      : '';
  const end = progress?.endS;
  const at = (seconds: number): string => timeOfDay((powerOnMs ?? 0) + seconds * 1000);
  const age = lost
    ? 'no readings now'
    : ageS === null || !powerIsOn
      ? ''
      : ageS < 60
        ? ''
        : `${clockText(ageS * 1000)} ago`;
  return (
    <dl className="board-figures">
      <BoardFigure
        label="Volts"
        value={now ? now.voltageV.toFixed(2) : '–'}
        unit="V"
        under={age}
        warn={lost}
      />
      <BoardFigure
        label="Amps"
        value={now ? now.currentA.toFixed(2) : '–'}
        unit="A"
        under={`plan ${formatIn('current', record.plan.areaM2 * record.plan.currentDensityAPerM2, 'A', 3).text}`}
        warn={false}
      />
      <BoardFigure
        label="Bath"
        value={Number.isNaN(kelvin) ? '–' : formatQuantity('temperature', kelvin, system, 3).number}
        unit={system === 'us' ? '°F' : '°C'}
        under=""
        warn={false}
      />
      <BoardFigure
        label="Film so far"
        value={film ? micro(film.valueSi) : '–'}
        unit={filmUnit}
        under={`${filmRange}wanted ${micro(record.plan.thicknessM)}`}
        warn={false}
      />
      <BoardFigure
        label="Power off at"
        value={end && powerOnMs !== null ? at(end.valueSi) : '–'}
        unit=""
        under={
          end?.lowSi !== undefined && end.highSi !== undefined
            ? `${at(end.lowSi)} to ${at(end.highSi)}`
            : powerIsOn && progress
              ? 'no current that could finish it'
              : ''
        }
        warn={powerIsOn && progress !== null && !end}
      />
    </dl>
  );
}

interface BoardFigureProps {
  readonly label: string;
  readonly value: string;
  readonly unit: string;
  readonly under: string;
  readonly warn: boolean;
}

function BoardFigure({ label, value, unit, under, warn }: BoardFigureProps) {
  return (
    <div className="board-figure">
      <dt>{label}</dt>
      <dd>
        <span className="board-value">
          {value} {value === '–' ? null : <small>{unit}</small>}
        </span>
        <span className={`board-note ${warn ? 'check' : ''}`}>{under}</span>
      </dd>
    </div>
  );
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

function StepList({ view }: { readonly view: RunView }) {
  return (
    <ol className="step-list" aria-label="Steps of the run">
      {view.timers.map((timer, index) => (
        <li key={index} className={timer.state} aria-current={index === view.step ? 'step' : undefined}>
          <span aria-hidden="true">
            {timer.state === 'done' ? '✓' : timer.state === 'waiting' ? '·' : '▸'}
          </span>
          <span className="grow">{timer.step.label}</span>
          <span>
            {timer.state === 'waiting'
              ? timer.step.plannedS === null
                ? 'as long as it takes'
                : clockText(timer.step.plannedS * 1000)
              : clockText(timer.elapsedMs)}
          </span>
        </li>
      ))}
    </ol>
  );
}
