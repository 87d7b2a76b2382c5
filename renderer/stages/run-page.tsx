import { useEffect, useState } from 'react';
import { liveSpans } from '../../core/run/live-spans.ts';
import { exportLog } from '../../core/run/export-log.ts';
import { measuredFilm } from '../../core/shop/measured-film.ts';
import { beganAtMs } from '../../core/shop/run-summary.ts';
import { isSimulated, type RunRecord } from '../../core/shop/run-record.ts';
import { saidWords } from '../../core/shop/said-words.ts';
import { useApp, useLogbook, useServices } from '../app/services.ts';
import { giveFile } from '../state/give-file.ts';
import { isLeftOn } from '../state/left-on.ts';
import { notify } from '../state/notices.ts';
import { readerCsv } from '../state/reader-csv.ts';
import { repeatRun } from '../state/repeat-run.ts';
import { storageFailure, type StoredRun } from '../state/run-store.ts';
import { safeFileName } from '../state/save-file.ts';
import type { Services } from '../app/services.ts';
import type { Failure, Result } from '../../core/result.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { TracePlot } from '../widgets/trace-plot.tsx';
import { Overrun } from './run-overrun.tsx';
import { namesApart, shortNamesApart } from './names-apart.ts';
import { OUTCOME_WORDS } from './outcome-words.ts';
import { RunLines, wholeRunLines } from './run-lines.tsx';
import { RunSettings } from './run-settings.tsx';
import { TroubleOfRun } from './run-trouble.tsx';
import { RunWriteUp } from './run-write-up.tsx';
import { clockText, dayAndTime } from './spoken-time.ts';

/** Follows one run of the book. */
function useStoredRun(services: Services, id: string | null): StoredRun | Failure | null {
  const [run, setRun] = useState<Result<StoredRun> | null>(null);
  const { runs, store } = services;
  useEffect(() => {
    if (id === null) return undefined;
    return runs.store.follow(id, setRun, (fault) => notify(store, storageFailure(fault)));
  }, [id, runs, store]);
  return run === null ? null : run.ok ? run.value : run.error;
}

/** 2026-11-30 17:26:43, as spreadsheets read it. */
const utcText = (ms: number): string => new Date(ms).toISOString().slice(0, 19).replace('T', ' ');

/** A run of the logbook, alone or beside another. */
export function RunPage({ runId, compareId }: { readonly runId: string; readonly compareId: string | null }) {
  const services = useServices();
  const { runs, store } = services;
  const found = useStoredRun(services, runId);
  const other = useStoredRun(services, compareId);
  const system = useApp((state) => state.unitSystem);
  const picking = useLogbook((state) => state.picking);
  const [asking, setAsking] = useState(false);
  if (found === null) return <p className="soft">Opening…</p>;
  if (!('record' in found)) return <MessageCard level="stop" message={found.message} remedy={found.remedy} />;
  const { record, readings, trouble } = found;
  const second = other && 'record' in other ? other : null;
  const going = record.outcome === 'running';
  const leftOn = isLeftOn(record);
  const remove = async (): Promise<void> => {
    await runs.store.remove(runId).catch((fault: unknown) => notify(store, storageFailure(fault)));
    store.setState({ openRunId: null });
  };
  const toRun = (): void => {
    store.setState({ stage: 'run' });
    if (runs.recorder.view.getState().record?.id !== runId) void runs.recorder.open(runId);
  };
  const names = namesApart(record, second?.record ?? null);
  const legend = shortNamesApart(record, second?.record ?? null);
  const traces = [
    { label: legend[0], readings },
    ...(second ? [{ label: legend[1], readings: second.readings }] : []),
  ];
  const withTemperature = traces.some((trace) => trace.readings.bathTemperatureK !== null);
  return (
    <article className="run-page" aria-label={record.name}>
      {isSimulated(record) || (second && isSimulated(second.record)) ? (
        <p className="practise-ribbon">
          {isSimulated(record)
            ? `Practise: simulated supply, no real run${record.practise ? '; its times are practise time' : ''}`
            : 'The run compared with is simulated'}
        </p>
      ) : null}
      <header>
        <h2>{record.name}</h2>
        <p className="soft">
          {dayAndTime(beganAtMs(record))} · {OUTCOME_WORDS[record.outcome]}
          {record.plan.pieces ? ` · ${record.plan.pieces}` : ''}
          {second ? ` · beside “${names[1]}” (dashed)` : ''}
        </p>
      </header>
      {going ? (
        <MessageCard
          level={leftOn ? 'stop' : 'note'}
          message={
            leftOn
              ? 'This run was ended with the supply on, and nobody has said since that it is off.'
              : 'This run is still going on.'
          }
          remedy={
            leftOn
              ? 'Switch the supply off, look, then say so at the run; it is written up after that.'
              : 'It is written up when it is over.'
          }
        >
          {leftOn ? <ActionButton onPress={toRun}>Go to the run</ActionButton> : null}
        </MessageCard>
      ) : null}
      {trouble ? <MessageCard level="stop" message={trouble.message} remedy={trouble.remedy} /> : null}
      <div className="row">
        <ActionButton look="small" onPress={() => void repeatRun(services, record)}>
          Repeat it as a new job
        </ActionButton>
        <ActionButton
          look="small"
          aria-pressed={picking}
          onPress={() =>
            runs.logbook.state.setState(
              compareId ? { compareId: null, picking: false } : { picking: !picking },
            )
          }
        >
          {compareId
            ? 'End comparing'
            : picking
              ? 'Choose the other run in the list…'
              : 'Compare with another run'}
        </ActionButton>
        <ActionButton
          look="small"
          isDisabled={readings.tS.length === 0}
          onPress={() =>
            giveFile(
              new Blob(
                [exportLog(readings, `${record.name}, begun ${utcText(beganAtMs(record))} UTC`, readerCsv())],
                {
                  type: 'text/csv',
                },
              ),
              `${safeFileName(`${record.name} ${utcText(beganAtMs(record)).slice(0, 10)}`)}.csv`,
            )
          }
        >
          Readings as CSV
        </ActionButton>
        {going ? null : (
          <ActionButton look="small" onPress={() => setAsking(!asking)}>
            Remove…
          </ActionButton>
        )}
      </div>
      {asking ? (
        <MessageCard
          level="check"
          message="Remove this run with its readings and photos from the book?"
          remedy="Only a backup would bring it back."
        >
          <ActionButton onPress={() => void remove()}>Remove it</ActionButton>
          <ActionButton onPress={() => setAsking(false)}>Keep it</ActionButton>
        </MessageCard>
      ) : null}
      {readings.tS.length > 1 ? (
        <TracePlot
          label={`Volts and amps over ${Math.round((readings.tS.at(-1) ?? 0) / 60)} minutes of ${names.filter((name) => name !== '').join(' and ')}`}
          traces={traces}
          marks={record.events.map(({ atS, level }) => ({ atS, alarm: level === 'alarm' }))}
          temperatureIn={withTemperature ? (system === 'us' ? '°F' : '°C') : null}
        />
      ) : (
        <p className="soft">No readings were taken.</p>
      )}
      <RunSettings first={record} second={second?.record ?? null} names={names} />
      {second ? null : (
        <>
          <Films record={record} />
          <Overrun record={record} />
          <EventsAndNotes record={record} />
          {going ? null : <RunWriteUp record={record} />}
          <DisclosureSection title="What went wrong?" state="symptoms, causes, the way back">
            <TroubleOfRun record={record} readings={readings} filmM={record.film?.valueM ?? null} />
          </DisclosureSection>
        </>
      )}
    </article>
  );
}

function Films({ record }: { readonly record: RunRecord }) {
  const measured = measuredFilm(record);
  const { film, plan, facts } = record;
  if (!measured && !film) return null;
  return (
    <section className="figure-pair" aria-label="Film">
      {film ? (
        <FigureView
          size="small"
          figure={{
            label: liveSpans(record.events).some(({ likely, short }) => !short && likely < 0.999)
              ? 'Film by charge, of the part that kept contact'
              : 'Film by charge',
            kind: 'length',
            unit: 'µm',
            valueSi: film.valueM,
            lowSi: film.lowM,
            highSi: film.highM,
            formula: 'd = Q / (k · A), of the part that kept contact',
            inputs: [
              { symbol: 'Q', label: 'charge', kind: 'charge', valueSi: facts?.chargeC ?? 0, unit: 'A·h' },
              {
                symbol: 'k',
                label: 'charge constant',
                kind: 'chargePerVolume',
                valueSi: plan.chargePerVolumeCPerM3,
              },
              { symbol: 'A', label: 'coated area', kind: 'area', valueSi: plan.areaM2 },
            ],
            source: plan.chargeSource,
          }}
        />
      ) : null}
      {measured ? <FigureView size="small" figure={measured} /> : null}
    </section>
  );
}

function EventsAndNotes({ record }: { readonly record: RunRecord }) {
  const system = useApp((state) => state.unitSystem);
  const lines = wholeRunLines(record);
  if (record.events.length === 0 && lines.length === 0) return null;
  return (
    <section className="stack" aria-label="What happened">
      <h3>What happened</h3>
      {record.events.map((event) => {
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
      {lines.length > 0 ? <RunLines lines={lines} /> : null}
    </section>
  );
}
