import { useRun, useServices } from '../app/services.ts';
import { standsStill } from '../state/step-left.ts';
import { endedBeforeFilm, takeNextLoad } from '../state/next-load.ts';
import { powerKnown } from '../state/run-power.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { EndTheRun } from './end-the-run.tsx';
import { NewRun } from './new-run.tsx';
import { PractiseHands } from './practise-hands.tsx';
import { RunImport } from './run-import.tsx';
import { RunLog, RunMessages } from './run-messages.tsx';
import { Overrun } from './run-overrun.tsx';
import { RunReadings } from './run-readings.tsx';
import { RunSounds } from './run-sounds.tsx';
import { RunSupply } from './run-supply.tsx';
import { RunTrouble } from './run-trouble.tsx';
import { StageHead } from './stage-head.tsx';
import './run-stages.css';

/** The run: made from the plan, watched, kept. */
export function RunStage() {
  const record = useRun((view) => view.record);
  return (
    <>
      {record === null ? (
        <StageHead title="The run">
          The plan becomes steps with their own time. Readings give the film so far and the end as it now
          stands, and a lost contact is called while it can still be saved.
        </StageHead>
      ) : (
        <StageHead title="The run" />
      )}
      {record === null ? <NewRun /> : record.endedAtMs === null ? <DuringTheRun /> : <AfterTheRun />}
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
      {practising && role === 'owner' ? <PractiseHands /> : null}
      <RunReadings />
      <RunMessages />
      {practising ? null : <RunSupply />}
      {progress ? (
        <section className="stack" aria-label="Film and charge">
          <FigureView figure={progress.thicknessM} />
          <FigureView figure={progress.chargeC} size="small" />
          {progress.endS && standsStill(view) === null ? (
            <FigureView figure={progress.endS} size="small" />
          ) : null}
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

function AfterTheRun() {
  const { runs, store } = useServices();
  const view = useRun((state) => state);
  const { record, progress } = view;
  if (!record) return null;
  if (view.role === 'owner' && powerKnown(view) === 'still-on') {
    return (
      <MessageCard
        level="stop"
        message="The run is over, but the supply was left on."
        remedy="Switch the supply off, look, then press “I looked: the supply is off”. What comes next stands here then."
      />
    );
  }
  const again = record.plan.loads > 1 && record.practise === null && endedBeforeFilm(record);
  const toBook = (): void => {
    store.setState({ stage: 'logbook', openRunId: record.id });
    runs.logbook.state.setState({ page: 'run', compareId: null, picking: false });
    goOn();
  };
  const goOn = (): void => {
    takeNextLoad(store, record);
    void runs.recorder.leave();
  };
  return (
    <>
      <MessageCard
        level="note"
        message={`“${record.name}” is in the logbook with its readings, notes and plan.`}
        remedy={
          record.practise
            ? 'It is marked as practise there.'
            : 'Measure the film and write down colour and outcome there: the next run learns from it.'
        }
      >
        <ActionButton look="main" onPress={toBook}>
          Write it up in the logbook
        </ActionButton>
        <ActionButton onPress={goOn}>{again ? `Load ${record.plan.load} again` : 'Next run'}</ActionButton>
      </MessageCard>
      {again ? (
        <MessageCard
          level="check"
          message={`Load ${record.plan.load} of ${record.plan.loads} is not done: its run was ended before its film was.`}
          remedy="It is offered again before the next load. A film that was begun and let stand takes no new current: strip it first."
        />
      ) : null}
      <Overrun record={record} />
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
