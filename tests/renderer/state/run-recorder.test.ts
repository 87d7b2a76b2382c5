import { beforeEach, describe, expect, it, vi } from 'vitest';
import { emptyJob } from '../../../core/job/default-job.ts';
import type { Failure } from '../../../core/result.ts';
import { readingsFrom } from '../../../core/run/readings.ts';
import { loadPlanSchema, type Practise } from '../../../core/shop/run-record.ts';
import type { MachineClock } from '../../../renderer/state/run-clock.ts';
import { openRunJournal } from '../../../renderer/state/run-journal.ts';
import { createRunLock } from '../../../renderer/state/run-lock.ts';
import { callsElsewhere } from '../../../renderer/state/calls-elsewhere.ts';
import { standingCalls } from '../../../renderer/state/run-calls.ts';
import { powerKnown } from '../../../renderer/state/run-power.ts';
import { createRunRecorder } from '../../../renderer/state/run-recorder.ts';
import { runStanding } from '../../../renderer/state/run-standing.ts';
import type { NewRun, RunRecorder } from '../../../renderer/state/run-view.ts';
import { stepLeft } from '../../../renderer/state/step-left.ts';
import { MemoryRunStore, MemoryStorage, StandInLocks } from './stand-ins/memory-run-store.ts';

/** The machine's two clocks, set by hand. */
class Clocks {
  wall = 1_800_000_000_000;
  forward = 0;
  pass(seconds: number): void {
    this.wall += seconds * 1000;
    this.forward += seconds * 1000;
  }
  machine(start: string): MachineClock {
    return { wallMs: () => this.wall, forwardMs: () => this.forward, start };
  }
}

const plan = loadPlanSchema.parse({
  areaM2: 0.04,
  currentDensityAPerM2: 100,
  chargePerVolumeCPerM3: 1.8e10,
  chargeRelativeUncertainty: 0.1,
  chargeSource: { standing: 'published', text: '' },
  // 4 A for 4500 s after half the ramp: k · d · A = 1.8e10 · 25e-6 · 0.04 = 18 000 C.
  thicknessM: 25e-6,
  rampS: 300,
  holdS: 4350,
  supplyCurrentLimitA: null,
  supplyVoltageLimitV: null,
  bathTemperatureK: 293.15,
  acidKgPerM3: 180,
  expectedVoltageV: 15,
});

const newRun = (practise: Practise | null = null): NewRun => ({
  name: 'Plate',
  plan,
  steps: [
    { kind: 'clean', label: 'Clean', plannedS: 60 },
    { kind: 'ramp', label: 'Ramp', plannedS: 300 },
    { kind: 'hold', label: 'Hold', plannedS: 4350 },
    { kind: 'rinse', label: 'Rinse', plannedS: 60 },
  ],
  job: emptyJob('Plate'),
  models: new Map(),
  practise,
  supplyId: null,
  jobFacts: { stirred: true, pieces: 2 },
});

let clocks: Clocks;
let store: MemoryRunStore;
let locks: StandInLocks;
let storage: MemoryStorage;
let troubles: Failure[];
let ids: number;

const openWindow = (start = 'first'): RunRecorder =>
  createRunRecorder({
    store,
    lock: createRunLock(locks),
    journal: openRunJournal(storage),
    machine: clocks.machine(start),
    newId: () => `run-${++ids}`,
    onTrouble: (failure) => troubles.push(failure),
  });

beforeEach(() => {
  clocks = new Clocks();
  store = new MemoryRunStore();
  locks = new StandInLocks();
  storage = new MemoryStorage();
  troubles = [];
  ids = 0;
});

async function begun(recorder: RunRecorder, practise: Practise | null = null): Promise<void> {
  expect(await recorder.start(newRun(practise))).toMatchObject({ ok: true });
  recorder.mark('begin');
  clocks.pass(60);
  recorder.mark('next');
}

/** A window that is gone without a word: its lock is free, its memory lost. */
const crash = (): void => locks.free('tankside-run-run-1');

async function settle(): Promise<void> {
  for (let i = 0; i < 20; i++) await Promise.resolve();
}

describe('a run with typed readings', () => {
  it('counts charge, film and end from them in closed form', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(300);
    recorder.mark('next');
    for (let i = 0; i <= 6; i++) {
      expect(recorder.addTyped({ voltageV: 15, currentA: 4 }).ok).toBe(true);
      clocks.pass(300);
    }
    recorder.tick();
    const { readings, progress, powerS } = recorder.view.getState();
    // The zero at power on, and seven from 300 s to 2100 s.
    expect([...readings.tS]).toEqual([0, 300, 600, 900, 1200, 1500, 1800, 2100]);
    expect(progress!.chargeC.valueSi).toBeCloseTo(150 * 4 + 1800 * 4, 9);
    expect(progress!.thicknessM.valueSi).toBeCloseTo(7800 / (1.8e10 * 0.04), 12);
    expect(progress!.endS!.valueSi).toBeCloseTo(2100 + (18_000 - 7800) / 4, 6);
    expect(powerS).toBeCloseTo(2400, 9);
    expect(stepLeft(recorder.view.getState())).toEqual({ leftMs: (4650 - 2400) * 1000, byCharge: true });
  });

  it('a low stretch makes the hold longer', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(300);
    recorder.mark('next');
    for (const currentA of [4, 4, 2, 2, 2]) {
      // U goes with the current, E = 9 V does not.
      recorder.addTyped({ voltageV: 9 + 1.5 * currentA, currentA });
      clocks.pass(300);
    }
    recorder.tick();
    const { progress } = recorder.view.getState();
    // 0-300 ramp 600 C, 4 A 1200 C, 4 to 2 A 900 C, 2 A 1200 C; the rest at 2 A.
    expect(progress!.endS!.valueSi).toBeCloseTo(1500 + (18_000 - 3900) / 2, 6);
  });

  // Common practice: after a pause the current is brought up again over a minute or two.
  it('all the current at once after the timer’s pause is said beside the reading, and again after a reload', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(300);
    recorder.mark('next');
    clocks.pass(300);
    recorder.addTyped({ voltageV: 15, currentA: 4 });
    recorder.mark('pause');
    clocks.pass(200);
    recorder.mark('resume');
    clocks.pass(20);
    recorder.addTyped({ voltageV: 15, currentA: 4 });
    const said = (of: RunRecorder) => of.view.getState().events.map(({ kind, atS }) => [kind, atS]);
    expect(said(recorder)).toEqual([['fast-again', 820]]);
    clocks.pass(5);
    recorder.addTyped({ voltageV: 15, currentA: 4 });
    expect(said(recorder)).toHaveLength(1);
    await recorder.settled();
    crash();
    const again = openWindow('second');
    await again.findAgain();
    expect(said(again)).toEqual([['fast-again', 820]]);
  });

  it('a reading before the power is on is refused and said', async () => {
    const recorder = openWindow();
    await recorder.start(newRun());
    recorder.mark('begin');
    const added = recorder.addTyped({ voltageV: 1, currentA: 1 });
    expect(added.ok ? '' : added.error.code).toBe('power-not-on');
    expect(recorder.view.getState().readings.tS.length).toBe(0);
  });

  it('the last one can be taken back, and it is gone from the book too', async () => {
    const recorder = openWindow();
    await begun(recorder);
    recorder.addTyped({ voltageV: 5, currentA: 1 });
    clocks.pass(60);
    recorder.addTyped({ voltageV: 500, currentA: 1 });
    recorder.removeLast();
    await recorder.settled();
    expect(store.readings.get('run-1')!.map(({ voltageV }) => voltageV)).toEqual([5]);
  });
});

describe('a first reading that was wrong', () => {
  it('put right or taken out, nothing is lost and the log says so; what is called after it rings, whatever was silenced before', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(300);
    recorder.mark('next');
    for (const voltageV of [11.8, 14.8, 14.9]) {
      clocks.pass(300);
      recorder.addTyped({ voltageV, currentA: 4 });
    }
    const events = () => recorder.view.getState().events.map(({ kind, alone }) => [kind, alone]);
    expect(events()).toEqual([
      ['reading-doubtful', true],
      ['contact-lost', true],
    ]);
    recorder.silence([]);
    recorder.dealWith();
    // Put right it is a reading as any other, and its charge counts on.
    const chargeC = recorder.view.getState().progress!.chargeC.valueSi;
    recorder.putRight(600, { voltageV: 14.6, currentA: 4 });
    expect(events()).toEqual([]);
    expect([...recorder.view.getState().readings.voltageV]).toEqual([0, 14.6, 14.8, 14.9]);
    expect(recorder.view.getState().progress!.chargeC.valueSi).toBeCloseTo(chargeC, 9);
    recorder.putRight(600, { voltageV: 11.8, currentA: 4 });
    expect(events()).toHaveLength(2);
    recorder.putRight(600, null);
    expect(events()).toEqual([]);
    expect([...recorder.view.getState().readings.tS]).toEqual([0, 900, 1200]);
    await recorder.settled();
    expect(store.stored('run-1').log.map(({ text }) => text)).toEqual([
      'Put right: the reading at 10:00, 11.8 V and 4 A, was 14.6 V and 4 A.',
      'Put right: the reading at 10:00, 14.6 V and 4 A, was 11.8 V and 4 A.',
      'Taken out as wrong: the reading at 10:00, 11.8 V and 4 A.',
    ]);
    expect(store.readings.get('run-1')!.map(({ tS }) => tS)).toEqual([0, 900, 1200]);
    for (const voltageV of [30, 30]) {
      clocks.pass(300);
      recorder.addTyped({ voltageV, currentA: 4 });
    }
    const calls = standingCalls(recorder.view.getState(), { status: 'off', gap: null }, 'metric');
    expect(calls.find(({ kind }) => kind === 'event')).toMatchObject({ rings: true });
  });
});

describe('nothing entered is lost', () => {
  it('each mark, note and reading is in the book once the write is through', async () => {
    const recorder = openWindow();
    await begun(recorder);
    recorder.note('cloudy bath');
    recorder.addTyped({ voltageV: 5, currentA: 1, bathTemperatureK: 294 });
    await recorder.settled();
    const kept = store.stored('run-1');
    expect(kept.clock.marks.map(({ kind }) => kind)).toEqual(['begin', 'next', 'note']);
    expect(store.readings.get('run-1')).toEqual([{ tS: 0, voltageV: 5, currentA: 1, bathTemperatureK: 294 }]);
    expect(recorder.view.getState().kept).toBe(true);
  });

  it('a full disk is said once, what came meanwhile is written as soon as there is room', async () => {
    const recorder = openWindow();
    await begun(recorder);
    await recorder.settled();
    store.fault = new DOMException('full', 'QuotaExceededError');
    for (let i = 0; i < 5; i++) {
      recorder.addTyped({ voltageV: 5 + i, currentA: 1 });
      clocks.pass(10);
      recorder.tick();
      await recorder.settled();
    }
    expect(troubles.map(({ code }) => code)).toEqual(['book-disk-full']);
    expect(recorder.view.getState().kept).toBe(false);
    store.fault = null;
    clocks.pass(1);
    recorder.tick();
    await recorder.settled();
    expect(store.readings.get('run-1')!.map(({ voltageV }) => voltageV)).toEqual([5, 6, 7, 8, 9]);
    expect(recorder.view.getState().kept).toBe(true);
  });

  it('after a crash the next window finds the run, its readings and its time', async () => {
    const first = openWindow();
    await begun(first);
    first.addTyped({ voltageV: 5, currentA: 1 });
    await first.settled();
    crash();
    clocks.wall += 100_000; // the forward clock begins anew with the program
    clocks.forward = 5;
    const second = openWindow('second');
    const found = await second.findAgain();
    expect(found?.id).toBe('run-1');
    second.tick();
    const { role, readings, powerS, timers } = second.view.getState();
    expect(role).toBe('owner');
    expect([...readings.voltageV]).toEqual([5]);
    expect(powerS).toBeCloseTo(100, 9);
    expect(timers[1]!.elapsedMs).toBeCloseTo(100_000, 6);
  });
});

describe('a page gone in the same moment as the entry', () => {
  /** From here on nothing reaches the book, as when the page's writes are ended with it. */
  const gone = (): void => {
    store.fault = new DOMException('the page is gone', 'AbortError');
  };
  async function again(): Promise<RunRecorder> {
    await settle();
    crash();
    store.fault = null;
    const next = openWindow('next');
    expect((await next.findAgain())?.id).toBe('run-1');
    return next;
  }

  it.each(['note', 'mark', 'typed reading', 'taken back', 'temperature'] as const)(
    'keeps the %s',
    async (what) => {
      const recorder = openWindow();
      await begun(recorder);
      recorder.addTyped({ voltageV: 5, currentA: 1 });
      clocks.pass(200);
      recorder.addTyped({ voltageV: 6, currentA: 1 });
      await recorder.settled();
      gone();
      if (what === 'note') recorder.note('cloudy bath');
      if (what === 'mark') recorder.mark('next');
      if (what === 'typed reading') recorder.addTyped({ voltageV: 7, currentA: 1 });
      if (what === 'taken back') recorder.removeLast();
      if (what === 'temperature') recorder.typeTemperature(295);
      const before = recorder.view.getState();
      const next = await again();
      expect(next.view.getState().record!.clock.marks).toEqual(before.record!.clock.marks);
      expect([...next.view.getState().readings.voltageV]).toEqual([...before.readings.voltageV]);
      clocks.pass(1);
      next.addLive({ voltageV: 8, currentA: 1 }, 0);
      await next.settled();
      // From the journal it went into the book, and the journal is empty again.
      expect(store.readings.get('run-1')!.map(({ voltageV }) => voltageV)).toEqual([
        ...before.readings.voltageV,
        8,
      ]);
      expect(store.readings.get('run-1')!.at(-1)!.bathTemperatureK).toBe(
        what === 'temperature' ? 295 : undefined,
      );
      expect(storage.size).toBe(0);
    },
  );

  it('an end in that moment is an end, with its results', async () => {
    const recorder = openWindow();
    await begun(recorder);
    recorder.addTyped({ voltageV: 5, currentA: 1 });
    await recorder.settled();
    gone();
    recorder.mark('end');
    const next = await again();
    await next.settled();
    const { endedAtMs, facts } = store.stored('run-1');
    expect([endedAtMs !== null, facts!.readings]).toEqual([true, 1]);
  });

  it('what had reached the book all the same stands there once', async () => {
    const recorder = openWindow();
    await begun(recorder);
    await recorder.settled();
    recorder.addTyped({ voltageV: 5, currentA: 1 });
    const left = storage.copy();
    await recorder.settled();
    crash();
    storage.restore(left); // the page was gone before it could clear its journal
    const next = openWindow('next');
    await next.findAgain();
    await next.settled();
    expect(store.readings.get('run-1')!.map(({ voltageV }) => voltageV)).toEqual([5]);
  });

  it('a reading taken back while all are being packed stays taken back', async () => {
    const recorder = openWindow();
    await begun(recorder);
    recorder.addTyped({ voltageV: 5, currentA: 1 });
    clocks.pass(300);
    recorder.addTyped({ voltageV: 6, currentA: 1 });
    recorder.removeLast(); // packs
    recorder.removeLast(); // while that write is under way
    await recorder.settled();
    expect(store.readings.get('run-1')).toEqual([]);
  });
});

describe('the clock', () => {
  it('set back is put right and said; sleep counts as passed and can be denied', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(10);
    clocks.wall -= 3600_000;
    recorder.tick();
    expect(recorder.view.getState().powerS).toBeCloseTo(10, 6);
    expect(recorder.view.getState().record!.clock.findings.map(({ kind }) => kind)).toEqual(['set-back']);
    clocks.wall += 600_000; // slept ten minutes
    recorder.tick();
    expect(recorder.view.getState().powerS).toBeCloseTo(610, 6);
    recorder.denyJump();
    expect(recorder.view.getState().powerS).toBeCloseTo(10, 6);
  });
});

describe('two windows', () => {
  /** A second one, which has looked for a run to take over and found that another window keeps it. */
  async function openBeside(): Promise<RunRecorder> {
    vi.useFakeTimers({ toFake: ['setTimeout'] });
    const second = openWindow('other');
    const found = second.findAgain();
    await vi.advanceTimersByTimeAsync(2000);
    expect(await found).toBeNull();
    vi.useRealTimers();
    second.tick();
    await settle();
    second.tick();
    return second;
  }

  it('one owns the run, the other follows it live and takes over when the first is gone', async () => {
    const first = openWindow();
    await begun(first);
    await first.settled();
    const second = openWindow('other');
    await second.open('run-1');
    await settle();
    expect(second.view.getState().role).toBe('follower');
    expect(second.addTyped({ voltageV: 1, currentA: 1 }).ok).toBe(false);
    clocks.pass(30);
    first.addTyped({ voltageV: 7, currentA: 2 });
    await first.settled();
    await settle();
    expect([...second.view.getState().readings.voltageV]).toEqual([0, 7]);
    crash();
    await settle();
    expect(second.view.getState().role).toBe('owner');
    expect(troubles.map(({ code }) => code)).toEqual(['run-taken-over']);
    expect(second.addTyped({ voltageV: 8, currentA: 2 }).ok).toBe(true);
  });

  it('one that keeps no run, or another one, has the alarms of a run elsewhere, in that run’s own words', async () => {
    const first = openWindow();
    await begun(first);
    await first.settled();
    const second = await openBeside();
    const elsewhere = () => callsElsewhere(second.view.getState(), 'metric');
    expect(second.view.getState().elsewhere.map(({ record }) => record?.id)).toEqual(['run-1']);
    expect(elsewhere()).toEqual([]);
    clocks.pass(300);
    first.mark('next');
    for (const voltageV of [15, 15, 15, 15, 26, 26]) {
      clocks.pass(300);
      first.addTyped({ voltageV, currentA: 4 });
    }
    await first.settled();
    const own = standingCalls(first.view.getState(), { status: 'off', gap: null }, 'metric');
    const lost = own.find(({ event }) => event?.kind === 'contact-lost')!;
    expect(lost.rings).toBe(true);
    second.tick();
    const [call] = elsewhere();
    const { message, remedy } = lost;
    expect(call).toMatchObject({ message, remedy, rings: true, runName: 'Plate', isUnkept: false });
    expect(runStanding(second.view.getState(), { status: 'off', gap: null }, 'metric')).toBe('stop');
    // Silenced here it rings on where it is kept; silenced there it rings nowhere; dealt with it is gone.
    second.silenceHere([call!.id]);
    expect(elsewhere()[0]!.rings).toBe(false);
    expect(standingCalls(first.view.getState(), { status: 'off', gap: null }, 'metric')[0]!.rings).toBe(true);
    // With a run of its own too.
    await second.start(newRun());
    await settle();
    second.tick();
    expect(second.view.getState()).toMatchObject({ role: 'owner', record: { id: 'run-2' } });
    expect(elsewhere().map(({ runId }) => runId)).toEqual(['run-1']);
    first.dealWith();
    await first.settled();
    await settle();
    second.tick();
    expect(elsewhere()).toEqual([]);
    // Its window gone, it is told of as one that none keeps; taken up here it is this window’s own.
    await second.leave();
    crash();
    clocks.pass(60);
    await second.open('run-1');
    await settle();
    expect(second.view.getState()).toMatchObject({ role: 'owner', record: { id: 'run-1' } });
    expect(second.view.getState().elsewhere.map(({ record }) => record?.id)).toEqual(['run-2']);
  });

  it('a hold that is done calls elsewhere too, also of a run that no window keeps', async () => {
    const first = openWindow();
    await begun(first);
    clocks.pass(300);
    first.mark('next');
    await first.settled();
    const second = await openBeside();
    crash();
    clocks.pass(4400);
    second.tick();
    await settle();
    second.tick();
    expect(callsElsewhere(second.view.getState(), 'metric')).toMatchObject([
      { kind: 'hold-done', rings: true, isUnkept: true },
    ]);
  });

  it('a run asked for while the search at the start still waits for it is followed, and taken over once', async () => {
    const first = openWindow();
    await begun(first);
    await first.settled();
    const second = openWindow('other');
    const search = second.findAgain();
    await settle(); // it stands in the queue now
    await second.open('run-1');
    expect(await search).toBeNull();
    expect(second.view.getState().role).toBe('follower');
    crash();
    await settle();
    expect(second.view.getState().role).toBe('owner');
    expect(troubles.map(({ code }) => code)).toEqual(['run-taken-over']);
    // It holds the lock: a third window can only follow.
    const third = openWindow('third');
    await third.open('run-1');
    expect(third.view.getState().role).toBe('follower');
    await second.leave();
    await settle();
    expect(third.view.getState().role).toBe('owner');
  });

  it('a window that stops following does not take over', async () => {
    const first = openWindow();
    await begun(first);
    await first.settled();
    const second = openWindow('other');
    await second.open('run-1');
    await second.leave();
    crash();
    await settle();
    expect(second.view.getState().record).toBeNull();
    expect(troubles).toEqual([]);
    const third = openWindow('third');
    expect((await third.findAgain())?.id).toBe('run-1');
  });

  it('leaving writes what is open before the lock is given back', async () => {
    const first = openWindow();
    await begun(first);
    first.addTyped({ voltageV: 7, currentA: 2 });
    await first.leave();
    expect(first.view.getState().record).toBeNull();
    const second = openWindow('other');
    await second.open('run-1');
    expect(second.view.getState().role).toBe('owner');
    expect([...second.view.getState().readings.voltageV]).toEqual([7]);
  });
});

describe('a practise run', () => {
  const practise: Practise = {
    seed: 3,
    fault: 'contact',
    faultAtS: 1800,
    lostShare: 0.4,
    speed: 600,
    acts: [],
  };

  it('is marked simulated, calls the contact within a minute, and ends as a record', async () => {
    const recorder = openWindow();
    expect((await recorder.start(newRun(practise))).ok).toBe(true);
    recorder.mark('begin');
    recorder.mark('next');
    for (let i = 0; i < 40; i++) {
      clocks.pass(0.25); // 150 s of the run
      recorder.tick();
    }
    const { record, events, readings } = recorder.view.getState();
    const rings = (): boolean =>
      standingCalls(recorder.view.getState(), { status: 'off', gap: null }, 'metric').some(
        (call) => call.rings && call.event?.kind === 'contact-lost',
      );
    expect(record!.origin).toBe('simulated');
    expect(readings.tS.at(-1)!).toBeGreaterThan(5900);
    const lost = events.find(({ kind }) => kind === 'contact-lost')!;
    expect(lost.atS).toBeGreaterThan(1800);
    expect(lost.atS).toBeLessThanOrEqual(1860);
    expect(lost.areaLeft[0]).toBeLessThanOrEqual(0.6);
    expect(lost.areaLeft[1]).toBeGreaterThanOrEqual(0.6);
    expect(rings()).toBe(true);
    recorder.silence([]);
    expect(rings()).toBe(false);
    recorder.mark('next');
    recorder.mark('next');
    await recorder.settled();
    const kept = store.stored('run-1');
    expect(kept.outcome).toBe('unjudged');
    expect(kept.facts!.troubled).toBe(true);
    // 4 A for the whole time but half of the ramp, less what noise of 1 % leaves of a mean over a thousand readings.
    expect(kept.facts!.chargeC).toBeCloseTo(4 * (readings.tS.at(-1)! - 150), -2.5);
    expect(kept.film!.valueM).toBeGreaterThan(25e-6);
  });

  it('stands still while no window is open and goes on without a gap', async () => {
    const first = openWindow();
    await first.start(newRun(practise));
    first.mark('begin');
    first.mark('next');
    clocks.pass(1);
    first.tick();
    await first.settled();
    const before = first.view.getState().powerS!;
    crash();
    clocks.pass(3600);
    const second = openWindow('second');
    await second.findAgain();
    expect(second.view.getState().powerS).toBeCloseTo(before, 3);
    clocks.pass(0.5);
    second.tick();
    const { tS } = second.view.getState().readings;
    for (let i = 1; i < tS.length; i++) expect(tS[i]! - tS[i - 1]!).toBeCloseTo(5, 9);
    expect(tS.at(-1)!).toBeCloseTo(before + 300, -1);
  });

  it('the same seed gives the same readings at any speed', async () => {
    const run = async (speed: number): Promise<number[]> => {
      const recorder = openWindow();
      await recorder.start(newRun({ ...practise, speed }));
      recorder.mark('begin');
      recorder.mark('next');
      for (let i = 0; i < 600 / speed; i++) {
        clocks.pass(1);
        recorder.tick();
      }
      recorder.mark('end');
      return [...recorder.view.getState().readings.voltageV];
    };
    const slow = await run(10);
    const fast = await run(60);
    expect(slow.length).toBe(121);
    expect(fast).toEqual(slow);
  });
});

it('a log is put in for its span, and the run says where its readings come from', async () => {
  const recorder = openWindow();
  await begun(recorder);
  recorder.addTyped({ voltageV: 5, currentA: 1 });
  const log = readingsFrom(
    [0, 5, 10].map((tS) => ({ tS, voltageV: 9, currentA: 3 })),
    'log',
  );
  clocks.pass(60);
  expect(recorder.joinLog(log, 20, 'meter.csv').ok).toBe(true);
  await recorder.settled();
  expect(store.readings.get('run-1')!.map(({ tS }) => tS)).toEqual([0, 20, 25, 30]);
  expect(store.stored('run-1').origin).toBe('log');
  expect(store.stored('run-1').log.at(-1)!.text).toBe('3 readings from meter.csv');
});

describe('the ramp', () => {
  const steps = (recorder: RunRecorder): [number, number[]] => {
    const { step, timers } = recorder.view.getState();
    return [step, timers.map(({ elapsedMs }) => elapsedMs / 1000)];
  };

  it('becomes the hold by itself at its own time, however late the window looks, and says so', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(299);
    recorder.tick();
    expect(steps(recorder)[0]).toBe(1);
    clocks.pass(31);
    recorder.tick();
    expect(steps(recorder)).toEqual([2, [60, 300, 30, 0]]);
    expect(recorder.view.getState().record!.log.map(({ kind }) => kind)).toEqual(['ramp-over']);
    // Power went on with the ramp and is on.
    expect(recorder.view.getState().powerS).toBeCloseTo(330, 6);
  });

  it('waits where somebody holds it, and where somebody has gone back to it', async () => {
    const recorder = openWindow();
    await begun(recorder);
    recorder.holdRamp(true);
    clocks.pass(400);
    recorder.tick();
    expect(steps(recorder)[0]).toBe(1);
    recorder.holdRamp(false);
    recorder.tick();
    expect(steps(recorder)[0]).toBe(2);
    recorder.mark('back');
    clocks.pass(100);
    recorder.tick();
    expect(steps(recorder)).toEqual([1, [60, 500, 0, 0]]);
    recorder.mark('next');
    clocks.pass(10);
    recorder.tick();
    expect(steps(recorder)).toEqual([2, [60, 500, 10, 0]]);
  });
});

describe('a step forward by a slip', () => {
  it('is taken back: the power was never off, and a hold that is done is called anew', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(300);
    recorder.mark('next');
    recorder.addTyped({ voltageV: 15, currentA: 4 });
    recorder.silence(['hold-done']);
    recorder.mark('next');
    expect(recorder.view.getState().powerIsOn).toBe(false);
    clocks.pass(20);
    recorder.mark('back');
    const { powerIsOn, powerS, record } = recorder.view.getState();
    expect(powerIsOn).toBe(true);
    expect(powerS).toBeCloseTo(320, 6);
    expect(record!.silencedCalls).toEqual([]);
    expect(recorder.addTyped({ voltageV: 15.1, currentA: 4 }).ok).toBe(true);
  });
});

describe('past the hold', () => {
  const live = (recorder: RunRecorder, voltageV: number, currentA: number, times: number): void => {
    for (let i = 0; i < times; i++) {
      clocks.pass(5);
      recorder.addLive({ voltageV, currentA }, 0);
    }
  };

  it('a supply that is read is read on: its current is film, its silence is neither a gap nor a lost contact', async () => {
    const recorder = openWindow();
    await begun(recorder);
    live(recorder, 15, 4, 100);
    recorder.mark('next');
    recorder.mark('next');
    const before = recorder.view.getState().progress!.chargeC.valueSi;
    live(recorder, 15, 4, 10);
    expect(powerKnown(recorder.view.getState())).toBe('still-on');
    // 4 A for 50 s.
    expect(recorder.view.getState().progress!.chargeC.valueSi - before).toBeCloseTo(200, 6);
    live(recorder, 0, 0, 200);
    const { readings, record, progress } = recorder.view.getState();
    expect(powerKnown(recorder.view.getState())).toBe('off');
    // Of 1000 s without current the first two, which it takes to believe it, then a reading each 50 s.
    expect(readings.tS.length).toBe(100 + 10 + 1 + 20);
    expect(progress!.delivered.gapS).toBe(0);
    // Here the current is up at once, without its ramp.
    expect(record!.events.filter(({ kind }) => !['voltage-high', 'fast-ramp'].includes(kind))).toEqual([]);
    // The load lifted out with the supply on: volts, no current, and no contact lost.
    live(recorder, 20, 0, 4);
    expect(powerKnown(recorder.view.getState())).toBe('still-on');
    expect(recorder.view.getState().record!.events.some(({ kind }) => kind === 'contact-total')).toBe(false);
    recorder.mark('next');
    await recorder.settled();
    // The run is as long as current flowed: 550 s but for the first reading at 5 s, and the one that shows it gone.
    expect(store.stored('run-1').facts!.durationS).toBeCloseTo(550, 6);
  });

  it('one reading of a supply without current moves neither film nor end; two in a row do', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(300);
    recorder.mark('next');
    live(recorder, 15, 4, 60);
    const shown = () => {
      const { progress } = recorder.view.getState();
      return [progress!.thicknessM.valueSi, progress!.endS?.valueSi];
    };
    const before = shown();
    live(recorder, 0, 0, 1);
    expect(shown()).toEqual(before);
    live(recorder, 15, 4, 1);
    // Ten seconds more, half of the charge of which were not seen: the end is later by these.
    expect(shown()[0]).toBeGreaterThan(before[0]!);
    live(recorder, 0, 0, 2);
    expect(shown()[1]).toBeUndefined();
  });

  it('the supply that isn’t there goes on too, and is switched off', async () => {
    const recorder = openWindow();
    const practise: Practise = { seed: 3, fault: 'none', faultAtS: 0, lostShare: 0.4, speed: 60, acts: [] };
    await recorder.start(newRun(practise));
    for (const kind of ['begin', 'next', 'next'] as const) recorder.mark(kind);
    clocks.pass(20);
    recorder.tick();
    recorder.mark('next');
    clocks.pass(0.5);
    recorder.tick();
    expect(powerKnown(recorder.view.getState())).toBe('still-on');
    recorder.act((atS) => ({ kind: 'power', atS, on: false }));
    clocks.pass(0.5);
    recorder.tick();
    expect(powerKnown(recorder.view.getState())).toBe('off');
  });

  it('a hold that ran over has in the book by how much: by the steps where nothing was read, by the supply where it was', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(300);
    recorder.mark('next');
    for (let i = 0; i <= 6; i++) {
      recorder.addTyped({ voltageV: 15, currentA: 4 });
      clocks.pass(300);
    }
    // 4650 s after power on the film is there; at 5250 s somebody comes.
    clocks.pass(5250 - 2400);
    recorder.mark('next');
    recorder.sayOff();
    recorder.mark('end');
    await recorder.settled();
    const typed = store.stored('run-1').overrun!;
    expect(typed.overS).toBeCloseTo(600, 6);
    expect(typed.filmM).toBeCloseTo(25e-6 + (600 * 4) / (1.8e10 * 0.04), 12);

    const practise: Practise = { seed: 3, fault: 'none', faultAtS: 0, lostShare: 0.4, speed: 600, acts: [] };
    await recorder.leave();
    await recorder.start(newRun(practise));
    for (const kind of ['begin', 'next', 'next'] as const) recorder.mark(kind);
    for (let i = 0; i < 36; i++) {
      clocks.pass(0.25); // 150 s of the run
      recorder.tick();
    }
    recorder.act((atS) => ({ kind: 'power', atS, on: false }));
    clocks.pass(5); // 3000 s: it is found in the morning
    recorder.tick();
    recorder.mark('end');
    await recorder.settled();
    const { overrun, film } = store.stored('run-2');
    // Read every 5 s, with 1 % of noise.
    expect(overrun!.overS).toBeGreaterThan(5400 - 4650 - 60);
    expect(overrun!.overS).toBeLessThan(5400 - 4500 + 60);
    expect(overrun!.unreadS).toBe(0);
    expect(overrun!.filmM).toBe(film!.valueM);
  });

  it('that somebody looked is kept, silences nothing, and is old once the steps lead back', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(300);
    recorder.mark('next');
    recorder.mark('next');
    expect(powerKnown(recorder.view.getState())).toBe('may-be-on');
    recorder.sayOff();
    const { record } = recorder.view.getState();
    expect(powerKnown(recorder.view.getState())).toBe('off');
    expect([record!.silenced, record!.silencedCalls]).toEqual([0, []]);
    await recorder.settled();
    expect(store.stored('run-1').saidOff).toEqual(record!.saidOff);
    recorder.mark('back');
    recorder.mark('next');
    expect(powerKnown(recorder.view.getState())).toBe('may-be-on');
  });

  it('ended under current the call stands until the supply shows itself off, and what is written up meanwhile stays', async () => {
    const recorder = openWindow();
    await begun(recorder);
    clocks.pass(300);
    recorder.mark('next');
    recorder.addLive({ voltageV: 15, currentA: 4 }, 0);
    clocks.pass(5);
    recorder.mark('end');
    await recorder.settled();
    const calls = (): string[] =>
      standingCalls(recorder.view.getState(), { status: 'live', gap: null }, 'metric').map(
        ({ kind }) => kind,
      );
    expect(calls()).toEqual(['still-on']);
    await store.change('run-1', (now) => ({ ...now, note: 'burnt at the edge' }));
    clocks.pass(60);
    recorder.addLive({ voltageV: 15, currentA: 4 }, 0);
    expect(calls()).toEqual(['still-on']);
    recorder.addLive({ voltageV: 0, currentA: 0 }, 0);
    recorder.addLive({ voltageV: 15, currentA: 4 }, 0);
    recorder.addLive({ voltageV: 0, currentA: 0 }, 0);
    // One alone, with current before and after, is a slip.
    expect(calls()).toEqual(['still-on']);
    recorder.addLive({ voltageV: 0, currentA: 0 }, 0);
    expect(calls()).toEqual([]);
    await settle();
    expect(store.stored('run-1')).toMatchObject({
      note: 'burnt at the edge',
      saidOff: { marks: 4 },
      outcome: 'unjudged',
    });
  });

  describe('a run left on', () => {
    const leftOn = async (recorder: RunRecorder): Promise<void> => {
      await begun(recorder);
      clocks.pass(300);
      recorder.mark('next');
      recorder.addTyped({ voltageV: 15, currentA: 4 });
      clocks.pass(5);
      recorder.mark('end');
    };
    const standing = (recorder: RunRecorder) =>
      standingCalls(recorder.view.getState(), { status: 'off', gap: null }, 'metric').map(
        ({ kind, rings, message }) => [kind, rings, message],
      );
    const CALL = ['still-on', true, 'The run was ended under current, 4.00 A at the last reading.'];

    it('is found again by every window that is opened, with the same call, until somebody says it is off', async () => {
      const first = openWindow();
      await leftOn(first);
      await first.settled();
      expect(standing(first)).toEqual([CALL]);
      crash();
      clocks.pass(3600);
      const second = openWindow('second');
      expect((await second.findAgain())?.id).toBe('run-1');
      expect(standing(second)).toEqual([CALL]);
      expect(await second.start(newRun())).toMatchObject({ ok: false });
      // Silenced is not dealt with.
      second.silence([`still-on ${second.view.getState().powerS}`]);
      await settle();
      crash();
      const third = openWindow('third');
      await third.findAgain();
      expect(standing(third)).toEqual([['still-on', false, CALL[2]]]);
      third.sayOff();
      expect(standing(third)).toEqual([]);
      await settle();
      expect(store.stored('run-1').outcome).toBe('unjudged');
      // Its lock is free without another crash.
      const fourth = openWindow('fourth');
      expect(await fourth.findAgain()).toBeNull();
      await third.leave();
      expect(await third.start(newRun())).toMatchObject({ ok: true });
    });

    it('beside another: the one is found, the other is told of until somebody takes it up', async () => {
      const first = openWindow();
      await leftOn(first);
      await first.settled();
      const other = openWindow('other');
      await leftOn(other);
      await other.settled();
      const told = (recorder: RunRecorder) => standing(recorder).filter(([kind]) => kind === 'unkept');
      const unkept = (recorder: RunRecorder) => recorder.view.getState().unkept.map(({ id }) => id);
      await settle();
      expect([...unkept(first), ...unkept(other)]).toEqual([]);
      crash();
      locks.free('tankside-run-run-2');
      const second = openWindow('second');
      const foundId = (await second.findAgain())!.id;
      await settle();
      const restId = foundId === 'run-1' ? 'run-2' : 'run-1';
      expect(unkept(second)).toEqual([restId]);
      const words = '“Plate” goes on too, or was left on, and no window keeps it.';
      expect(told(second)).toEqual([['unkept', false, words]]);
      // A third window has it: it is told of no more, until that window is gone.
      const third = openWindow('third');
      expect((await third.findAgain())?.id).toBe(restId);
      clocks.pass(10);
      second.tick();
      await settle();
      expect(told(second)).toEqual([]);
      locks.free(`tankside-run-${restId}`);
      clocks.pass(10);
      second.tick();
      await settle();
      expect(told(second)).toHaveLength(1);
      // The one said to be off, the other is taken up here, with its own call.
      second.sayOff();
      await settle();
      await second.open(restId);
      await settle();
      expect(second.view.getState()).toMatchObject({ role: 'owner', unkept: [] });
      expect(standing(second)).toEqual([CALL]);
    });

    it('found again alone, it is not told of for a moment as one that no window keeps', async () => {
      await leftOn(openWindow());
      crash();
      const second = openWindow('second');
      const told: string[] = [];
      second.view.subscribe(({ unkept }) => told.push(...unkept.map(({ id }) => id)));
      await second.findAgain();
      await settle();
      expect(told).toEqual([]);
    });

    it('is kept by one window, and the one that follows it takes the call over', async () => {
      const first = openWindow();
      await leftOn(first);
      await first.settled();
      const second = openWindow('second');
      await second.open('run-1');
      await settle();
      expect(second.view.getState().role).toBe('follower');
      expect(standing(second)).toEqual([CALL]);
      crash();
      await settle();
      expect(second.view.getState().role).toBe('owner');
      second.sayOff();
      await settle();
      expect(store.stored('run-1').outcome).toBe('unjudged');
    });

    it('with the page gone in the same moment the journal has it, and the book once there is room', async () => {
      const first = openWindow();
      await begun(first);
      clocks.pass(300);
      first.mark('next');
      first.addTyped({ voltageV: 15, currentA: 4 });
      await first.settled();
      store.fault = new Error('QuotaExceededError');
      clocks.pass(5);
      first.mark('end');
      await settle();
      crash();
      const second = openWindow('second');
      await second.findAgain();
      expect(standing(second)).toEqual([CALL]);
      second.sayOff();
      await settle();
      expect(store.stored('run-1').endedAtMs).toBeNull();
      store.fault = null;
      second.tick();
      await settle();
      expect(store.stored('run-1')).toMatchObject({ outcome: 'unjudged', saidOff: { marks: 4 } });
    });
  });
});

describe('hands at the supply that isn’t there', () => {
  const practise: Practise = {
    seed: 3,
    fault: 'contact',
    faultAtS: 900,
    lostShare: 0.4,
    speed: 60,
    acts: [],
  };

  it('act from their moment on, what was read before stays, and a reload goes on with them', async () => {
    const recorder = openWindow();
    await recorder.start(newRun(practise));
    recorder.mark('begin');
    recorder.mark('next');
    clocks.pass(20); // 1200 s of the run
    recorder.tick();
    const before = [...recorder.view.getState().readings.voltageV];
    recorder.act((atS) => ({ kind: 'set-current', atS, currentA: 2.4 })); // 4 A · 0.6
    clocks.pass(5);
    recorder.tick();
    const { readings } = recorder.view.getState();
    expect([...readings.voltageV].slice(0, before.length)).toEqual(before);
    const amps = [...readings.currentA].slice(before.length);
    for (const amp of amps) expect(Math.abs(amp / 2.4 - 1)).toBeLessThan(0.06); // 1 % noise a reading
    await recorder.settled();
    crash();
    const second = openWindow('second');
    await second.findAgain();
    clocks.pass(2);
    second.tick();
    expect(Math.abs(second.view.getState().readings.currentA.at(-1)! / 2.4 - 1)).toBeLessThan(0.06);
  });

  it('do nothing before the power is on', async () => {
    const recorder = openWindow();
    await recorder.start(newRun(practise));
    recorder.mark('begin');
    recorder.act((atS) => ({ kind: 'clamp', atS }));
    expect(recorder.view.getState().record!.practise!.acts).toEqual([]);
  });
});
