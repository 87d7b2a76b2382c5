import { useState } from 'react';
import { jobSteps } from '../../core/job/job-steps.ts';
import { useApp, useDerived, useRun, useServices } from '../app/services.ts';
import { jobOf } from '../state/app-store.ts';
import { leftOnElsewhere } from '../state/left-on.ts';
import type { NamedRun } from '../state/run-view.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { RunBoard } from './run-board.tsx';
import { clockText } from './spoken-time.ts';

/** The middle of the window at the run stage. */
export function RunDesk() {
  const hasRun = useRun((view) => view.record !== null);
  const [full, setFull] = useState(false);
  return (
    <div className="desk" role="region" aria-label="The run" tabIndex={0}>
      {hasRun ? <RunBoard full={full} onFull={setFull} /> : <StepsToCome />}
    </div>
  );
}

const named = (runs: readonly NamedRun[]): string => runs.map(({ name }) => `“${name}”`).join(', ');

function StepsToCome() {
  const { runs } = useServices();
  const running = useRun((view) => view.running);
  const unkept = useRun((view) => view.unkept);
  const kept = running.filter(({ id }) => unkept.every((each) => each.id !== id));
  const leftIds = useRun((view) => leftOnElsewhere(view).join(' ')).split(' ');
  const leftOn = kept.filter(({ id }) => leftIds.includes(id));
  const elsewhere = kept.filter(({ id }) => !leftIds.includes(id));
  const job = useApp(jobOf);
  const plan = useDerived((derived) => derived.plan);
  const hung = useDerived((derived) => derived.hung);
  const system = useApp((state) => state.unitSystem);
  const loads = plan?.ok ? plan.value.loads.length : 0;
  const load = useApp((state) => Math.max(0, Math.min(state.nextLoad, loads - 1)));
  const steps = plan?.ok
    ? jobSteps(
        { ...job, parts: [...hung] },
        {
          rampS: plan.value.rampS.valueSi,
          holdS: plan.value.holdS.valueSi,
          currentA: plan.value.loads[load]!.currentA,
          forAllLoads: false,
        },
        null,
        system,
      )
    : [];
  return (
    <div className="desk-empty">
      {unkept.length > 0 ? (
        <MessageCard
          level="stop"
          message={`No window keeps ${named(unkept)}: going on, or left on with the supply on.`}
          remedy="Look at the supply, then take it up here."
        >
          {unkept.map(({ id, name }) => (
            <ActionButton key={id} look="main" onPress={() => void runs.recorder.open(id)}>
              Take up {unkept.length > 1 ? `“${name}”` : 'it'} here
            </ActionButton>
          ))}
        </MessageCard>
      ) : null}
      {leftOn.length > 0 ? (
        <MessageCard
          level="stop"
          message={`Over, but the supply was left on, in another window: ${named(leftOn)}.`}
          remedy="Switch the supply off, look, then say so there, or follow it here and say so."
        >
          {leftOn.map(({ id, name }) => (
            <ActionButton key={id} look="main" onPress={() => void runs.recorder.open(id)}>
              Follow {leftOn.length > 1 ? `“${name}”` : 'it'} here
            </ActionButton>
          ))}
        </MessageCard>
      ) : null}
      {elsewhere.length > 0 ? (
        <MessageCard
          level="check"
          message={`A run goes on in another window: ${named(elsewhere)}.`}
          remedy="Follow it here: this window takes over when the other one is gone."
        >
          {elsewhere.map(({ id, name }) => (
            <ActionButton key={id} look="main" onPress={() => void runs.recorder.open(id)}>
              Follow {elsewhere.length > 1 ? `“${name}”` : 'it'} here
            </ActionButton>
          ))}
        </MessageCard>
      ) : null}
      <h2>{running.length > 0 ? 'No run in this window' : 'No run yet'}</h2>
      <p className="lead">
        The board shows the step you are at and its time, large enough to be read from the tank, what the
        supply says, the film so far and when the power can go off.
      </p>
      {steps.length > 0 ? (
        <>
          <h3>{loads > 1 ? `The steps of load ${load + 1} of ${loads}` : 'The steps of this job'}</h3>
          <ol className="step-list">
            {steps.map((step, index) => (
              <li key={index}>
                <span className="grow">{step.title}</span>
                <span>
                  {step.plannedS === null ? 'as long as it takes' : clockText(step.plannedS * 1000)}
                </span>
              </li>
            ))}
          </ol>
        </>
      ) : null}
      <p className="lead">Start it on the right, or practise with a supply that isn’t there.</p>
    </div>
  );
}
