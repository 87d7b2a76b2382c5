import { useState } from 'react';
import type { LoadPlan, Practise } from '../../core/shop/run-record.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { jobOf } from '../state/app-store.ts';
import { notify } from '../state/notices.ts';
import { newRunOf } from '../state/run-services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { RunPractise } from './run-practise.tsx';

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
  const hanging = useDerived((derived) => derived.hanging);
  const [load, setLoad] = useState(0);
  const [mode, setMode] = useState<LoadPlan['mode']>('current');
  const [starting, setStarting] = useState(false);
  if (!plan?.ok) {
    return (
      <p className="soft">There is no plan yet: open a part and set current and time, then come back.</p>
    );
  }
  const { loads } = plan.value;
  const chosen = Math.min(load, loads.length - 1);
  const stops = messages.filter((message) => message.level === 'stop');
  const start = async (practise: Practise | null): Promise<void> => {
    runs.sounds.unlock();
    setStarting(true);
    const run = newRunOf(
      { job, plan: plan.value, models, heat: heat?.ok ? heat.value : null, hanging, system },
      { load: chosen, mode, practise, supplyId: null },
    );
    const started = await runs.recorder.start(run);
    setStarting(false);
    if (!started.ok) notify(store, started.error);
  };
  return (
    <>
      {stops.map((message, index) => (
        <MessageCard key={index} level="stop" message={message.message} remedy={message.remedy}>
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
              label: `Load ${index + 1} of ${loads.length}: ${formatQuantity('area', areaM2, system, 3).text}, ${formatIn('current', currentA, 'A', 3).text}`,
            }))}
            chosen={String(chosen)}
            onChoose={(id) => setLoad(Number(id))}
          />
        ) : null}
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
        <ActionButton look="main" isDisabled={starting} onPress={() => void start(null)}>
          Start this run
        </ActionButton>
        <p className="soft">
          Everything is written down as it happens and found again after a crash, a reload or a closed window.
        </p>
      </section>
      <DisclosureSection title="Practise" state="the same run with a supply that isn’t there">
        <RunPractise rampS={plan.value.rampS.valueSi} holdS={plan.value.holdS.valueSi} onStart={start} />
      </DisclosureSection>
    </>
  );
}
