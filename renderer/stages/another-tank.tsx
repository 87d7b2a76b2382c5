import { useEffect, useRef } from 'react';
import { useServices } from '../app/services.ts';
import type { NamedRun } from '../state/run-view.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { dayAndTime, timeOfDay } from './spoken-time.ts';

interface AnotherTankProps {
  /** All that go on, none of them in this window. */
  readonly running: readonly NamedRun[];
  /** Those of them that are over, with the supply left on. */
  readonly leftOn: readonly string[];
  /** What is to start is a practise run. */
  readonly practises: boolean;
  readonly starting: boolean;
  readonly onStart: () => void;
  readonly onStay: () => void;
}

/** A run goes on already: a second one at the same tank would count the same current twice and watch neither. */
export function AnotherTank({ running, leftOn, practises, starting, onStart, onStay }: AnotherTankProps) {
  const { recorder } = useServices().runs;
  const place = useRef<HTMLDivElement>(null);
  // Practise is asked from below: its answer would lie out of sight.
  useEffect(() => place.current?.scrollIntoView({ block: 'nearest' }), []);
  const isOne = running.length === 1;
  return (
    <div ref={place} role="group" aria-label="Another tank?">
      <MessageCard
        level="check"
        message={question(running, leftOn, practises)}
        remedy={REMEDY[practises ? 'practise' : 'run']}
      >
        {running.map(({ id, name }) => (
          <ActionButton
            key={id}
            {...(isOne ? { look: 'main' } : {})}
            onPress={() => {
              onStay();
              void recorder.open(id);
            }}
          >
            {isOne ? 'No: go to that run' : `No: go to “${name}”`}
          </ActionButton>
        ))}
        <ActionButton isDisabled={starting} onPress={onStart}>
          {practises ? 'Practise beside it' : 'Another tank: start it too'}
        </ActionButton>
        <ActionButton onPress={onStay}>Start nothing</ActionButton>
      </MessageCard>
    </div>
  );
}

const REMEDY = {
  run: 'Each tank with its own supply has its own run and its own window. Two runs at one tank count the same current twice.',
  practise: 'Its alarms are heard in every window, and so are those of the practise run.',
} as const;

/** The time alone of today's. */
const beganText = (ms: number): string =>
  new Date(ms).toDateString() === new Date().toDateString() ? timeOfDay(ms) : dayAndTime(ms);

function question(running: readonly NamedRun[], leftOn: readonly string[], practises: boolean): string {
  const since = running
    .map(({ id, name, startedAtMs, simulated }) => {
      const what = simulated ? 'practise run' : 'run';
      if (leftOn.includes(id))
        return `a ${what} begun at ${beganText(startedAtMs)} was ended with its supply on, and nobody has said that it is off: “${name}”`;
      return `a ${what} is on since ${beganText(startedAtMs)}: “${name}”`;
    })
    .join('; ');
  const asks = practises ? 'Practise now?' : 'Is this one for another tank?';
  return `${since.replace(/^a/, 'A')}. ${asks}`;
}
