import { describe, expect, it } from 'vitest';
import { stepCautions } from '../../../core/reference/step-cautions.ts';
import { enteredPower } from '../../../core/run/power-span.ts';
import { readingsFrom, type Reading } from '../../../core/run/readings.ts';
import type { RunStep, StepMark, StepTimer } from '../../../core/run/step-clock.ts';
import { WATCH_LEVELS, type WatchKind } from '../../../core/run/watch-event.ts';
import type { RunRecord, SaidEvent } from '../../../core/shop/run-record.ts';
import { stepTimeText } from '../../../renderer/stages/spoken-time.ts';
import { standingCalls } from '../../../renderer/state/run-calls.ts';
import { endQuestion } from '../../../renderer/state/end-question.ts';
import { cautionsNow, isKnownOff, powerKnown } from '../../../renderer/state/run-power.ts';
import { endsWithPower } from '../../../renderer/state/left-on.ts';
import { readAfterEnd, sayRunOff } from '../../../renderer/state/run-edits.ts';
import { ended as endedRun } from '../../../renderer/state/run-results.ts';
import { NO_RUN, type RunView } from '../../../renderer/state/run-view.ts';
import { standsStill, stepLeft } from '../../../renderer/state/step-left.ts';
import { alarmAsksForOff, loweredCurrentA, stepTitle, wordsNow } from '../../../renderer/state/run-words.ts';

const HAZARDS = { seal: { hot: false, nickel: false, fluoride: false, steam: false }, lead: false };
const HOLD: RunStep = {
  kind: 'hold',
  label: 'Hold 4.82 A',
  plannedS: 3000,
  cautions: stepCautions('hold', HAZARDS, true),
};
const RINSE: RunStep = {
  kind: 'rinse',
  label: 'Power off, rinse long',
  plannedS: 120,
  cautions: stepCautions('rinse', HAZARDS, true),
};
const timer = (step: RunStep, state: StepTimer['state'], remainingMs: number): StepTimer => ({
  step,
  state,
  elapsedMs: 0,
  remainingMs,
});

/** Hold and rinse, the marks a second apart. */
const clockOf = (...kinds: Exclude<StepMark['kind'], 'note'>[]): RunRecord['clock'] => ({
  steps: [HOLD, RINSE],
  marks: kinds.map((kind, i) => ({ kind, atMs: 1000 * i })),
  offsetMs: 0,
  lastLook: null,
  findings: [],
});

/** 4.82 A on 0.0482 m²; the volts and amps an ordinary run has. */
const run = (change: Partial<RunRecord> = {}): RunRecord =>
  ({
    id: 'r',
    endedAtMs: null,
    outcome: 'running',
    events: [],
    origin: 'simulated',
    practise: { acts: [] },
    plan: { mode: 'current', areaM2: 0.0482, currentDensityAPerM2: 100, rampS: 300, holdS: 3000 },
    silenced: 0,
    dealtWith: 0,
    silencedCalls: [],
    saidOff: null,
    clock: clockOf('begin'),
    log: [],
    ...change,
  }) as unknown as RunRecord;
const ON: Reading = { tS: 3290, voltageV: 15, currentA: 4.8 };
const OFF: Reading = { tS: 3295, voltageV: 0, currentA: 0 };
/** It takes two. */
const OFF_TWICE: Reading[] = [{ ...OFF, tS: 3293 }, OFF];
const holding = (readings: Reading[], change: Partial<RunView> = {}): RunView => ({
  ...NO_RUN,
  record: run(),
  role: 'owner',
  timers: [timer(HOLD, 'running', 60_000), timer(RINSE, 'waiting', 120_000)],
  powerOnMs: 0,
  powerS: 3300,
  powerIsOn: true,
  readings: readingsFrom(readings, 'simulated'),
  ...change,
});
const DONE = { timers: [timer(HOLD, 'running', -1000), timer(RINSE, 'waiting', 120_000)] };
const RINSING = {
  timers: [timer(HOLD, 'done', 0), timer(RINSE, 'running', 60_000)],
  step: 1,
  powerIsOn: false,
};
const said = (kind: WatchKind, atS: number, filmM = 8e-6): SaidEvent => ({
  kind,
  level: WATCH_LEVELS[kind],
  atS,
  sinceS: atS,
  areaLeft: [0.45, 0.55],
  likelyAreaLeft: 0.5,
  message: '',
  remedy: '',
  filmM,
  bathTemperatureK: null,
});
const calls = (view: RunView) => standingCalls(view, { status: 'off', gap: null }, 'metric');

describe('what is known of the power', () => {
  it('going on to the rinse tells nothing of the switch: the last reading, or somebody who looked, does', () => {
    const pressedNext = holding([ON], RINSING);
    expect(isKnownOff(pressedNext)).toBe(false);
    expect(cautionsNow(pressedNext)[0]).toMatch(/^POWER MAY BE ON: switch the supply off first/);
    expect(isKnownOff(holding([ON, ...OFF_TWICE], RINSING))).toBe(true);
    expect(cautionsNow(holding([ON, ...OFF_TWICE], RINSING)).join()).not.toContain('MAY BE ON');
    // One reading may be a slip of the supply, of the wire to it, or of a finger.
    for (const origin of ['simulated', 'supply', 'log', 'typed'] as const) {
      const once = holding([ON, OFF], { ...RINSING, record: run({ origin }) });
      expect(powerKnown(once)).toBe('may-be-on');
      expect(powerKnown(holding([ON, OFF], { record: run({ origin }) }))).toBe('on');
    }
    const clock = clockOf('begin', 'next');
    const looked = run({ clock, saidOff: { atMs: 1500, marks: 2 } });
    expect(isKnownOff({ ...pressedNext, record: looked })).toBe(true);
    expect(cautionsNow({ ...pressedNext, record: looked })[0]).toMatch(/^POWER OFF at the supply first/);
    // Back in the hold and out of it again, that word is old.
    const again = { ...looked, clock: clockOf('begin', 'next', 'back', 'next') };
    expect(powerKnown({ ...pressedNext, record: again })).toBe('may-be-on');
    expect(isKnownOff({ ...pressedNext, record: looked, powerIsOn: true })).toBe(false);
  });

  it('a ramp with current is as live as a hold, and so is one that the steps have come back to', () => {
    const ramp = {
      kind: 'ramp',
      label: 'Ramp',
      plannedS: 300,
      cautions: stepCautions('ramp', HAZARDS),
    } as RunStep;
    const ramping = (readings: Reading[], ...kinds: Parameters<typeof clockOf>): RunView =>
      holding(readings, {
        record: run({ clock: { ...clockOf(...kinds), steps: [ramp, HOLD] } }),
        timers: [timer(ramp, 'running', 1000), timer(HOLD, 'waiting', 1000)],
        powerS: 100,
      });
    const nothingYet = cautionsNow(ramping([], 'begin'));
    expect(nothingYet[0]).toBe('Hands out of the tank BEFORE the power goes on.');
    for (const live of [
      ramping([{ tS: 60, voltageV: 6, currentA: 1 }], 'begin'),
      ramping([], 'begin', 'next', 'back'),
    ]) {
      expect(cautionsNow(live)[0]).toMatch(/^POWER IS ON: hands out/);
      expect(cautionsNow(live).join()).not.toContain('BEFORE');
    }
  });

  it('it may be on at every step past the hold, at the run’s end, and where a step back led before the power', () => {
    for (const step of [RINSE, { ...RINSE, kind: 'dye' }, { ...RINSE, kind: 'check' }] as RunStep[]) {
      const view = holding([ON], { ...RINSING, timers: [timer(HOLD, 'done', 0), timer(step, 'running', 1)] });
      expect(cautionsNow(view)[0]).toMatch(/^POWER MAY BE ON/);
      const over = run({ endedAtMs: 1, outcome: 'unjudged', clock: clockOf('begin', 'next', 'end') });
      expect(cautionsNow({ ...view, record: over })).toEqual([cautionsNow(view)[0]]);
    }
    const steps = [{ ...RINSE, kind: 'clean' } as RunStep, HOLD];
    const before = (...kinds: Parameters<typeof clockOf>): RunView =>
      holding([], {
        record: run({ clock: { ...clockOf(...kinds), steps } }),
        timers: [timer(steps[0]!, 'running', 1), timer(HOLD, 'waiting', 1)],
        powerOnMs: null,
        powerS: null,
        powerIsOn: false,
      });
    expect(powerKnown(before('begin'))).toBe('never');
    expect(powerKnown(before('begin', 'next', 'back'))).toBe('may-be-on');
    expect(cautionsNow(before('begin', 'next', 'back'))[0]).toMatch(/^POWER MAY BE ON/);
    expect(enteredPower({ ...clockOf('begin', 'next', 'back'), steps }, 3)).toBe(false);
  });

  it('a supply that is read past the hold tells: current, volts at the leads, or off', () => {
    const past = { ...RINSING, nowMs: 3_312_000 };
    const flowing = holding([ON, { ...ON, tS: 3310 }], past);
    expect(powerKnown(flowing)).toBe('still-on');
    expect(cautionsNow(flowing)[0]).toMatch(/^POWER IS STILL ON/);
    const [call] = calls(flowing);
    expect(call).toMatchObject({ kind: 'still-on', rings: true });
    expect(call!.message).toContain('4.80 A');
    expect(calls({ ...flowing, record: run({ silencedCalls: [call!.id] }) })[0]!.rings).toBe(false);
    const lifted = holding([ON, { tS: 3310, voltageV: 18, currentA: 0 }], past);
    expect(calls(lifted)[0]!.message).toContain('18.0 V at the leads');
    const off = [3310, 3315].map((tS) => ({ ...OFF, tS }));
    expect(powerKnown(holding([ON, ...off], past))).toBe('off');
    expect(powerKnown(holding([ON, off[1]!], past))).toBe('may-be-on');
    // One reading bears out who looked before it: that it is off is no news.
    const once = holding([ON, { ...ON, tS: 3305 }, { ...OFF, tS: 3310 }], past);
    const looked = (atMs: number) => run({ clock: clockOf('begin', 'next'), saidOff: { atMs, marks: 2 } });
    expect(powerKnown(once)).toBe('may-be-on');
    expect(powerKnown({ ...once, record: looked(3_307_000) })).toBe('off');
    expect(powerKnown({ ...once, record: looked(3_304_000) })).toBe('may-be-on');
    // The cable is out since: nothing is known. What somebody says then counts, what was said before the reading does not.
    const silent = { ...flowing, nowMs: 3_321_000 };
    expect(powerKnown(silent)).toBe('may-be-on');
    const clock = clockOf('begin', 'next');
    expect(powerKnown({ ...silent, record: run({ clock, saidOff: { atMs: 3_309_000, marks: 2 } }) })).toBe(
      'may-be-on',
    );
    expect(powerKnown({ ...silent, record: run({ clock, saidOff: { atMs: 3_311_000, marks: 2 } }) })).toBe(
      'off',
    );
  });

  it('the switch of the supply that isn’t there is known as it is pressed, in the hold, past it and at the end', () => {
    const act = (on: boolean) => ({ kind: 'power', atS: 3296, on }) as const;
    const pressed = (...acts: ReturnType<typeof act>[]) =>
      run({ practise: { acts } as never, clock: clockOf('begin', 'next') });
    expect(powerKnown(holding([ON], { record: pressed(act(false)) }))).toBe('off');
    const past = holding([ON], { ...RINSING, record: pressed(act(false)) });
    expect(powerKnown(past)).toBe('off');
    expect(cautionsNow(past).join()).not.toContain('MAY BE ON');
    expect(endQuestion(past)).toMatchObject({ level: 'check', asksForOff: false });
    expect(powerKnown({ ...past, record: pressed(act(false), act(true)) })).toBe('may-be-on');
    const readings = readingsFrom([ON], 'simulated');
    const clock = clockOf('begin', 'end');
    expect(endsWithPower({ ...pressed(act(false)), clock }, readings)).toBe(false);
    expect(endsWithPower({ ...pressed(), clock }, readings)).toBe(true);
  });

  it('no current at a high voltage is a load without contact, and an old reading tells nothing', () => {
    expect(isKnownOff(holding([ON, { ...OFF, voltageV: 20 }]))).toBe(false);
    expect(isKnownOff(holding([ON, ...OFF_TWICE], { powerS: 3305 }))).toBe(true);
    expect(isKnownOff(holding([ON, ...OFF_TWICE], { powerS: 3306 }))).toBe(false);
    // Typed, the readings of 55 min are 5 min apart.
    const typed = { record: run({ origin: 'typed' }) };
    expect(isKnownOff(holding([ON, ...OFF_TWICE], { ...typed, powerS: 3295 + 300 }))).toBe(true);
    expect(isKnownOff(holding([ON, ...OFF_TWICE], { ...typed, powerS: 3295 + 301 }))).toBe(false);
    expect(isKnownOff(holding([]))).toBe(false);
  });

  it('switched off in the hold, neither its caution nor its alarm says that the power is on', () => {
    expect(cautionsNow(holding([ON])).join()).toContain('POWER IS ON');
    expect(cautionsNow(holding([ON, ...OFF_TWICE])).join()).not.toContain('POWER IS ON');
    const [on] = calls(holding([ON], DONE));
    expect(on).toMatchObject({ kind: 'hold-done', rings: true });
    expect(on!.message).toContain('switch the supply off');
    const [off] = calls(holding([ON, ...OFF_TWICE], DONE));
    expect(off).toMatchObject({ kind: 'hold-done', rings: false });
    expect(off!.message).not.toContain('switch the supply off');
  });
});

describe('current that is gone', () => {
  const GONE = [ON, OFF, { ...OFF, tS: 3300 }];

  it('rings in the hold, can be silenced for itself, and is over once a reading has current', () => {
    const [call, ...more] = calls(holding(GONE));
    expect(more).toEqual([]);
    expect(call).toMatchObject({ kind: 'no-current', rings: true });
    expect(call!.message).toMatch(/supply is off, a fuse has gone, or a lead is off/);
    expect(call!.remedy).toContain('Switch the supply off');
    const silenced = run({ silencedCalls: [call!.id] });
    expect(calls(holding(GONE, { record: silenced }))[0]).toMatchObject({ kind: 'no-current', rings: false });
    const back = [...GONE, { ...ON, tS: 3305 }];
    expect(calls(holding(back, { record: silenced }))).toEqual([]);
    // Gone a second time, it is a new one.
    const again = [...back, { ...OFF, tS: 3310 }, { ...OFF, tS: 3315 }];
    expect(calls(holding(again, { record: silenced }))[0]!.rings).toBe(true);
  });

  it('the film is said as part of the wanted one, and past that by how much it is too thick', () => {
    const at = (filmM: number, system: 'metric' | 'us'): string => {
      const record = { ...run(), plan: { ...run().plan, thicknessM: 25.4e-6 } };
      const progress = {
        thicknessM: { valueSi: filmM },
        chargeC: { valueSi: 7200 },
        wantedSinceS: null,
        endS: null,
      } as RunView['progress'];
      const view = holding(GONE, { record, progress });
      return standingCalls(view, { status: 'off', gap: null }, system)[0]!.remedy;
    };
    expect(at(8.12e-6, 'metric')).toContain('the film waits at 8.1 of 25.4 µm, 2.00 A·h.');
    expect(at(58.9e-6, 'us')).toContain(
      'the film waits at 2.32 mil, wanted 1.00 mil, 1.32 mil too much, 2.00 A·h.',
    );
    // What the digits do not show is not too much.
    expect(at(25.41e-6, 'metric')).toContain('at 25.4 of 25.4 µm');
  });

  it('one odd reading of a supply is none, one that is typed counts', () => {
    expect(calls(holding([ON, OFF]))).toEqual([]);
    expect(calls(holding([ON, OFF], { record: run({ origin: 'typed' }) }))[0]!.kind).toBe('no-current');
  });

  it('is no alarm with the timer paused, at a hold that is done, or before the supply was first on', () => {
    const paused = { timers: [timer(HOLD, 'paused', 60_000), timer(RINSE, 'waiting', 120_000)] };
    expect(calls(holding(GONE, paused))).toEqual([]);
    expect(calls(holding(GONE, DONE)).map(({ kind }) => kind)).toEqual(['hold-done']);
    const ramp = { timers: [timer({ ...HOLD, kind: 'ramp' }, 'running', 60_000)], powerS: 100 };
    const none = [0, 50, 100].map((tS) => ({ tS, voltageV: 0, currentA: 0 }));
    expect(calls(holding(none, ramp))).toEqual([]);
    expect(calls(holding([none[0]!, { ...ON, tS: 40 }, ...none.slice(1)], ramp))[0]!.kind).toBe('no-current');
    // The ramp's 300 s and a minute are over: somebody should have switched on.
    expect(calls(holding(none, { powerS: 359 }))).toEqual([]);
    expect(calls(holding(none, { powerS: 361 }))[0]).toMatchObject({ kind: 'no-current', rings: true });
  });

  it('who was told to switch off and clamp again has five minutes until it rings', () => {
    const events = [said('contact-lost', 3280, 0.3e-6)];
    const record = run({ silenced: 1, dealtWith: 1 });
    expect(calls(holding(GONE, { events, record }))[0]).toMatchObject({ kind: 'no-current', rings: false });
    expect(calls(holding(GONE, { events, record, powerS: 3596 }))[0]!.rings).toBe(true);
    // Late in the run nobody is told to: it rings at once.
    const late = [said('contact-lost', 3280, 8e-6)];
    expect(calls(holding(GONE, { events: late, record }))[0]!.rings).toBe(true);
  });

  it('is said once: all contact lost says the same', () => {
    const events = [said('contact-total', 3300)];
    expect(calls(holding(GONE, { events })).map(({ kind }) => kind)).toEqual(['event']);
  });
});

describe('what to do about it now', () => {
  const KINDS = Object.keys(WATCH_LEVELS) as WatchKind[];

  it('after the hold nothing is set down, ramped, halved or clamped any more', () => {
    for (const view of [holding([ON], DONE), holding([ON], RINSING), holding([ON, OFF], RINSING)]) {
      for (const kind of KINDS.filter((each) => WATCH_LEVELS[each] === 'alarm' || each === 'supply-off')) {
        for (const filmM of [0.3e-6, 8e-6]) {
          const { remedy } = wordsNow(said(kind, 1800, filmM), view, 'metric');
          expect(remedy).not.toMatch(
            /set the current|ramp up|start with a new ramp|halve|clamp|let it finish/i,
          );
        }
      }
    }
    expect(wordsNow(said('contact-lost', 1800), holding([ON]), 'metric').remedy).toContain('2.41 A');
  });

  it('once somebody has ended the run only the switch is asked for', () => {
    for (const kind of KINDS.filter((each) => WATCH_LEVELS[each] === 'alarm')) {
      const clock = clockOf('begin', 'end');
      const record = run({ clock, endedAtMs: 1000 });
      const stood = calls(holding([ON], { record, powerIsOn: false, events: [said(kind, 1800)] }));
      expect(stood.map((each) => each.kind)).toEqual(['still-on', 'event']);
      for (const { remedy } of stood) {
        expect(remedy).toMatch(/^Switch the (supply|power) off/);
        expect(remedy).not.toMatch(/set the current|ramp|halve|clamp|let it finish/i);
      }
    }
  });

  it('under an alarm that says to switch off going on is not the answer first offered', () => {
    const under = (kind: WatchKind, filmM: number, change: Partial<RunRecord> = {}, back = false) =>
      alarmAsksForOff(
        holding([ON], {
          record: run(change),
          events: [said(kind, 1800, filmM), ...(back ? [said('contact-back', 1900)] : [])],
        }),
      );
    expect(under('short', 8e-6)).toBe(true);
    expect(under('contact-total', 8e-6)).toBe(true);
    expect(under('contact-lost', 0.3e-6)).toBe(true);
    // The current is to be set down, the hold goes on.
    expect(under('contact-lost', 8e-6)).toBe(false);
    expect(under('short', 8e-6, { dealtWith: 1 })).toBe(false);
    expect(under('contact-total', 8e-6, {}, true)).toBe(false);
    expect(alarmAsksForOff(holding([ON]))).toBe(false);
  });

  it('a step’s time is left or over by its word, never by a minus as well', () => {
    expect(stepTimeText(-7_671_000, 0)).toBe('2:07:51');
    expect(stepTimeText(63_000, 0)).toBe('1:03');
    expect(stepTimeText(null, 63_000)).toBe('+1:03');
  });

  it('a current that has been set down is not asked for again', () => {
    const remedy = (...readings: Reading[]) =>
      wordsNow(said('contact-lost', 1800), holding(readings), 'metric').remedy;
    expect(remedy(ON)).toMatch(/^Set the current down to 2\.41 A/);
    expect(remedy({ ...ON, currentA: 2.4 })).toMatch(
      /^The current is set down to 2\.40 A: let the rest finish/,
    );
    // A supply that is off has not been set down, and what was read before it was said tells nothing.
    expect(remedy(OFF)).toMatch(/^Set the current down/);
    expect(remedy({ ...ON, tS: 1790, currentA: 2.4 })).toMatch(/^Set the current down/);
  });

  it('the power is called off only where that is known', () => {
    const remedy = (view: RunView) => wordsNow(said('contact-lost', 1800), view, 'metric').remedy;
    expect(remedy(holding([ON], RINSING))).toMatch(/^Switch the supply off first, then look/);
    expect(remedy(holding([ON, ...OFF_TWICE], RINSING))).toMatch(/^The power is off now/);
  });

  it('a hold that is done stands first, whatever else rings', () => {
    const both = holding([ON], { ...DONE, events: [said('contact-lost', 1800)] });
    const silenced = { ...both, record: run({ silencedCalls: ['hold-done'] }) };
    for (const view of [both, silenced]) {
      expect(calls(view).map(({ kind }) => kind)).toEqual(['hold-done', 'event']);
      expect(calls(view)[1]!.remedy).toMatch(/^Switch the supply off first/);
    }
  });
});

describe('the current as it should stand now', () => {
  const lost = [said('contact-lost', 1800)];

  it('a lost contact’s is in the heading, beside what was planned', () => {
    // 4.82 A · 0.5.
    expect(loweredCurrentA(holding([ON], { events: lost }))).toBeCloseTo(2.41, 9);
    expect(stepTitle(holding([ON], { events: lost }))).toBe('Hold 2.41\u00a0A, was 4.82\u00a0A');
    expect(stepTitle(holding([ON]))).toBe('Hold 4.82 A');
    expect(stepTitle(holding([ON], { ...RINSING, events: lost }))).toBe('Power off, rinse long');
  });

  it('none where it can be clamped again, is back, or holds the voltage', () => {
    expect(loweredCurrentA(holding([ON], { events: [said('contact-lost', 100, 0.3e-6)] }))).toBeNull();
    expect(loweredCurrentA(holding([ON], { events: [...lost, said('contact-back', 1900)] }))).toBeNull();
    const voltage = run({ plan: { ...run().plan, mode: 'voltage' } });
    expect(loweredCurrentA(holding([ON], { events: lost, record: voltage }))).toBeNull();
  });

  it('dealt with, it stands as the newest reading has it', () => {
    const record = run({ dealtWith: 1, silenced: 1 });
    expect(stepTitle(holding([ON], { events: lost, record }))).toBe('Hold 4.82 A');
    const down = { ...ON, currentA: 2.4 };
    expect(stepTitle(holding([down], { events: lost, record }))).toBe('Hold 2.41\u00a0A, was 4.82\u00a0A');
  });
});

describe('a paused hold', () => {
  it('stands: what is left by the charge does not run down with the timer stopped', () => {
    const clock = {
      ...clockOf('begin'),
      marks: [...clockOf('begin').marks, { kind: 'pause' as const, atMs: 3_300_000 }],
    };
    const at = (nowMs: number): RunView =>
      holding([ON], {
        record: run({ clock }),
        timers: [timer(HOLD, 'paused', 120_000), timer(RINSE, 'waiting', 1)],
        nowMs,
        powerS: nowMs / 1000,
        progress: { wantedSinceS: null, endS: { valueSi: 3500 } } as RunView['progress'],
      });
    expect(stepLeft(at(3_300_000))).toEqual({ leftMs: 200_000, byCharge: true });
    expect(stepLeft(at(3_480_000))).toEqual({ leftMs: 200_000, byCharge: true });
  });
});

describe('a run ended under current', () => {
  const short = said('short', 1800);
  /** Begun, and ended 3300 s later, the readings until then. */
  const clockTo = (...kinds: Exclude<StepMark['kind'], 'note'>[]): RunRecord['clock'] => ({
    ...clockOf(...kinds),
    marks: kinds.map((kind, i) => ({ kind, atMs: i === 0 ? 0 : 3_300_000 })),
  });
  const ended = (readings: Reading[], change: Partial<RunRecord> = {}): RunView => {
    const all = readingsFrom(readings, 'simulated');
    const record = run({ clock: clockTo('begin', 'end'), silenced: 1, ...change });
    return holding(readings, { record: endedRun(record, all, null), events: [short], powerIsOn: false });
  };

  it('is asked about with the amps that flow, and can be said to be off only where the supply does not show them', () => {
    const now = holding([ON], { nowMs: 3_295_000, events: [short] });
    expect(endQuestion(now)).toMatchObject({
      level: 'stop',
      message: 'The supply still gives 4.80 A: switch it off first.',
      asksForOff: false,
    });
    const typed = holding([ON], { nowMs: 3_890_000, record: run({ origin: 'typed', practise: null }) });
    expect(endQuestion(typed)).toMatchObject({
      message: 'At the last reading, 10:00 ago, 4.80 A flowed: switch the supply off first.',
      asksForOff: true,
    });
    const off = holding([ON, ...OFF_TWICE], { nowMs: 3_296_000 });
    expect(endQuestion(off).message).toBe('End the run at this step?');
    const once = endQuestion(holding([ON, OFF], { nowMs: 3_296_000 }));
    expect(once.message).toMatch(/^One reading alone shows the supply off: switch it off first/);
    expect(once.asksForOff).toBe(true);
    expect(endQuestion(holding([], { nowMs: 3_296_000 })).message).toMatch(/^Nothing shows the supply off/);
  });

  it('the call that current flows, and the alarm, stand until somebody says that it is off', () => {
    const left = ended([ON]);
    expect(powerKnown(left)).toBe('still-on');
    expect(cautionsNow(left)[0]).toMatch(/^POWER IS STILL ON/);
    const [first, second] = calls(left);
    expect(first).toMatchObject({ kind: 'still-on', rings: true });
    expect(first!.message).toContain('4.80 A');
    expect(second).toMatchObject({ kind: 'event', rings: false });
    // It is a supply nobody reads any more: time alone changes nothing.
    expect(calls({ ...left, nowMs: 9e9 })).toHaveLength(2);
    const saidNow = sayRunOff(left.record!, 3_400_000);
    expect(calls({ ...left, record: saidNow })).toEqual([]);
    expect(saidNow.outcome).toBe('unjudged');
    // A word of before it was switched on again does not count.
    expect(calls(ended([ON], { saidOff: { atMs: 500, marks: 0 } }))).toHaveLength(2);
  });

  it('is none where the last reading shows the power off, or the run went to its end', () => {
    expect(calls(ended([ON, ...OFF_TWICE]))).toEqual([]);
    expect(calls(ended([]))).toEqual([]);
    expect(calls(ended([OFF]))).toEqual([]);
    expect(calls(ended([ON, OFF]))[0]!.message).toMatch(/one reading alone shows the supply off/);
    // Typed, and gone on past the hold: as every run that is typed.
    const gone = { origin: 'typed', practise: null, clock: clockTo('begin', 'next', 'next') } as const;
    expect(calls(ended([ON], gone))).toEqual([]);
  });

  it('volts at the leads are a supply that is on too, and what is read of it later tells', () => {
    const left = ended([ON, { ...OFF, voltageV: 14 }]);
    expect(calls(left)[0]).toMatchObject({ kind: 'still-on', rings: true });
    expect(calls(left)[0]!.message).toMatch(/^The run was ended with the supply on, 14\.0 V/);
    const all = readingsFrom([ON], 'simulated');
    const again = readAfterEnd(left.record!, [OFF, { voltageV: 14, currentA: 0 }], all, 3_400_000);
    expect(powerKnown({ ...left, record: again })).toBe('still-on');
    const once = readAfterEnd(left.record!, [{ voltageV: 14, currentA: 0 }, OFF], all, 3_500_000);
    expect(powerKnown({ ...left, record: once })).toBe('still-on');
    const off = readAfterEnd(left.record!, [OFF, OFF], all, 3_500_000);
    expect(powerKnown({ ...left, record: off })).toBe('off');
  });
});

describe('the time of a hold whose film does not grow', () => {
  const progress = (endS: number | null): RunView['progress'] =>
    ({ wantedSinceS: null, endS: endS === null ? null : { valueSi: endS } }) as RunView['progress'];

  it('counts down to no end while the newest reading shows no current, and goes on with it', () => {
    const gone = holding([ON, ...OFF_TWICE], { progress: progress(29_000) });
    expect(standsStill(gone)).toBe('no-current');
    expect(stepLeft(gone)).toEqual({ leftMs: null, byCharge: true });
    // One alone is a slip of the supply until the next confirms it; what is typed was asked about.
    const once = holding([ON, OFF], { progress: progress(4300) });
    expect(stepLeft(once)).toEqual({ leftMs: 1_000_000, byCharge: true });
    expect(standsStill({ ...once, record: run({ origin: 'typed' }) })).toBe('no-current');
    const back = holding([ON, OFF, { ...ON, tS: 3299 }], { progress: progress(4300) });
    expect(standsStill(back)).toBeNull();
    expect(stepLeft(back).leftMs).toBe(1_000_000);
  });

  it('in a short says so, and not that no current flows', () => {
    const short = holding([{ ...ON, voltageV: 1 }], {
      progress: progress(null),
      events: [said('short', 1800)],
    });
    expect(standsStill(short)).toBe('short');
    expect(standsStill({ ...short, events: [] })).toBe('little-current');
    const total = { ...said('contact-total', 1800), areaLeft: [0, 0.01], likelyAreaLeft: 0 } as SaidEvent;
    expect(standsStill({ ...short, events: [total] })).toBe('no-contact');
  });
});
