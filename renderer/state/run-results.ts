import { readingAt, readingsFrom, type Readings } from '../../core/run/readings.ts';
import { holdOverrun } from '../../core/run/hold-overrun.ts';
import { liveSpans } from '../../core/run/live-spans.ts';
import { FLOWED_SHARE } from '../../core/run/no-current.ts';
import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { powerSpan } from '../../core/run/power-span.ts';
import { runFacts } from '../../core/run/run-facts.ts';
import type { RunProgress } from '../../core/run/run-progress.ts';
import { currentStep, newStepClock } from '../../core/run/step-clock.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { runFinishOf } from '../../core/shop/run-finish.ts';
import { endsWithPower } from './left-on.ts';
import { withJournal, type JournalEntry } from './run-journal.ts';
import { isRead } from './run-power.ts';
import type { StoredRun } from './run-store.ts';
import type { NewRun } from './run-view.ts';

/** The entry of a run that begins. */
export function newRecord(run: NewRun, id: string, createdAtMs: number): RunRecord {
  const { name, plan, steps, job, practise, supplyId, jobFacts } = run;
  return {
    id,
    name,
    createdAtMs,
    endedAtMs: null,
    outcome: 'running',
    origin: null,
    practise,
    supplyId,
    plan,
    clock: newStepClock(steps),
    events: [],
    silenced: 0,
    dealtWith: 0,
    silencedCalls: [],
    saidOff: null,
    waitsAtRamp: false,
    log: [],
    facts: null,
    film: null,
    overrun: null,
    note: '',
    measured: { filmM: [], massLoss: null },
    dye: job.finish.dye.use ? job.finish.dye.name : '',
    colour: '',
    lab: null,
    labFrom: 'camera',
    finish: runFinishOf(job, plan.counts),
    jobFacts: { ...jobFacts },
  };
}

/** Whether its last step is done, or somebody ended it. */
export function isOver({ clock }: RunRecord): boolean {
  return clock.marks.some(({ kind }) => kind === 'end') || currentStep(clock) >= clock.steps.length;
}

/** What came of it, by its readings. */
export function withResults(record: RunRecord, readings: Readings, progress: RunProgress | null): RunRecord {
  const thickness = progress?.thicknessM;
  const overrun = progress
    ? holdOverrun(progress, record.plan, liveSpans(record.events), powerEnd(record, readings))
    : null;
  const facts = runFacts(readings, record.plan.rampS, record.events);
  return {
    ...record,
    // What flowed on unread is in no charge: nothing is to be learnt from that.
    facts: { ...facts, gapS: facts.gapS + (overrun?.unreadS ?? 0) },
    film: thickness
      ? {
          valueM: thickness.valueSi,
          lowM: thickness.lowSi ?? thickness.valueSi,
          highM: thickness.highSi ?? thickness.valueSi,
        }
      : null,
    overrun,
  };
}

/** The last reading, and when the power went off: as it was read, else as the steps have it. */
function powerEnd(record: RunRecord, readings: Readings): { readonly lastS: number; readonly offS: number } {
  const { onMs, offMs } = powerSpan(record.clock);
  const { tS, currentA } = readings;
  const lastS = tS.at(-1) ?? 0;
  const stepsS = onMs === null || offMs === null ? lastS : (offMs - onMs) / 1000;
  const from = currentA.findLastIndex((each) => each > FLOWED_SHARE * plannedCurrentA(record.plan)) + 1;
  const shownOffS = from > 0 ? tS[from] : undefined;
  return { lastS, offS: shownOffS ?? (isRead(record) ? lastS : Math.max(lastS, stepsS)) };
}

/** The entry of a run that is over; one that was left on stays in progress until somebody says that the supply is off. */
export function ended(record: RunRecord, readings: Readings, progress: RunProgress | null): RunRecord {
  return {
    ...withResults(record, readings, progress),
    endedAtMs: record.clock.marks.at(-1)?.atMs ?? record.createdAtMs,
    outcome: endsWithPower(record, readings) ? 'running' : 'unjudged',
  };
}

/** The book's entry with what the journal has beyond it. */
export function withUnwritten(stored: StoredRun, unwritten: JournalEntry): StoredRun {
  const { record } = unwritten;
  const book = Array.from(stored.readings.tS, (_, i) => readingAt(stored.readings, i));
  return {
    record,
    readings: readingsFrom(withJournal(book, unwritten), record.origin ?? 'typed'),
    trouble: stored.trouble,
  };
}
