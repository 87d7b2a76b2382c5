import { useState } from 'react';
import { isOpen, type JobMessage } from '../../core/job/job-messages.ts';
import { holds, placesOf } from '../../core/job/load-hanging.ts';
import { partBefore } from '../../core/job/part-before.ts';
import type { LoadPlan, Practise } from '../../core/shop/run-record.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import { useApp, useDerived, useRun, useServices } from '../app/services.ts';
import { hangLoad } from '../state/edit-tank.ts';
import { leftOnElsewhere } from '../state/left-on.ts';
import { jobOf } from '../state/app-store.ts';
import { notify } from '../state/notices.ts';
import { newRunOf } from '../state/run-services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { AnotherTank } from './another-tank.tsx';
import { RunPractise } from './run-practise.tsx';

/** No run begins on these: the power would do harm, or every figure may be wrong by the unit. */
function holdsBack({ level, code }: JobMessage): boolean {
  return level === 'stop' || code === 'unit-unconfirmed';
}

/** A load of the plan made a run, for good or to practise. */
export function NewRun() {
  const services = useServices();
  const { runs, store } = services;
  const plan = useDerived((derived) => derived.plan);
  const messages = useDerived((derived) => derived.messages);
  const job = useApp(jobOf);
  const models = useApp((state) => state.models);
  const system = useApp((state) => state.unitSystem);
  const heat = useDerived((derived) => derived.wet.heat);
  const hung = useDerived((derived) => derived.hung);
  const hanging = useDerived((derived) => derived.hanging);
  const nextLoad = useApp((state) => state.nextLoad);
  const loadsRun = useApp((state) => state.loadsRun);
  const [asked, setAsked] = useState(false);
  const [mode, setMode] = useState<LoadPlan['mode']>('current');
  const [starting, setStarting] = useState(false);
  /** A start that waits for whether it is another tank's run; `null` of a real one. */
  const [waiting, setWaiting] = useState<{ readonly practise: Practise | null } | null>(null);
  const running = useRun((view) => view.running);
  const leftOn = useRun((view) => leftOnElsewhere(view).join(' '));
  if (!plan?.ok) {
    return (
      <p className="soft">There is no plan yet: open a part and set current and time, then come back.</p>
    );
  }
  const { loads } = plan.value;
  const chosen = Math.min(nextLoad, loads.length - 1);
  const stops = messages.filter(holdsBack);
  // What is still being looked at is gone by itself in a moment.
  const open = messages.filter(
    (message) => isOpen(message) && message.pending !== true && !holdsBack(message),
  );
  const start = async (practise: Practise | null): Promise<void> => {
    runs.sounds.unlock();
    setStarting(true);
    setAsked(false);
    setWaiting(null);
    const run = newRunOf(
      { job, hung, plan: plan.value, models, heat: heat?.ok ? heat.value : null, hanging, system },
      { load: chosen, mode, practise, supplyId: null },
    );
    const started = await runs.recorder.start(run);
    setStarting(false);
    if (!started.ok) notify(store, started.error);
  };
  const begin = async (practise: Practise | null): Promise<void> => {
    if (running.length > 0) return setWaiting({ practise });
    if (practise === null && open.length > 0) return setAsked(true);
    await start(practise);
  };
  const beside = (): void => {
    const { practise } = waiting ?? { practise: null };
    setWaiting(null);
    if (practise === null && open.length > 0) setAsked(true);
    else void start(practise);
  };
  return (
    <>
      {stops.map((message, index) => (
        <MessageCard
          key={index}
          level={message.level}
          message={partBefore(job.parts, message) + message.message}
          remedy={message.remedy}
        >
          <ActionButton look="small" onPress={() => store.setState({ stage: message.stage })}>
            Go there
          </ActionButton>
        </MessageCard>
      ))}
      <section className="stack" aria-label="New run">
        <h3>Make the plan a run</h3>
        {loads.length > 1 ? (
          <ChooseFrom
            label="Which load"
            options={loads.map(({ areaM2, currentA }, index) => ({
              id: String(index),
              label: `Load ${index + 1} of ${loads.length}: ${formatQuantity('area', areaM2, system, 3).text}, ${formatIn('current', currentA, 'A', 3).text}${loadsRun.includes(index) ? ', already run' : ''}`,
            }))}
            chosen={String(chosen)}
            onChoose={(id) => store.setState({ nextLoad: Number(id) })}
          />
        ) : null}
        <OtherLoadHangs load={chosen} />
        <div className="field">
          <span className="field-label">The supply holds</span>
          <ChoiceRow
            label="The supply holds"
            choices={[
              { id: 'current', label: 'the current' },
              { id: 'voltage', label: 'the voltage' },
            ]}
            chosen={mode}
            onChoose={setMode}
          />
        </div>
        {waiting && running.length > 0 ? (
          <AnotherTank
            running={running}
            leftOn={leftOn.split(' ')}
            practises={waiting.practise !== null}
            starting={starting}
            onStart={beside}
            onStay={() => setWaiting(null)}
          />
        ) : asked && open.length > 0 ? (
          <MessageCard
            level="check"
            message={`${open.length === 1 ? 'One warning is' : `${open.length} warnings are`} still open. Start all the same?`}
            remedy="Once the power is on it is too late for most of them."
          >
            <ul className="tight">
              {open.map((message, index) => (
                <li key={index}>
                  {partBefore(job.parts, message)}
                  {inReaderUnits(message.message, system)}
                </li>
              ))}
            </ul>
            <ActionButton onPress={() => store.setState({ stage: open[0]!.stage })}>
              Look at {open.length === 1 ? 'it' : 'them'} first
            </ActionButton>
            <ActionButton isDisabled={starting} onPress={() => void start(null)}>
              Start all the same
            </ActionButton>
          </MessageCard>
        ) : (
          <ActionButton
            look="main"
            isDisabled={starting || stops.length > 0}
            onPress={() => void begin(null)}
          >
            Start this run
          </ActionButton>
        )}
        {stops.length > 0 ? (
          <p className="soft">What stands above comes first; practise is free at any time.</p>
        ) : null}
        <p className="soft">
          Everything is written down as it happens and found again after a crash, a reload or a closed window.
        </p>
      </section>
      <DisclosureSection title="Practise" state="the same run with a supply that isn’t there">
        <RunPractise rampS={plan.value.rampS.valueSi} holdS={plan.value.holdS.valueSi} onStart={begin} />
      </DisclosureSection>
    </>
  );
}

/** The load to be run is not the one in the tank, so neither distances nor map were looked at for it. */
function OtherLoadHangs({ load }: { load: number }) {
  const services = useServices();
  const job = useApp(jobOf);
  const plan = useDerived((derived) => derived.tank.plan);
  const isPacking = useDerived((derived) => derived.tank.isPacking === true);
  if (!plan?.ok || job.placements.length === 0) return null;
  const { loads } = plan.value;
  const wanted = loads[load];
  if (!wanted || loads.length === 1 || holds(job, job.placements, wanted.pieces)) return null;
  const kept = placesOf(job, wanted.pieces) !== null;
  return (
    <MessageCard
      level="note"
      message={`Load ${load + 1} is not what hangs in the tank stage: its distances and its film are not what is shown there.`}
      remedy={kept ? 'Hang it as it last hung, and look.' : 'Hang it there, and look at its distances.'}
    >
      <ActionButton look="small" isDisabled={isPacking} onPress={() => hangLoad(services, load)}>
        Hang load {load + 1}
      </ActionButton>
    </MessageCard>
  );
}
