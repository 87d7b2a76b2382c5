import { beforeEach, describe, expect, it } from 'vitest';
import { createStore, type StoreApi } from 'zustand/vanilla';
import { readingsFrom } from '../../../core/run/readings.ts';
import type { RunRecord } from '../../../core/shop/run-record.ts';
import { standingCalls } from '../../../renderer/state/run-calls.ts';
import type { RunStep } from '../../../core/run/step-clock.ts';
import type { RunView } from '../../../renderer/state/run-view.ts';
import { followRunSignals } from '../../../renderer/state/run-signals.ts';
import { createSounds } from '../../../renderer/state/sounds.ts';
import type { SupplyDeskState } from '../../../renderer/state/supply-desk.ts';

const event = (level: 'alarm' | 'check' | 'note', atS: number, kind = 'contact-lost') =>
  ({ kind, level, atS, message: `said at ${atS}`, remedy: 'do this' }) as never;

const record = (change: Partial<RunRecord> = {}): RunRecord =>
  ({
    id: 'r',
    endedAtMs: null,
    origin: 'typed',
    practise: null,
    plan: { rampS: 300, holdS: 3000 },
    silenced: 0,
    dealtWith: 0,
    silencedCalls: [],
    saidOff: null,
    clock: { steps: [], marks: [] },
    log: [],
    ...change,
  }) as RunRecord;
const silentDesk = { status: 'off', gap: null } as const;

const view = (change: Partial<RunView> = {}): RunView => ({
  record: record(),
  role: 'owner',
  readings: readingsFrom([], 'typed'),
  nowMs: 0,
  timers: [],
  step: 0,
  powerOnMs: null,
  powerS: null,
  powerIsOn: false,
  progress: null,
  events: [],
  kept: true,
  running: [],
  unkept: [],
  elsewhere: [],
  silencedHere: [],
  ...change,
});

let heard: string[];
let told: string[];
let recorder: { view: StoreApi<RunView> };
let desk: { state: StoreApi<SupplyDeskState> };

beforeEach(() => {
  heard = [];
  told = [];
  recorder = { view: createStore<RunView>(() => view({ record: null })) };
  desk = { state: createStore<SupplyDeskState>(() => silentDesk as SupplyDeskState) };
  followRunSignals({
    recorder,
    desk,
    sounds: {
      unlock: () => {},
      allowed: () => true,
      chime: () => heard.push('chime'),
      knock: () => heard.push('knock'),
      alarm: (on) => heard.push(on ? 'alarm on' : 'alarm off'),
    },
    tell: (title) => told.push(title),
    system: () => 'metric',
  });
  recorder.view.setState(view());
});

describe('what happens in a run is heard', () => {
  it('an alarm rings once, is told, and stops when it is silenced', () => {
    const lost = event('alarm', 1800);
    recorder.view.setState({ events: [lost] });
    recorder.view.setState({ nowMs: 250 });
    recorder.view.setState({ record: record({ silenced: 1 }) });
    expect(heard).toEqual(['alarm on', 'alarm off']);
    expect(told).toEqual(['said at 1800']);
  });

  const step = (kind: RunStep['kind'], label: string): RunStep => ({ kind, label, plannedS: 60 });
  const running = (now: RunStep, next: RunStep, leftMs: number): RunView['timers'] => [
    { step: now, state: 'running', elapsedMs: 60_000 - leftMs, remainingMs: leftMs },
    { step: next, state: 'waiting', elapsedMs: 0, remainingMs: 60_000 },
  ];

  it('an alarm of another window’s run rings here too, is told where no window keeps that run, and can be silenced here', () => {
    recorder.view.setState(view({ record: null, role: null }));
    const other = view({ record: record({ id: 'o', name: 'Plate' }), role: 'follower' });
    recorder.view.setState({ elsewhere: [other] });
    expect(heard).toEqual([]);
    const calling = { ...other, events: [event('alarm', 1800)] };
    recorder.view.setState({ elsewhere: [calling] });
    recorder.view.setState({ nowMs: 250 });
    expect([heard, told]).toEqual([['alarm on'], []]);
    recorder.view.setState({ silencedHere: ['o contact-lost 1800'] });
    expect(heard).toEqual(['alarm on', 'alarm off']);
    recorder.view.setState({ unkept: [{ id: 'o', name: 'Plate', startedAtMs: 0, simulated: false }] });
    recorder.view.setState({ nowMs: 500 });
    expect(told).toEqual(['“Plate”: said at 1800']);
    // Two that call at once are one ringing.
    recorder.view.setState({
      ...view({ events: [event('alarm', 20)] }),
      elsewhere: [calling],
      silencedHere: [],
    });
    recorder.view.setState({ record: record({ silenced: 1 }) });
    expect(heard).toEqual(['alarm on', 'alarm off', 'alarm on']);
  });

  it('a hold that is done rings until it is silenced, and says power off first', () => {
    const timers = (leftMs: number) => running(step('hold', 'Hold 3 A'), step('rinse', 'Rinse long'), leftMs);
    recorder.view.setState({ timers: timers(1000) });
    expect(heard).toEqual([]);
    recorder.view.setState({ timers: timers(0) });
    recorder.view.setState({ timers: timers(-250) });
    recorder.view.setState({ record: record({ silencedCalls: ['hold-done'] }) });
    expect(heard).toEqual(['alarm on', 'alarm off']);
    expect(told).toEqual(['Hold done: switch the supply off, then hands in.']);
  });

  it('a ramp that has become the hold by itself chimes and says so', () => {
    const log = [{ atMs: 1, kind: 'ramp-over', text: 'The ramp’s time is over. Now: Hold 3 A.' }];
    recorder.view.setState({ record: record({ log }) });
    recorder.view.setState({ nowMs: 250 });
    expect(heard).toEqual(['chime']);
    expect(told).toEqual(['The ramp’s time is over. Now: Hold 3 A.']);
  });

  it('a typed reading that is due knocks once, and again for the next', () => {
    recorder.view.setState({ powerIsOn: true, powerOnMs: 0, powerS: 310 });
    recorder.view.setState({ powerS: 320 });
    recorder.view.setState({
      powerS: 330,
      readings: readingsFrom([{ tS: 330, voltageV: 15, currentA: 3 }], 'typed'),
    });
    expect(heard).toEqual(['knock']);
    recorder.view.setState({ powerS: 1300 });
    expect(heard).toEqual(['knock', 'knock']);
    expect(new Set(told)).toEqual(new Set(['A reading is due: volts, amps and the bath.']));
  });

  it('a check knocks once; those of a run opened later are old news', () => {
    recorder.view.setState({ events: [event('check', 60)] });
    recorder.view.setState({ nowMs: 250 });
    expect(heard).toEqual(['knock']);
    recorder.view.setState(view({ record: record({ id: 'other' }), events: [event('check', 5)] }));
    expect(heard).toEqual(['knock']);
  });

  it('a step that is over chimes once, and says what comes next', () => {
    const timers = (leftMs: number) => running(step('rinse', 'Rinse'), step('dye', 'Dye'), leftMs);
    recorder.view.setState({ timers: timers(5000) });
    recorder.view.setState({ timers: timers(0) });
    recorder.view.setState({ timers: timers(-250) });
    expect(heard).toEqual(['chime']);
    expect(told).toEqual(['Rinse is over.']);
  });

  it('a silent supply knocks', () => {
    desk.state.setState({ gap: { why: 'silent' } } as SupplyDeskState);
    expect(heard).toEqual(['knock']);
    expect(told).toEqual(['No readings from the supply.']);
  });
});

describe('what stands until it is dealt with', () => {
  const calls = (change: Partial<RunView>, desk_: Partial<SupplyDeskState> = {}) =>
    standingCalls(view(change), { ...silentDesk, ...desk_ }, 'metric').map(({ kind, rings }) => [
      kind,
      rings,
    ]);
  const lost = event('alarm', 1800);

  it('an alarm stays, quiet, after it is silenced, until it is dealt with or the contact is back', () => {
    expect(calls({ events: [lost] })).toEqual([['event', true]]);
    expect(calls({ events: [lost], record: record({ silenced: 1 }) })).toEqual([['event', false]]);
    expect(calls({ events: [lost], record: record({ silenced: 1, dealtWith: 1 }) })).toEqual([]);
    const back = [lost, event('note', 1900, 'contact-back')];
    expect(calls({ events: back, record: record({ silenced: 2 }) })).toEqual([]);
    // Not silenced, it rings on: nobody has seen it yet.
    expect(calls({ events: back })).toEqual([['event', true]]);
    // A new one rings over an older one that was dealt with.
    const second = [lost, event('alarm', 2000)];
    expect(calls({ events: second, record: record({ silenced: 1, dealtWith: 1 }) })).toEqual([
      ['event', true],
    ]);
    expect(calls({ events: [lost], record: record({ endedAtMs: 1 }) })).toEqual([]);
  });

  it('after the hold, a lost contact no longer asks for a turn of the current knob', () => {
    const off = { events: [lost], powerOnMs: 0, powerS: 4000, powerIsOn: false } as const;
    expect(standingCalls(view(off), silentDesk, 'metric')[0]!.remedy).toMatch(/^Switch the supply off first/);
    expect(standingCalls(view({ ...off, powerIsOn: true }), silentDesk, 'metric')[0]!.remedy).toBe('do this');
  });

  it('a supply that is no longer read is said, with or without a gap announced', () => {
    const readings = readingsFrom([{ tS: 900, voltageV: 15, currentA: 3 }], 'supply');
    const on = { powerIsOn: true, powerOnMs: 0, readings, record: record({ origin: 'supply' }) } as const;
    expect(calls({ ...on, powerS: 950 })).toEqual([]);
    expect(calls({ ...on, powerS: 961 })).toEqual([['no-readings', false]]);
    expect(calls({ ...on, powerS: 961 }, { status: 'live' })).toEqual([]);
    // Who types instead is asked as one who types: the next is due at 20 min.
    const typing = { ...on, record: record({ origin: 'supply', silencedCalls: ['no-readings'] }) };
    expect(calls({ ...typing, powerS: 961 })).toEqual([]);
    expect(calls({ ...typing, powerS: 1500 })).toEqual([['reading-due', false]]);
    const gap = { why: 'silent', sinceS: 1 } as const;
    expect(calls({ ...on, powerS: 961 }, { status: 'gap', gap })).toEqual([['gap', false]]);
    expect(calls({ ...on, powerS: 961, powerIsOn: false }, { status: 'gap', gap })).toEqual([]);
  });

  it('a hold that is done asks for no reading', () => {
    const hold: RunStep = { kind: 'hold', label: 'Hold', plannedS: 60 };
    const timers = (remainingMs: number): RunView['timers'] => [
      { step: hold, state: 'running', elapsedMs: 60_000 - remainingMs, remainingMs },
    ];
    const on = { powerIsOn: true, powerOnMs: 0, powerS: 3400 } as const;
    expect(calls({ ...on, timers: timers(1000) })).toEqual([['reading-due', false]]);
    expect(calls({ ...on, timers: timers(-1000) })).toEqual([['hold-done', true]]);
  });

  it('a reading is asked for from the ramp’s end on, never in a practise run or where nobody types', () => {
    const on = { powerIsOn: true, powerOnMs: 0 } as const;
    expect(calls({ ...on, powerS: 299 })).toEqual([]);
    expect(calls({ ...on, powerS: 301 })).toEqual([['reading-due', false]]);
    expect(calls({ ...on, powerS: 301, record: record({ silencedCalls: ['reading-due'] }) })).toEqual([]);
    expect(calls({ ...on, powerS: 301, record: record({ practise: {} as never }) })).toEqual([]);
    expect(calls({ ...on, powerS: 301 }, { status: 'live' })).toEqual([]);
  });
});

describe('the sounds themselves', () => {
  /** As much of the Web Audio API as the sounds use, counting what plays. */
  class Audio {
    state: AudioContextState = 'suspended';
    readonly currentTime = 0;
    readonly destination = {};
    playing = 0;
    started = 0;
    async resume(): Promise<void> {
      this.state = 'running';
    }
    createGain() {
      const gain = {
        gain: {
          value: 0,
          setValueAtTime() {},
          linearRampToValueAtTime() {},
          exponentialRampToValueAtTime() {},
        },
        connect: (to: unknown) => to,
        disconnect() {},
      };
      return gain;
    }
    createOscillator() {
      return {
        type: 'sine',
        frequency: { value: 0 },
        connect: (to: unknown) => to,
        start: () => {
          this.playing++;
          this.started++;
        },
        stop: (at?: number) => {
          if (at === undefined) this.playing--;
        },
      };
    }
  }

  it('an alarm wanted before the first click begins with it, rings as one, and stops', async () => {
    const audio = new Audio();
    const sounds = createSounds(() => audio as unknown as AudioContext);
    sounds.alarm(true);
    expect(sounds.allowed()).toBe(false);
    expect(audio.started).toBe(0);
    sounds.unlock();
    await Promise.resolve();
    await Promise.resolve();
    expect(sounds.allowed()).toBe(true);
    expect(audio.playing).toBe(2); // the tone and what swings it
    sounds.alarm(true);
    sounds.unlock();
    await Promise.resolve();
    expect(audio.playing).toBe(2);
    sounds.alarm(false);
    expect(audio.playing).toBe(0);
  });

  it('without audio nothing breaks, and nothing is claimed', () => {
    const sounds = createSounds(() => null);
    sounds.unlock();
    sounds.alarm(true);
    sounds.chime();
    expect(sounds.allowed()).toBe(false);
  });
});
