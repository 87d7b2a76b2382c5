import { useEffect, useRef, useState } from 'react';
import { useRun, useServices } from '../app/services.ts';
import { endQuestion } from '../state/end-question.ts';
import { alarmAsksForOff } from '../state/run-words.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';

/** The way out of a run before its last step. */
export function EndTheRun() {
  const { runs } = useServices();
  const role = useRun((view) => view.role);
  const [asked, setAsked] = useState(false);
  if (role !== 'owner') {
    return <ActionButton onPress={() => void runs.recorder.leave()}>Stop following</ActionButton>;
  }
  return asked ? (
    <AskForTheEnd onGoOn={() => setAsked(false)} />
  ) : (
    <ActionButton onPress={() => setAsked(true)}>End the run early…</ActionButton>
  );
}

/** It changes with what the supply shows: switched off, it asks no more for that. */
function AskForTheEnd({ onGoOn }: { readonly onGoOn: () => void }) {
  const { recorder } = useServices().runs;
  const { level, message, remedy, asksForOff } = endQuestion(useRun((view) => view));
  // Under an alarm that says to switch off going on is not the safe answer.
  const toBeOff = useRun(alarmAsksForOff);
  const place = useRef<HTMLDivElement>(null);
  // The button that asks is the last of a long panel: what opens below it would lie out of sight.
  useEffect(() => place.current?.scrollIntoView({ block: 'end' }), []);
  const end = (): void => recorder.mark('end');
  return (
    <div ref={place} role="group" aria-label="End the run?">
      <MessageCard level={level} message={message} remedy={remedy}>
        <ActionButton {...(toBeOff ? {} : { look: 'main' })} onPress={onGoOn}>
          Go on with the run
        </ActionButton>
        {asksForOff ? (
          <ActionButton
            {...(toBeOff ? { look: 'main' } : {})}
            onPress={() => {
              end();
              recorder.sayOff();
            }}
          >
            I looked: it is off. End the run
          </ActionButton>
        ) : null}
        <ActionButton onPress={end}>
          {asksForOff || level === 'stop' ? 'End it all the same' : 'End it now'}
        </ActionButton>
      </MessageCard>
    </div>
  );
}
