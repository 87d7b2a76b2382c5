import { useState } from 'react';
import { useRun, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';

/** Whether an alarm would be heard and seen, and what to do where it would not. */
export function RunSounds() {
  const { runs } = useServices();
  // Looked at again with every tick of the run.
  useRun((view) => view.nowMs);
  const [asked, setAsked] = useState(0);
  const may = typeof Notification === 'undefined' ? 'unknown' : Notification.permission;
  const heard = runs.sounds.allowed();
  return (
    <section className="stack" aria-label="Alarm" data-asked={asked}>
      <h3>Alarm</h3>
      <div className="row">
        <ActionButton
          look="small"
          onPress={() => {
            runs.sounds.unlock();
            runs.sounds.chime();
            window.setTimeout(() => runs.sounds.knock(), 900);
          }}
        >
          Try the sound
        </ActionButton>
        {may === 'default' ? (
          <ActionButton
            look="small"
            onPress={() => void Notification.requestPermission().then(() => setAsked(asked + 1))}
          >
            Show notifications too
          </ActionButton>
        ) : null}
      </div>
      <p className="soft">
        {heard
          ? 'The alarm sounds until you silence it. Turn this computer’s sound up.'
          : 'No sound yet: click anywhere in this window once.'}
        {may === 'denied' ? ' Notifications are refused for this page.' : ''}
        {may === 'granted' ? ' Notifications are shown too.' : ''}
      </p>
    </section>
  );
}
