import type { StoreApi } from 'zustand/vanilla';
import type { TroubleFacts } from '../../core/finish/trouble-facts.ts';
import type { Job } from '../../core/job/job.ts';
import type { Failure, Result } from '../../core/result.ts';
import type { Reading, Readings } from '../../core/run/readings.ts';
import type { RunProgress } from '../../core/run/run-progress.ts';
import type { SimulatedAct } from '../../core/run/simulated-run.ts';
import type { RunStep, StepTimer } from '../../core/run/step-clock.ts';
import type { LoadPlan, Practise, RunRecord, SaidEvent } from '../../core/shop/run-record.ts';
import type { MachineClock } from './run-clock.ts';
import type { RunJournal } from './run-journal.ts';
import type { RunLock } from './run-lock.ts';
import { NO_READINGS, type RunStore } from './run-store.ts';

export interface NamedRun {
  readonly id: string;
  readonly name: string;
  /** By the wall clock. */
  readonly startedAtMs: number;
  readonly simulated: boolean;
}

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
  /** Whether all that was entered is in the book. */
  readonly kept: boolean;
  /** Runs in progress in the book, and those left on; this one too. */
  readonly running: readonly NamedRun[];
  /** Those of them that no window keeps. */
  readonly unkept: readonly NamedRun[];
  /** Those of them that this window does not show, as it would show them. */
  readonly elsewhere: readonly RunView[];
  /** Calls of theirs that were silenced in this window; see calls-elsewhere.ts. */
  readonly silencedHere: readonly string[];
}

/** Whether this window keeps a run that goes on, or one that was ended with the supply on. */
export function keepsRun<V extends Pick<RunView, 'record' | 'role'>>(
  view: V,
): view is V & { readonly record: RunRecord } {
  return view.role === 'owner' && view.record !== null && view.record.outcome === 'running';
}

export const NO_RUN: RunView = {
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
  kept: true,
  running: [],
  unkept: [],
  elsewhere: [],
  silencedHere: [],
};

export interface NewRun {
  readonly name: string;
  readonly plan: LoadPlan;
  readonly steps: readonly RunStep[];
  readonly job: Job;
  readonly models: ReadonlyMap<string, Uint8Array>;
  readonly practise: Practise | null;
  readonly supplyId: string | null;
  /** What the job knows of itself, for weighing causes later. */
  readonly jobFacts: TroubleFacts;
}

/** The run in progress, as the window acts on it. What makes no sense now, or in a follower, changes nothing. */
export interface RunRecorder {
  readonly view: StoreApi<RunView>;
  start(run: NewRun): Promise<Result<null>>;
  /** Owns the run if no other window does, else follows it and owns it when that window is gone. */
  open(id: string): Promise<Result<null>>;
  /** Takes over the newest run in progress, or left on, that no window owns; null where there is none. */
  findAgain(): Promise<RunRecord | null>;
  /** Stops showing the run; it goes on. */
  leave(): Promise<void>;
  mark(kind: 'begin' | 'next' | 'back' | 'pause' | 'resume' | 'end'): void;
  /** Whether the ramp waits for somebody to end it; by itself it ends when its planned time is over. */
  holdRamp(waits: boolean): void;
  note(text: string): void;
  denyJump(): void;
  /** Silences all that was said so far, and other calls by their names; see run-calls.ts. */
  silence(calls: readonly string[]): void;
  /** Silences calls of other windows' runs, in this window alone. */
  silenceHere(calls: readonly string[]): void;
  /** Somebody looked, past the hold: the supply is off. Silences nothing. */
  sayOff(): void;
  /** What was said so far is dealt with at the tank: nothing of it stands any more. */
  dealWith(): void;
  setSpeed(speed: number): void;
  /** Something done at the supply that isn't there, at this moment. */
  act(makeAct: (atS: number) => SimulatedAct): void;
  addTyped(reading: Omit<Reading, 'tS'>): Result<null>;
  /** From a supply, `ageS` ago; a temperature typed meanwhile goes with the next one. */
  addLive(reading: Omit<Reading, 'tS'>, ageS: number): void;
  typeTemperature(bathTemperatureK: number): void;
  /** Takes the last typed reading back. */
  removeLast(): void;
  /** A reading that was wrong, by its time: as it should have been, or null to take it out; the run's log says so. */
  putRight(tS: number, right: Omit<Reading, 'tS'> | null): void;
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
  readonly onTrouble: (failure: Failure, level: 'check' | 'stop') => void;
}
