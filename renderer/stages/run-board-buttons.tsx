import { useEffect, useRef, useState } from 'react';
import { formatIn } from '../../core/units/format-quantity.ts';
import { useApp, useServices } from '../app/services.ts';
import { endQuestion } from '../state/end-question.ts';
import type { RunView } from '../state/run-view.ts';
import { alarmAsksForOff } from '../state/run-words.ts';
import { stepLeft } from '../state/step-left.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { clockText } from './spoken-time.ts';

/** For so long after a step forward the way back is offered. */
const BACK_MS = 300_000;

/** What can be done at this step; always in sight, however small the window. */
export function RunBoardButtons({ view }: { readonly view: RunView }) {
  const { recorder } = useServices().runs;
  const [noting, setNoting] = useState(false);
  /** The step whose end was asked for before its time. */
  const [askedAt, setAskedAt] = useState<number | null>(null);
  const { record, timers, step, role } = view;
  const timer = timers[step];
  if (role === 'follower') {
    return (
      <p className="soft" role="status">
        Another window keeps this run; this one follows it live and takes over when that window is gone.
      </p>
    );
  }
  if (!record || !timer) return null;
  const next = timers[step + 1]?.step.label;
  const before = timers[step - 1]?.step.label;
  const { leftMs } = stepLeft(view);
  const tooEarly =
    timer.step.kind === 'hold' && timer.state !== 'waiting' && !(leftMs !== null && leftMs <= 0);
  const goOn = (): void => {
    if (tooEarly) return setAskedAt(step);
    recorder.mark('next');
  };
  if (tooEarly && askedAt === step) {
    return (
      <EndTheHold
        view={view}
        leftMs={leftMs}
        onGoOn={() => setAskedAt(null)}
        onEnd={(isOff) => {
          setAskedAt(null);
          recorder.mark('next');
          if (isOff) recorder.sayOff();
        }}
      />
    );
  }
  const backIsOffered = before !== undefined && (timer.elapsedMs < BACK_MS || record.practise !== null);
  return (
    <div className="board-buttons">
      {timer.state === 'waiting' ? (
        <ActionButton look="main" onPress={() => recorder.mark('begin')}>
          Begin the run
        </ActionButton>
      ) : (
        <ActionButton look="main" onPress={goOn}>
          {next ? `Next: ${next}` : 'Done: end the run'}
        </ActionButton>
      )}
      {timer.step.kind === 'ramp' && timer.state === 'running' ? (
        <ActionButton
          aria-pressed={record.waitsAtRamp}
          onPress={() => recorder.holdRamp(!record.waitsAtRamp)}
        >
          Stay at the ramp
        </ActionButton>
      ) : null}
      {timer.state === 'running' ? (
        <ActionButton onPress={() => recorder.mark('pause')}>Pause the timer</ActionButton>
      ) : null}
      {timer.state === 'paused' ? (
        <ActionButton onPress={() => recorder.mark('resume')}>Go on with the timer</ActionButton>
      ) : null}
      <ActionButton aria-expanded={noting} onPress={() => setNoting(!noting)}>
        Note…
      </ActionButton>
      {backIsOffered ? (
        <ActionButton onPress={() => recorder.mark('back')}>
          ◂ Back<span className="visually-hidden"> to: {before}</span>
        </ActionButton>
      ) : null}
      {noting ? <NoteEntry onDone={() => setNoting(false)} /> : null}
    </div>
  );
}

const OFF_FIRST = 'The alarm says: switch the supply off. Switch it off, then end the hold.';

interface EndTheHoldProps {
  readonly view: RunView;
  readonly leftMs: number | null;
  readonly onGoOn: () => void;
  /** Whether somebody looked: the supply is off. */
  readonly onEnd: (isOff: boolean) => void;
}

/**
 * A hold ended by a slip is a film too thin: the safe answer stands where the finger was. Under an alarm that says to switch off the hold's end is
 * the safe one.
 */
function EndTheHold({ view, leftMs, onGoOn, onEnd }: EndTheHoldProps) {
  const system = useApp((state) => state.unitSystem);
  const { record, progress } = view;
  const micro = (valueM: number): string =>
    formatIn('length', valueM, system === 'us' ? 'mil' : 'µm', 3).text;
  const film =
    record && progress
      ? ` The film is at ${micro(progress.thicknessM.valueSi)} of ${micro(record.plan.thicknessM)}.`
      : '';
  const toBeOff = alarmAsksForOff(view);
  const asksForOff = toBeOff && endQuestion(view).asksForOff;
  const goOn = (
    <ActionButton {...(toBeOff ? {} : { look: 'main' })} onPress={onGoOn}>
      Go on with the hold
    </ActionButton>
  );
  return (
    <div className="board-buttons board-ask" role="group" aria-label="End the hold?">
      <p>
        <strong>
          {leftMs === null ? 'The hold is not done.' : `The hold is not done: ${clockText(leftMs)} left.`}
        </strong>
        {film}
      </p>
      {toBeOff ? (
        <p>
          <strong>{OFF_FIRST}</strong>
        </p>
      ) : null}
      {toBeOff ? null : goOn}
      {asksForOff ? (
        <ActionButton look="main" onPress={() => onEnd(true)}>
          I looked: it is off. End the hold
        </ActionButton>
      ) : null}
      <ActionButton {...(toBeOff && !asksForOff ? { look: 'main' } : {})} onPress={() => onEnd(false)}>
        End the hold now
      </ActionButton>
      {toBeOff ? goOn : null}
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
