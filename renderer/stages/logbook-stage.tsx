import { useEffect, useMemo, useRef, useState } from 'react';
import { TextField, Input, Label } from 'react-aria-components';
import { exportRuns } from '../../core/shop/export-runs.ts';
import { findRuns } from '../../core/shop/find-runs.ts';
import { RUN_OUTCOMES } from '../../core/shop/run-record.ts';
import type { RunSummary } from '../../core/shop/run-summary.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useLogbook, useServices } from '../app/services.ts';
import { backUpBook, restoreBook } from '../state/book-backup.ts';
import { giveFile } from '../state/give-file.ts';
import { dropNotices, notify, notifyOfFile } from '../state/notices.ts';
import { readerCsv } from '../state/reader-csv.ts';
import { runNotes } from '../state/run-notes.ts';
import { storageFailure } from '../state/run-store.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { LongList } from '../widgets/long-list.tsx';
import { OUTCOME_WORDS } from './outcome-words.ts';
import { dayAndTime } from './spoken-time.ts';
import { StageHead } from './stage-head.tsx';
import './run-stages.css';

const ROW_PX = 96;
/** What kept a backup from being read stands until another is chosen. */
const RESTORE_REFUSED = 'restore-refused';

/** Every run of the shop: found, opened, compared, learnt from, kept safe. */
export function LogbookStage() {
  const { runs: services, store } = useServices();
  const { logbook } = services;
  const { runs, filter, ready, unreadable, page, picking, compareId } = useLogbook((state) => state);
  const openId = useApp((state) => state.openRunId);
  const found = useMemo(() => findRuns(runs, filter), [runs, filter]);
  useEffect(() => logbook.follow((fault) => notify(store, storageFailure(fault))), [logbook, store]);
  const choose = (run: RunSummary): void => {
    if (picking && run.id !== openId) logbook.state.setState({ compareId: run.id, picking: false });
    else {
      store.setState({ openRunId: run.id });
      logbook.state.setState({ page: 'run', picking: false, compareId: null });
    }
  };
  const change = (next: Partial<typeof filter>): void =>
    logbook.state.setState({ filter: { ...filter, ...next } });
  return (
    <>
      <StageHead title="Logbook">
        Every run with its plan, readings, notes and what came of it. The next run learns from it.
      </StageHead>
      <section className="stack" aria-label="Find a run">
        <TextField className="field" value={filter.text} onChange={(text) => change({ text })}>
          <Label>Search name, piece, note, dye, colour</Label>
          <Input type="search" autoComplete="off" />
        </TextField>
        <div className="two">
          <ChooseFrom
            label="Outcome"
            options={[
              { id: 'any', label: 'any' },
              ...RUN_OUTCOMES.map((id) => ({ id, label: OUTCOME_WORDS[id] })),
            ]}
            chosen={filter.outcome}
            onChoose={(outcome) => change({ outcome })}
          />
          <ChooseFrom
            label="Real or practise"
            options={[
              { id: 'all', label: 'both' },
              { id: 'real', label: 'real runs' },
              { id: 'simulated', label: 'practise' },
            ]}
            chosen={filter.kind}
            onChoose={(kind) => change({ kind })}
          />
        </div>
        <p className="soft" role="status">
          {ready
            ? `${found.length} of ${runs.length} ${runs.length === 1 ? 'run' : 'runs'}`
            : 'Reading the book…'}
          {unreadable > 0 ? `; ${unreadable} entries of another version are kept but not shown` : ''}
          {picking ? '; choose the run to compare with' : ''}
        </p>
      </section>
      {found.length > 0 ? (
        <LongList
          label="Runs"
          items={found}
          keyOf={(run) => run.id}
          rowPx={ROW_PX}
          chosen={compareId ?? openId}
          onChoose={choose}
          row={(run) => <RunRow run={run} />}
        />
      ) : ready ? (
        <p className="soft">
          {runs.length === 0
            ? 'No run is in the book yet: start one at the stage before this, or restore a backup.'
            : 'No run matches; clear the search.'}
        </p>
      ) : null}
      <ActionButton
        onPress={() => logbook.state.setState({ page: page === 'learning' ? 'run' : 'learning' })}
        aria-pressed={page === 'learning'}
      >
        {page === 'learning' ? 'Back to the runs' : 'What these runs teach'}
      </ActionButton>
      <BookFile shown={found} />
    </>
  );
}

function RunRow({ run }: { readonly run: RunSummary }) {
  const system = useApp((state) => state.unitSystem);
  const film = run.measuredM ?? run.filmM;
  const micro = (valueM: number): string =>
    system === 'us' ? `${(valueM / 25.4e-6).toFixed(2)} mil` : `${(valueM * 1e6).toFixed(1)} µm`;
  return (
    <>
      <span className="run-name">{run.name}</span>
      <span className="soft">
        {run.simulated ? <span className="tag">simulated</span> : null}
        {dayAndTime(run.startedAtMs)}
      </span>
      <span className="soft">
        {OUTCOME_WORDS[run.outcome]}
        {run.alarms > 0 ? ` · ${run.alarms} alarm${run.alarms > 1 ? 's' : ''}` : ''}
      </span>
      <span className="soft">
        {formatQuantity('area', run.areaM2, system, 3).text}
        {film === null ? '' : ` · ${micro(film)}${run.measuredM === null ? ' by charge' : ' measured'}`}
        {run.dye ? ` · ${run.dye}` : ''}
      </span>
    </>
  );
}

function BookFile({ shown }: { readonly shown: readonly RunSummary[] }) {
  const { runs, store } = useServices();
  const [busy, setBusy] = useState('');
  const [said, setSaid] = useState('');
  const chooser = useRef<HTMLInputElement>(null);
  const status = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (said !== '') status.current?.scrollIntoView({ block: 'nearest' });
  }, [said]);
  const day = (): string => new Date().toISOString().slice(0, 10);
  const backUp = async (): Promise<void> => {
    setSaid('');
    try {
      const blob = await backUpBook(runs.database, runs.store, Date.now(), (done, of) =>
        setBusy(`Packing ${done} of ${of} runs…`),
      );
      giveFile(blob, `tankside-book-${day()}.zip`);
      setSaid('The backup is with your downloads. Keep a copy on another machine.');
    } catch (fault) {
      notify(store, storageFailure(fault));
    }
    setBusy('');
  };
  const giveRuns = async (): Promise<void> => {
    try {
      const notes = await runNotes(
        runs.database,
        shown.map(({ id }) => id),
      );
      giveFile(new Blob([exportRuns(shown, notes, readerCsv())], { type: 'text/csv' }), `runs-${day()}.csv`);
    } catch (fault) {
      notify(store, storageFailure(fault));
    }
  };
  const restore = async (file: File): Promise<void> => {
    setSaid('');
    dropNotices(store, RESTORE_REFUSED);
    setBusy('Reading the backup…');
    const came = await restoreBook(runs.database, new Uint8Array(await file.arrayBuffer()), (done, of) =>
      setBusy(`Restoring ${done} of ${of}…`),
    );
    setBusy('');
    if (!came.ok) return notifyOfFile(store, { ...came.error, code: RESTORE_REFUSED });
    const { added, newer, same, refused } = came.value;
    setSaid(
      `${added} entries came new, ${newer} were newer in the backup and replaced older ones, ${same} were already here${
        refused > 0 ? `, ${refused} could not be read and were left out` : ''
      }.`,
    );
  };
  return (
    <section className="stack" aria-label="Keep it safe">
      <h3>Keep it safe</h3>
      <div className="row">
        <ActionButton look="small" isDisabled={busy !== ''} onPress={() => void backUp()}>
          Back up the whole book
        </ActionButton>
        <ActionButton look="small" isDisabled={busy !== ''} onPress={() => chooser.current?.click()}>
          Restore a backup…
        </ActionButton>
        <ActionButton look="small" isDisabled={shown.length === 0} onPress={() => void giveRuns()}>
          These runs as CSV
        </ActionButton>
      </div>
      <input
        ref={chooser}
        type="file"
        accept=".zip"
        hidden
        aria-label="Backup file"
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = '';
          if (file) void restore(file);
        }}
      />
      <p className="soft" role="status" ref={status}>
        {busy ||
          said ||
          'Tanks, supplies, hangers, baths, dyes, dips, runs, readings and photos in one file.'}
      </p>
    </section>
  );
}
