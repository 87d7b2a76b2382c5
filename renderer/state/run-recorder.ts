/**
 * The run in progress: the one place where its clock, readings, watch and storage meet. A reading, a mark and a lock that comes free
 * all change the same state, and each is written before it is shown as kept. See run-view.ts for what it shows and can do.
 */
import { createStore } from 'zustand/vanilla';
import { success, type Result } from '../../core/result.ts';
import { joinLog } from '../../core/run/join-readings.ts';
import type { Reading, ReadingOrigin } from '../../core/run/readings.ts';
import { denyJump, lookAtClock, noteStep, runTimeMs } from '../../core/run/step-clock.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { createOtherRuns } from './other-runs.ts';
import { followedLook, practiseClock, realClock, type RunClock } from './run-clock.ts';
import { dealWithRun, endRampOnTime, markRun, readAfterEnd, sayRunOff, silenceRun } from './run-edits.ts';
import { noRunForLog, RUN_TAKEN_OVER, runInProgress } from './run-refusals.ts';
import { ended, isOver, newRecord, withResults, withUnwritten } from './run-results.ts';
import { POWER_NEVER, powerAt, shownRun, type PowerNow } from './run-shown.ts';
import { storageFailure, type StoredRun } from './run-store.ts';
import { keepsRun, NO_RUN, type RecorderParts, type RunRecorder, type RunView } from './run-view.ts';
import { putRightText, typedReadings } from './typed-readings.ts';
import { worthKeeping } from './readings-past-hold.ts';
import { createRunWatching } from './run-watching.ts';
import { createRunWriter } from './run-writer.ts';
import { simulatedFeed, type SimulatedFeed } from './simulated-feed.ts';

const LOOK_EVERY_MS = 1000;
const FIND_WITHIN_MS = 1500;

export function createRunRecorder(parts: RecorderParts): RunRecorder {
  const { store, lock, journal, machine, onTrouble } = parts;
  const view = createStore<RunView>(() => NO_RUN);
  const watching = createRunWatching();

  let record: RunRecord | null = null;
  let role: RunView['role'] = null;
  let clock: RunClock = realClock(machine);
  let feed: SimulatedFeed | null = null;
  let waitingKelvin: number | undefined;
  /** The last two that a supply said once the run was over. */
  let afterEnd: readonly Omit<Reading, 'tS'>[] = [];
  let complained = '';
  let lastLookWrittenMs = -Infinity;
  /** Counts what the user asked to be shown; a search that was overtaken by it gives up. */
  let asked = 0;
  let stopFollowing: () => void = () => {};

  const trouble = (fault: unknown): void => {
    const said = storageFailure(fault);
    if (said.code !== complained) onTrouble(said, 'stop');
    complained = said.code;
  };
  const writer = createRunWriter({
    store,
    journal,
    run: () =>
      record && role === 'owner'
        ? { record, list: watching.list(), readings: watching.readings(), waitingKelvin }
        : null,
    onWritten: () => {
      complained = '';
    },
    onFault: trouble,
    onRest: () => {
      view.setState({ kept: writer.isKept() });
      giveBackIfOver();
    },
  });
  const others = createOtherRuns(
    view,
    parts,
    () => record?.id,
    () => refresh(),
    trouble,
  );

  const change = (next: RunRecord): void => {
    if (next === record) return;
    record = next;
    writer.touch();
  };

  const append = (more: readonly Reading[], origin: ReadingOrigin): void => {
    const after = watching.lastS() ?? -Infinity;
    const usable = more.filter(({ tS }, i) => tS >= (i === 0 ? after : more[i - 1]!.tS));
    if (!record || usable.length === 0) return;
    writer.add(usable);
    change(watching.append(usable, origin, record));
  };

  const powerNow = (): PowerNow => (record ? powerAt(record, shownLook()) : POWER_NEVER);

  /** Seconds since the power went on, which go on past the hold: a supply that is read is read until the run is over. */
  const sincePowerOnS = (): number | null => {
    const { onMs } = powerNow();
    if (!record || onMs === null || record.endedAtMs !== null) return null;
    return Math.max(0, (runTimeMs(record.clock, clock.look()) - onMs) / 1000);
  };

  /** What a supply says: past the hold as much of it as is needed. */
  const appendRead = (more: readonly Reading[], origin: 'supply' | 'simulated'): void => {
    if (!record) return;
    const { powerS, isOn } = powerNow();
    append(isOn || powerS === null ? more : worthKeeping(more, watching.list(), record.plan, powerS), origin);
  };

  const shownLook = () => (role === 'follower' && record ? followedLook(record, clock.look()) : clock.look());

  const refresh = (): void => {
    if (!record) return view.setState({ ...NO_RUN, ...others.now() });
    const shown = shownRun(record, shownLook(), watching);
    view.setState({ ...shown, ...others.now(), role, kept: writer.isKept() });
  };

  const finishIfOver = (): void => {
    if (!record || record.endedAtMs !== null || !isOver(record)) return;
    change(ended(record, watching.readings(), watching.progress()));
    writer.rewrite();
    feed = null;
    afterEnd = [];
    void writer.flush();
  };

  /** Another window may open the entry of a run that is over, once it is written; what was left on stays this one's. */
  const giveBackIfOver = (): void => {
    if (record && role === 'owner' && record.outcome !== 'running' && writer.isKept()) lock.giveBack();
  };

  const takeStored = (stored: StoredRun): void => {
    record = stored.record;
    afterEnd = [];
    watching.goOn(stored.readings, record);
    if (stored.trouble) onTrouble(stored.trouble, 'stop');
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
    watching.clear();
    takeStored(unwritten ? withUnwritten(stored.value, unwritten) : stored.value);
    role = 'owner';
    const found = record!;
    const { practise } = found;
    clock = practise
      ? practiseClock(machine, found.clock.lastLook?.wallMs ?? found.createdAtMs, practise.speed)
      : realClock(machine);
    feed = practise && found.endedAtMs === null ? simulatedFeed(found.plan, practise) : null;
    writer.reset(unwritten !== null);
    waitingKelvin = unwritten?.waitingKelvin;
    tick();
    others.look();
    return success(null);
  };

  const clear = (): void => {
    record = null;
    role = null;
    watching.clear();
    feed = null;
    writer.reset(false);
    waitingKelvin = undefined;
    stopFollowing = () => {};
    refresh();
  };

  const leave = async (): Promise<void> => {
    stopFollowing();
    // What is not written yet must be, before another window may take over.
    await writer.settled();
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
      onTrouble(RUN_TAKEN_OVER, 'check');
      return own(id);
    });
  };

  const searchAgain = async (): Promise<RunRecord | null> => {
    const mine = ++asked;
    await others.listed;
    for (const { id } of view.getState().running) {
      // A page that is loaded again may come before its own lock is given back.
      const had = mine === asked && (await lock.take(id, { withinMs: FIND_WITHIN_MS }));
      if (mine !== asked) return null;
      if (!had) continue;
      const owned = await own(id);
      if (owned.ok) return record;
      lock.giveBack();
    }
    others.look();
    return null;
  };

  const tick = (): void => {
    others.tick();
    if (!record) {
      if (view.getState().running.length > 0) refresh();
      return;
    }
    if (role === 'owner' && record.endedAtMs === null) {
      const looked = lookAtClock(record.clock, clock.look());
      const found = looked.findings.length > record.clock.findings.length;
      record = { ...record, clock: looked };
      if (found || machine.forwardMs() - lastLookWrittenMs >= LOOK_EVERY_MS) {
        lastLookWrittenMs = machine.forwardMs();
        writer.touch();
      }
      change(endRampOnTime(record, clock.look()));
      const sinceOnS = sincePowerOnS();
      if (feed && sinceOnS !== null) {
        appendRead(feed.between(watching.lastS() ?? -1, sinceOnS).map(withTypedTemperature), 'simulated');
      }
      finishIfOver();
    }
    if (role === 'owner' && !writer.isKept()) void writer.flush();
    refresh();
  };

  const withTypedTemperature = (reading: Reading): Reading => {
    if (waitingKelvin === undefined || reading.bathTemperatureK !== undefined) return reading;
    const warm = { ...reading, bathTemperatureK: waitingKelvin };
    waitingKelvin = undefined;
    return warm;
  };

  const act = (next: (now: RunRecord) => RunRecord): void => {
    if (!record || role !== 'owner') return;
    if (record.endedAtMs !== null && writer.isKept()) {
      // What is written up in the logbook meanwhile stays.
      void store.change(record.id, next).then(giveBackIfOver, trouble);
      record = next(record);
      return refresh();
    }
    change(next(record));
    finishIfOver();
    writer.keep();
    refresh();
  };

  return {
    view,

    async start(run) {
      if (keepsRun({ record, role })) return runInProgress(record!.name);
      asked++;
      await leave();
      const id = parts.newId();
      await lock.take(id, 'any');
      try {
        await store.create(newRecord(run, id, machine.wallMs()), run.job, run.models);
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
      const found = await searchAgain();
      others.begin();
      refresh();
      return found;
    },

    leave() {
      asked++;
      return leave();
    },

    mark(kind) {
      act((now) => markRun(now, kind, clock.look()));
    },

    holdRamp(waits) {
      act((now) => ({ ...now, waitsAtRamp: waits }));
    },

    note(text) {
      if (text.trim() !== '')
        act((now) => ({ ...now, clock: noteStep(now.clock, text.trim(), clock.look()) }));
    },

    denyJump() {
      act((now) => ({ ...now, clock: denyJump(now.clock) }));
    },

    silence(calls) {
      act((now) => silenceRun(now, calls));
    },

    silenceHere(calls) {
      others.silence(calls);
      refresh();
    },

    sayOff() {
      act((now) => sayRunOff(now, runTimeMs(now.clock, clock.look())));
    },

    dealWith() {
      act(dealWithRun);
    },

    setSpeed(speed) {
      clock.setSpeed(speed);
      act((now) => (now.practise ? { ...now, practise: { ...now.practise, speed } } : now));
    },

    act(makeAct) {
      const sinceOnS = sincePowerOnS();
      if (!record?.practise || !feed || role !== 'owner' || sinceOnS === null) return;
      const atS = Math.max(sinceOnS, watching.lastS() ?? 0);
      const practise = { ...record.practise, acts: [...record.practise.acts, makeAct(atS)] };
      feed = simulatedFeed(record.plan, practise);
      act((now) => ({ ...now, practise }));
    },

    addTyped(reading) {
      const { powerS, isOn } = powerNow();
      const typed = typedReadings(
        reading,
        isOn && role === 'owner' ? powerS : null,
        watching.lastS(),
        record?.plan.rampS ?? 0,
      );
      if (!typed.ok) return typed;
      append(typed.value, 'typed');
      writer.keep();
      refresh();
      return success(null);
    },

    addLive(reading, ageS) {
      if (record && record.endedAtMs !== null) {
        afterEnd = [...afterEnd.slice(-1), reading];
        return act((now) =>
          readAfterEnd(now, afterEnd, watching.readings(), runTimeMs(now.clock, clock.look())),
        );
      }
      const sinceOnS = sincePowerOnS();
      if (sinceOnS === null || role !== 'owner' || sinceOnS < ageS) return;
      appendRead(
        [withTypedTemperature({ tS: Math.round((sinceOnS - ageS) * 1000) / 1000, ...reading })],
        'supply',
      );
      writer.keep();
      refresh();
    },

    typeTemperature(bathTemperatureK) {
      waitingKelvin = bathTemperatureK;
      writer.keep();
    },

    removeLast() {
      if (!record || role !== 'owner' || watching.lastS() === null) return;
      change(watching.removeLast(record));
      writer.rewrite();
      writer.keep();
      refresh();
    },

    putRight(tS, right) {
      const wrong = watching.list().find((reading) => reading.tS === tS);
      if (!record || role !== 'owner' || !wrong) return;
      const text = putRightText(wrong, right);
      const entry = { atMs: runTimeMs(record.clock, clock.look()), kind: 'put-right', text };
      change(watching.putAt(tS, right, { ...record, log: [...record.log, entry] }));
      writer.rewrite();
      writer.keep();
      refresh();
    },

    joinLog(log, startS, fileName) {
      if (!record || role !== 'owner') return noRunForLog();
      const text = `${log.tS.length} readings from ${fileName}`;
      const entry = { atMs: clock.look().wallMs, kind: 'import', text };
      const joined = joinLog(watching.readings(), log, startS);
      const now = watching.replace(joined, { ...record, log: [...record.log, entry] });
      change(now.endedAtMs === null ? now : withResults(now, joined, watching.progress()));
      writer.rewrite();
      writer.keep();
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

    settled: writer.settled,
  };
}
