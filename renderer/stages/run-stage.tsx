import { useState } from 'react';
import type { LoadPlan, Practise } from '../../core/shop/run-record.ts';
import { saidWords } from '../../core/shop/said-words.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useDerived, useRun, useServices } from '../app/services.ts';
import { jobOf } from '../state/app-store.ts';
import { notify } from '../state/notices.ts';
import { newRunOf } from '../state/run-services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { RunImport } from './run-import.tsx';
import { PractiseHands } from './practise-hands.tsx';
import { RunPractise } from './run-practise.tsx';
import { RunReadings } from './run-readings.tsx';
import { RunSounds } from './run-sounds.tsx';
import { RunSupply } from './run-supply.tsx';
import { RunTrouble } from './run-trouble.tsx';
import { clockText, timeOfDay } from './spoken-time.ts';
import { StageHead } from './stage-head.tsx';
import './run-stages.css';

/** The run: made from the plan, watched, kept. */
export function RunStage() {
  const record = useRun((view) => view.record);
  return (
    <>
      <StageHead title="The run">
        The plan becomes steps with their own time. Readings give the film so far and the end as it now
        stands, and a lost contact is called while it can still be saved.
      </StageHead>
      {record === null ? <BeforeTheRun /> : record.endedAtMs === null ? <DuringTheRun /> : <AfterTheRun />}
    </>
  );
}

function RunningElsewhere() {
  const { runs } = useServices();
  const running = useRun((view) => view.running);
  if (running.length === 0) return null;
  return (
    <section className="stack" aria-label="Runs in progress">
      <h3>In progress</h3>
      {running.map(({ id, name }) => (
        <div key={id} className="record-card">
          <strong>{name}</strong>
          <ActionButton onPress={() => void runs.recorder.open(id)}>
            Go on with it<span className="visually-hidden"> {name}</span>
          </ActionButton>
        </div>
      ))}
    </section>
  );
}

function BeforeTheRun() {
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
      <>
        <RunningElsewhere />
        <p className="soft">There is no plan yet: open a part and set current and time, then come back.</p>
      </>
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
      <RunningElsewhere />
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
              label: `Load ${index + 1} of ${loads.length}: ${formatQuantity('area', areaM2, 'metric', 3).text}, ${formatIn('current', currentA, 'A', 3).text}`,
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

function DuringTheRun() {
  const view = useRun((state) => state);
  const { record, progress, role } = view;
  if (!record) return null;
  const practising = record.practise !== null;
  return (
    <>
      <RunMessages />
      <RunReadings />
      {practising ? role === 'owner' ? <PractiseHands /> : null : <RunSupply />}
      {progress ? (
        <section className="stack" aria-label="Film and charge">
          <FigureView figure={progress.thicknessM} />
          <FigureView figure={progress.chargeC} size="small" />
          {progress.endS ? <FigureView figure={progress.endS} size="small" /> : null}
        </section>
      ) : null}
      <RunSounds />
      {practising || role === 'follower' ? null : (
        <DisclosureSection title="Readings from a logger" state="a CSV file, columns to choose">
          <RunImport />
        </DisclosureSection>
      )}
      <DisclosureSection title="What went wrong?" state="symptoms, causes, the way back">
        <RunTrouble />
      </DisclosureSection>
      <RunLog />
      <EndTheRun />
    </>
  );
}

/** What was said and what happened to the clock, newest first. */
function RunMessages() {
  const { runs } = useServices();
  const { record, events, kept, role } = useRun((view) => view);
  const system = useApp((state) => state.unitSystem);
  if (!record) return null;
  const isOwner = role === 'owner';
  const findings = record.clock.findings;
  const lastJump = findings.findLastIndex(({ kind }) => kind === 'jumped-ahead');
  return (
    <>
      {kept ? null : (
        <p className="soft" role="status">
          Writing…
        </p>
      )}
      {[...events].reverse().map((event) => {
        const { message, remedy } = saidWords(event, record.plan, system);
        return (
          <MessageCard
            key={`${event.kind}-${event.atS}`}
            level={event.level === 'alarm' ? 'stop' : event.level}
            message={`${clockText(event.atS * 1000)} after power on: ${message}`}
            remedy={remedy}
          />
        );
      })}
      {findings.map((finding, index) => (
        <MessageCard key={`clock-${index}`} level="check" message={finding.message} remedy={finding.remedy}>
          {index === lastJump && isOwner ? (
            <ActionButton look="small" onPress={() => runs.recorder.denyJump()}>
              The clock was set; take the time back
            </ActionButton>
          ) : null}
        </MessageCard>
      ))}
    </>
  );
}

function RunLog() {
  const record = useRun((view) => view.record);
  if (!record) return null;
  const notes = record.clock.marks.flatMap((mark) =>
    mark.kind === 'note' ? [{ atMs: mark.atMs, text: mark.text }] : [],
  );
  const lines = [...record.log, ...notes].sort((a, b) => b.atMs - a.atMs);
  if (lines.length === 0) return null;
  return (
    <section className="stack" aria-label="Notes and gaps">
      <h3>Notes and gaps</h3>
      <ul className="history-list">
        {lines.map((line, index) => (
          <li key={index}>
            <span className="soft">{timeOfDay(line.atMs)}</span>
            <span>{line.text}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function EndTheRun() {
  const { runs } = useServices();
  const role = useRun((view) => view.role);
  const [asked, setAsked] = useState(false);
  if (role !== 'owner') {
    return <ActionButton onPress={() => void runs.recorder.leave()}>Stop following</ActionButton>;
  }
  return asked ? (
    <MessageCard
      level="check"
      message="End the run at this step?"
      remedy="It stays in the logbook as it is now."
    >
      <ActionButton onPress={() => runs.recorder.mark('end')}>End it now</ActionButton>
      <ActionButton onPress={() => setAsked(false)}>Go on</ActionButton>
    </MessageCard>
  ) : (
    <ActionButton onPress={() => setAsked(true)}>End the run early…</ActionButton>
  );
}

function AfterTheRun() {
  const { runs, store } = useServices();
  const { record, progress } = useRun((view) => view);
  if (!record) return null;
  const toBook = (): void => {
    store.setState({ stage: 'logbook', openRunId: record.id });
    runs.logbook.state.setState({ page: 'run', compareId: null, picking: false });
    void runs.recorder.leave();
  };
  return (
    <>
      <MessageCard
        level="note"
        message={`“${record.name}” is in the logbook with its readings, notes and plan.`}
        remedy="Measure the film and write down colour and outcome there: the next run learns from it."
      >
        <ActionButton look="main" onPress={toBook}>
          Write it up in the logbook
        </ActionButton>
        <ActionButton onPress={() => void runs.recorder.leave()}>Next run</ActionButton>
      </MessageCard>
      {progress ? (
        <section className="stack" aria-label="Film and charge">
          <FigureView figure={progress.thicknessM} />
          <FigureView figure={progress.chargeC} size="small" />
        </section>
      ) : null}
      {record.practise === null ? (
        <DisclosureSection title="Readings from a logger" state="a CSV file, columns to choose">
          <RunImport />
        </DisclosureSection>
      ) : null}
    </>
  );
}
