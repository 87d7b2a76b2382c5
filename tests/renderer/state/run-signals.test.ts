import { beforeEach, describe, expect, it } from 'vitest';
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { RunStep } from '../../../core/run/step-clock.ts';
import type { RunView } from '../../../renderer/state/run-recorder.ts';
import { followRunSignals } from '../../../renderer/state/run-signals.ts';
import { createSounds } from '../../../renderer/state/sounds.ts';
import type { SupplyDeskState } from '../../../renderer/state/supply-desk.ts';

const event = (level: 'alarm' | 'check' | 'note', atS: number) =>
  ({ kind: 'contact-lost', level, atS, message: `said at ${atS}`, remedy: 'do this' }) as never;

const view = (change: Partial<RunView> = {}): RunView => ({
  record: { id: 'r', endedAtMs: null } as RunView['record'],
  role: 'owner',
  readings: { origin: 'typed' } as RunView['readings'],
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
  desk = { state: createStore<SupplyDeskState>(() => ({ gap: null }) as SupplyDeskState) };
  followRunSignals(
    recorder,
    desk,
    {
      unlock: () => {},
      allowed: () => true,
      chime: () => heard.push('chime'),
      knock: () => heard.push('knock'),
      alarm: (on) => heard.push(on ? 'alarm on' : 'alarm off'),
    },
    (title) => told.push(title),
  );
  recorder.view.setState(view());
});

describe('what happens in a run is heard', () => {
  it('an alarm rings once, is told, and stops when it is silenced', () => {
    const lost = event('alarm', 1800);
    recorder.view.setState({ events: [lost], alarm: lost });
    recorder.view.setState({ nowMs: 250 });
    recorder.view.setState({ alarm: null });
    expect(heard).toEqual(['alarm on', 'alarm off']);
    expect(told).toEqual(['said at 1800']);
  });

  it('a check knocks once; those of a run opened later are old news', () => {
    recorder.view.setState({ events: [event('check', 60)] });
    recorder.view.setState({ nowMs: 250 });
    expect(heard).toEqual(['knock']);
    recorder.view.setState(
      view({ record: { id: 'other', endedAtMs: null } as RunView['record'], events: [event('check', 5)] }),
    );
    expect(heard).toEqual(['knock']);
  });

  it('a step that is over chimes once, and says what comes next', () => {
    const step = (label: string): RunStep => ({ kind: 'rinse', label, plannedS: 60 });
    const timers = (leftMs: number): RunView['timers'] => [
      { step: step('Rinse'), state: 'running', elapsedMs: 60_000 - leftMs, remainingMs: leftMs },
      { step: step('Dye'), state: 'waiting', elapsedMs: 0, remainingMs: 60_000 },
    ];
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
