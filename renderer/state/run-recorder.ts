/**
 * The run in progress: the one place where its clock, readings, watch and storage meet. Above 400 lines because the owner's
 * state is one: a reading, a mark and a lock that comes free all change it, and each must be written before it is shown as kept.
 */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Job } from '../../core/job/job.ts';
import { failure, success, type Failure, type Result } from '../../core/result.ts';
import { joinedOrigin, joinLog } from '../../core/run/join-readings.ts';
import { powerSpan } from '../../core/run/power-span.ts';
import {
  readingAt,
  readingsFrom,
  type Reading,
  type ReadingOrigin,
  type Readings,
} from '../../core/run/readings.ts';
import { runFacts } from '../../core/run/run-facts.ts';
import type { RunProgress } from '../../core/run/run-progress.ts';
import {
  currentStep,
  denyJump,
  lookAtClock,
  markStep,
  newStepClock,
  noteStep,
  runTimeMs,
  stepTimers,
  type RunStep,
  type StepTimer,
} from '../../core/run/step-clock.ts';
import { feedRunWatch, newRunWatch, watchedRun, type RunWatch } from '../../core/run/watch-run.ts';
import type { LoadPlan, Practise, RunRecord, SaidEvent } from '../../core/shop/run-record.ts';
import { practiseClock, realClock, type MachineClock, type RunClock } from './run-clock.ts';
import { withJournal, type JournalEntry, type RunJournal } from './run-journal.ts';
import type { RunLock } from './run-lock.ts';
import { NO_READINGS, storageFailure, type RunStore, type StoredRun } from './run-store.ts';
import { simulatedFeed, type SimulatedFeed } from './simulated-feed.ts';

/** What the window shows of the run; new after every tick. */
export interface RunView {
  readonly record: RunRecord | null;
  /** The owner writes; a follower shows what another window writes. */
  readonly role: 'owner' | 'follower' | null;
  readonly readings: Readings;
  /** The run's own time. */
  readonly nowMs: number;
  readonly timers: readonly StepTimer[];
  readonly step: number;
  readonly powerOnMs: number | null;
  /** Seconds since power on, standing still once it is off; null before. */
  readonly powerS: number | null;
  readonly powerIsOn: boolean;
  readonly progress: RunProgress | null;
  readonly events: readonly SaidEvent[];
  /** The first thing said that nobody has silenced yet. */
  readonly alarm: SaidEvent | null;
  /** Whether all that was entered is in the book. */
  readonly kept: boolean;
  /** Runs in progress in the book, this one too. */
  readonly running: readonly { readonly id: string; readonly name: string }[];
}

export interface NewRun {
  readonly name: string;
  readonly plan: LoadPlan;
  readonly steps: readonly RunStep[];
  readonly job: Job;
  readonly models: ReadonlyMap<string, Uint8Array>;
  readonly practise: Practise | null;
  readonly supplyId: string | null;
}

export interface RunRecorder {
  readonly view: StoreApi<RunView>;
  start(run: NewRun): Promise<Result<null>>;
  /** Owns the run if no other window does, else follows it and owns it when that window is gone. */
  open(id: string): Promise<Result<null>>;
  /** Takes over the newest run in progress that no window owns; null where there is none. */
  findAgain(): Promise<RunRecord | null>;
  /** Stops showing the run; it goes on. */
  leave(): Promise<void>;
  mark(kind: 'begin' | 'next' | 'pause' | 'resume' | 'end'): void;
  note(text: string): void;
  denyJump(): void;
  silence(): void;
  setSpeed(speed: number): void;
  addTyped(reading: Omit<Reading, 'tS'>): Result<null>;
  /** From a supply, `ageS` ago; a temperature typed meanwhile goes with the next one. */
  addLive(reading: Omit<Reading, 'tS'>, ageS: number): void;
  typeTemperature(bathTemperatureK: number): void;
  /** Takes the last typed reading back. */
  removeLast(): void;
  joinLog(log: Readings, startS: number, fileName: string): Result<null>;
  noteInLog(kind: string, text: string): void;
  useSupply(supplyId: string | null): void;
  /** About four times a second. */
  tick(): void;
  /** Resolves when everything is in the book. */
  settled(): Promise<void>;
}

export interface RecorderParts {
  readonly store: RunStore;
  readonly lock: RunLock;
  readonly journal: RunJournal;
  readonly machine: MachineClock;
  readonly newId: () => string;
  readonly onTrouble: (failure: Failure) => void;
}

const PACK_AFTER = 400;
const LOOK_EVERY_MS = 1000;
const FIND_WITHIN_MS = 1500;

const EMPTY: RunView = {
  record: null,
  role: null,
  readings: NO_READINGS,
  nowMs: 0,
  timers: [],
  step: 0,
  powerOnMs: null,
  powerS: null,
  powerIsOn: false,
  progress: null,
  events: [],
  alarm: null,
  kept: true,
  running: [],
};

export function createRunRecorder(parts: RecorderParts): RunRecorder {
  const { store, lock, journal, machine, onTrouble } = parts;
  const view = createStore<RunView>(() => EMPTY);

  let record: RunRecord | null = null;
  let role: RunView['role'] = null;
  let clock: RunClock = realClock(machine);
  let list: Reading[] = [];
  let readings: Readings = NO_READINGS;
  let watch: RunWatch | null = null;
  let watched: ReturnType<typeof watchedRun> | null = null;
  let feed: SimulatedFeed | null = null;
  let pendingKelvin: number | undefined;
  /** Not in the book, and not on its way there. */
  let fresh: Reading[] = [];
  let underWay: readonly Reading[] = [];
  let unpacked = 0;
  let packNext = false;
  let packing = false;
  let dirty = false;
  let writing: Promise<void> | null = null;
  let complained = '';
  let lastLookWrittenMs = -Infinity;
  /** Counts what the user asked to be shown; a search that was overtaken by it gives up. */
  let asked = 0;
  let stopFollowing: () => void = () => {};

  const trouble = (fault: unknown): void => {
    const said = storageFailure(fault);
    if (said.code !== complained) onTrouble(said);
    complained = said.code;
  };
  const firstLook = new Promise<void>((resolve) => {
    store.followRunning(
      (running) => {
        view.setState({ running });
        resolve();
      },
      (fault) => {
        trouble(fault);
        resolve();
      },
    );
  });

  /** Writes what is not yet in the book, one write at a time; what fails is kept and tried again at the next tick. */
  const flush = (): Promise<void> => {
    if (writing) return writing;
    writing = (async () => {
      while (dirty && record && role === 'owner') {
        dirty = false;
        const batch = fresh;
        const pack = packNext || unpacked >= PACK_AFTER;
        underWay = batch;
        fresh = [];
        packing = pack;
        packNext = false;
        try {
          if (pack) await store.pack(record, readings);
          else await store.write(record, batch);
          unpacked = pack ? 0 : unpacked + batch.length;
          complained = '';
        } catch (fault) {
          fresh = [...batch, ...fresh];
          packNext ||= pack;
          dirty = true;
          trouble(fault);
          break;
        } finally {
          underWay = [];
          packing = false;
        }
      }
      if (!dirty && record && role === 'owner' && pendingKelvin === undefined) journal.clear(record.id);
    })().finally(() => {
      writing = null;
      view.setState({ kept: !dirty });
    });
    return writing;
  };

  /** What was entered stands in the journal before the entry is answered, and in the book a moment later. */
  const keep = (): void => {
    if (record && role === 'owner') {
      journal.put({
        record,
        fresh: packNext || packing ? list : [...underWay, ...fresh],
        replaces: packNext || packing,
        waitingKelvin: pendingKelvin,
      });
    }
    void flush();
  };

  const change = (next: RunRecord): void => {
    record = next;
    dirty = true;
  };

  const typedOnly = (): boolean => record?.origin === 'typed';

  const watchAll = (): void => {
    if (!record) return;
    const typed = typedOnly();
    watch = newRunWatch(record.plan, typed);
    watchNew();
  };

  const watchNew = (): void => {
    if (!record || !watch) return;
    watch = feedRunWatch(watch, readings);
    watched = readings.tS.length > 0 ? watchedRun(readings, record.plan, watch.watch.events()) : null;
    const events =
      watched?.events.map((event): SaidEvent => ({ ...event, areaLeft: [...event.areaLeft] })) ?? [];
    if (JSON.stringify(events) !== JSON.stringify(record.events)) change({ ...record, events });
  };

  const takeReadings = (origin: ReadingOrigin): void => {
    if (!record) return;
    const was = record.origin;
    const now = was === null ? origin : joinedOrigin(was, origin);
    readings = readingsFrom(list, now);
    if (now !== was) {
      change({ ...record, origin: now });
      watchAll();
    } else watchNew();
  };

  const append = (more: readonly Reading[], origin: ReadingOrigin): void => {
    const after = list.at(-1)?.tS ?? -Infinity;
    const usable = more.filter(({ tS }, i) => tS >= (i === 0 ? after : more[i - 1]!.tS));
    if (!record || usable.length === 0) return;
    list.push(...usable);
    fresh.push(...usable);
    dirty = true;
    takeReadings(origin);
  };

  const powerNow = (): { onMs: number | null; powerS: number | null; isOn: boolean } => {
    if (!record) return { onMs: null, powerS: null, isOn: false };
    const { onMs, offMs } = powerSpan(record.clock);
    const nowMs = runTimeMs(record.clock, shownLook());
    return {
      onMs,
      powerS: onMs === null ? null : Math.max(0, ((offMs ?? nowMs) - onMs) / 1000),
      isOn: onMs !== null && offMs === null,
    };
  };

  /** A follower can't know how fast another window's practise run goes on. */
  const shownLook = () =>
    role === 'follower' && record?.practise && record.clock.lastLook ? record.clock.lastLook : clock.look();

  const refresh = (): void => {
    if (!record) {
      view.setState({ ...EMPTY, running: view.getState().running });
      return;
    }
    const look = shownLook();
    const { onMs, powerS, isOn } = powerNow();
    const { events } = record;
    view.setState({
      record,
      role,
      readings,
      nowMs: runTimeMs(record.clock, look),
      timers: stepTimers(record.clock, look),
      step: currentStep(record.clock),
      powerOnMs: onMs,
      powerS,
      powerIsOn: isOn,
      progress: watched?.progress ?? null,
      events,
      alarm:
        record.endedAtMs === null
          ? (events.slice(record.silenced).find(({ level }) => level === 'alarm') ?? null)
          : null,
      kept: !dirty,
    });
  };

  const isOver = (): boolean => {
    if (!record) return true;
    return (
      record.clock.marks.some(({ kind }) => kind === 'end') ||
      currentStep(record.clock) >= record.clock.steps.length
    );
  };

  const withResults = (now: RunRecord): RunRecord => {
    const thickness = watched?.progress.thicknessM;
    return {
      ...now,
      facts: runFacts(readings, now.plan.rampS, now.events),
      film: thickness
        ? {
            valueM: thickness.valueSi,
            lowM: thickness.lowSi ?? thickness.valueSi,
            highM: thickness.highSi ?? thickness.valueSi,
          }
        : null,
    };
  };

  const finishIfOver = (): void => {
    if (!record || record.endedAtMs !== null || !isOver()) return;
    change({
      ...withResults(record),
      endedAtMs: record.clock.marks.at(-1)?.atMs ?? record.createdAtMs,
      outcome: 'unjudged',
      silenced: record.events.length,
    });
    packNext = true;
    feed = null;
    // Another window may open the entry; its lock is given back once it is written.
    void flush().then(() => {
      if (!dirty) lock.giveBack();
    });
  };

  const takeStored = (stored: StoredRun): void => {
    record = stored.record;
    readings = stored.readings;
    list = Array.from(readings.tS, (_, i) => readingAt(readings, i));
    if (stored.trouble) onTrouble(stored.trouble);
    watch = null;
    watched = null;
    if (record.origin !== null) {
      watch = newRunWatch(record.plan, typedOnly());
      watch = feedRunWatch(watch, readings);
      watched = readings.tS.length > 0 ? watchedRun(readings, record.plan, watch.watch.events()) : null;
    }
  };

  const own = async (id: string): Promise<Result<null>> => {
    stopFollowing();
    stopFollowing = () => {};
    const stored = await store
      .load(id)
      .catch((fault: unknown) => ({ ok: false as const, error: storageFailure(fault) }));
    if (!stored.ok) {
      clear();
      return stored;
    }
    const unwritten = journal.take(id);
    const inBook = stored.value;
    takeStored(unwritten ? withUnwritten(inBook, unwritten) : inBook);
    role = 'owner';
    const found = record!;
    const { practise } = found;
    clock = practise
      ? practiseClock(machine, found.clock.lastLook?.wallMs ?? found.createdAtMs, practise.speed)
      : realClock(machine);
    feed = practise && found.endedAtMs === null ? simulatedFeed(found.plan, practise) : null;
    fresh = [];
    unpacked = PACK_AFTER; // Whatever lies unpacked is packed with the next write.
    packNext = unwritten !== null;
    dirty = unwritten !== null;
    pendingKelvin = unwritten?.waitingKelvin;
    tick();
    return success(null);
  };

  const clear = (): void => {
    record = null;
    role = null;
    list = [];
    readings = NO_READINGS;
    watch = null;
    watched = null;
    feed = null;
    fresh = [];
    dirty = false;
    pendingKelvin = undefined;
    packNext = false;
    stopFollowing = () => {};
    refresh();
  };

  const settled = async (): Promise<void> => {
    await writing;
    await flush();
  };

  const leave = async (): Promise<void> => {
    stopFollowing();
    // What is not written yet must be, before another window may take over.
    await settled();
    lock.giveBack();
    clear();
  };

  const follow = (id: string): void => {
    role = 'follower';
    stopFollowing = store.follow(
      id,
      (stored) => {
        if (role !== 'follower') return;
        if (!stored.ok) return clear();
        takeStored(stored.value);
        refresh();
      },
      trouble,
    );
    void lock.take(id, 'any').then((had) => {
      if (!had) return undefined;
      onTrouble({
        code: 'run-taken-over',
        message: 'The window that kept this run is gone; this one keeps it now.',
        remedy: 'Connect the supply here if its readings should go on.',
      });
      return own(id);
    });
  };

  const tick = (): void => {
    if (!record) return;
    if (role === 'owner' && record.endedAtMs === null) {
      const look = clock.look();
      const looked = lookAtClock(record.clock, look);
      const found = looked.findings.length > record.clock.findings.length;
      record = { ...record, clock: looked };
      if (found || machine.forwardMs() - lastLookWrittenMs >= LOOK_EVERY_MS) {
        lastLookWrittenMs = machine.forwardMs();
        dirty = true;
      }
      if (feed && record.practise) {
        const { powerS, isOn } = powerNow();
        if (isOn && powerS !== null) {
          append(feed.between(list.at(-1)?.tS ?? -1, powerS).map(withTypedTemperature), 'simulated');
        }
      }
      finishIfOver();
      if (dirty) void flush();
    }
    refresh();
  };

  const withTypedTemperature = (reading: Reading): Reading => {
    if (pendingKelvin === undefined || reading.bathTemperatureK !== undefined) return reading;
    const warm = { ...reading, bathTemperatureK: pendingKelvin };
    pendingKelvin = undefined;
    return warm;
  };

  const act = (next: (now: RunRecord) => RunRecord): void => {
    if (!record || role !== 'owner') return;
    change(next(record));
    finishIfOver();
    keep();
    refresh();
  };

  return {
    view,

    async start({ name, plan, steps, job, models, practise, supplyId }) {
      if (record && record.endedAtMs === null && role === 'owner') {
        return failure(
          'run-in-progress',
          `“${record.name}” is still going on here.`,
          'End it first, or open another window.',
        );
      }
      asked++;
      await leave();
      const id = parts.newId();
      const made: RunRecord = {
        id,
        name,
        createdAtMs: machine.wallMs(),
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
        waitsAtRamp: false,
        log: [],
        facts: null,
        film: null,
        note: '',
        measured: { filmM: [], massLoss: null },
        dye: job.finish.dye.use ? job.finish.dye.name : '',
        colour: '',
        lab: null,
        jobFacts: null,
      };
      await lock.take(id, 'any');
      try {
        await store.create(made, job, models);
      } catch (fault) {
        lock.giveBack();
        return { ok: false, error: storageFailure(fault) };
      }
      return own(id);
    },

    async open(id) {
      const mine = ++asked;
      await leave();
      if (await lock.take(id, 'none')) return own(id);
      // Another run may have been asked for meanwhile.
      if (mine === asked) follow(id);
      return success(null);
    },

    async findAgain() {
      const mine = ++asked;
      await firstLook;
      for (const { id } of view.getState().running) {
        // A page that is loaded again may come before its own lock is given back.
        const had = mine === asked && (await lock.take(id, { withinMs: FIND_WITHIN_MS }));
        if (mine !== asked) return null;
        if (!had) continue;
        const owned = await own(id);
        if (owned.ok) return record;
        lock.giveBack();
      }
      return null;
    },

    leave() {
      asked++;
      return leave();
    },

    mark(kind) {
      act((now) => ({ ...now, clock: markStep(now.clock, kind, clock.look()) }));
    },

    note(text) {
      if (text.trim() !== '')
        act((now) => ({ ...now, clock: noteStep(now.clock, text.trim(), clock.look()) }));
    },

    denyJump() {
      act((now) => ({ ...now, clock: denyJump(now.clock) }));
    },

    silence() {
      act((now) => ({ ...now, silenced: now.events.length }));
    },

    setSpeed(speed) {
      clock.setSpeed(speed);
      act((now) => (now.practise ? { ...now, practise: { ...now.practise, speed } } : now));
    },

    addTyped(reading) {
      const { powerS, isOn } = powerNow();
      if (!isOn || powerS === null || role !== 'owner') {
        return failure(
          'power-not-on',
          'The power is not on in this run.',
          'Go on to the ramp first; readings count from there.',
        );
      }
      const tS = Math.round(powerS * 10) / 10;
      if (tS < (list.at(-1)?.tS ?? 0)) {
        return failure(
          'reading-behind',
          'The log put into this run already reaches beyond this moment.',
          'Put the log in again with its zero where it belongs, or after the run.',
        );
      }
      const start: Reading[] =
        list.length === 0 && tS > 0 && record!.plan.rampS > 0 ? [{ tS: 0, voltageV: 0, currentA: 0 }] : [];
      append([...start, { tS, ...reading }], 'typed');
      keep();
      refresh();
      return success(null);
    },

    addLive(reading, ageS) {
      const { powerS, isOn } = powerNow();
      if (!isOn || powerS === null || role !== 'owner' || powerS < ageS) return;
      append([withTypedTemperature({ tS: Math.round((powerS - ageS) * 1000) / 1000, ...reading })], 'supply');
      keep();
      refresh();
    },

    typeTemperature(bathTemperatureK) {
      pendingKelvin = bathTemperatureK;
      keep();
    },

    removeLast() {
      if (!record || role !== 'owner' || list.length === 0) return;
      list.pop();
      readings = readingsFrom(list, record.origin ?? 'typed');
      packNext = true;
      dirty = true;
      watchAll();
      keep();
      refresh();
    },

    joinLog(log, startS, fileName) {
      if (!record || role !== 'owner') {
        return failure(
          'run-not-here',
          'No run is open in this window to put the log into.',
          'Open the run first.',
        );
      }
      readings = joinLog(readings, log, startS);
      list = Array.from(readings.tS, (_, i) => readingAt(readings, i));
      const text = `${log.tS.length} readings from ${fileName}`;
      change({
        ...record,
        origin: readings.origin,
        log: [...record.log, { atMs: clock.look().wallMs, kind: 'import', text }],
      });
      packNext = true;
      watchAll();
      if (record.endedAtMs !== null) change(withResults(record));
      keep();
      refresh();
      return success(null);
    },

    noteInLog(kind, text) {
      act((now) => ({
        ...now,
        log: [...now.log, { atMs: runTimeMs(now.clock, clock.look()), kind, text }],
      }));
    },

    useSupply(supplyId) {
      act((now) => ({ ...now, supplyId }));
    },

    tick,

    settled,
  };
}

/** The book's entry with what the journal has beyond it. */
function withUnwritten(stored: StoredRun, unwritten: JournalEntry): StoredRun {
  const { record } = unwritten;
  const book = Array.from(stored.readings.tS, (_, i) => readingAt(stored.readings, i));
  return {
    record,
    readings: readingsFrom(withJournal(book, unwritten), record.origin ?? 'typed'),
    trouble: stored.trouble,
  };
}
