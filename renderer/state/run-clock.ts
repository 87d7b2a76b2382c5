import type { ClockLook, StepClock } from '../../core/run/step-clock.ts';

/** The machine's two clocks and this start of the program; handed in, so that tests can hold them. */
export interface MachineClock {
  /** The wall clock, which may be set. */
  readonly wallMs: () => number;
  /** Only ever runs forward. */
  readonly forwardMs: () => number;
  readonly start: string;
}

export interface RunClock {
  look(): ClockLook;
  /** Only a practise run has a speed other than 1; changing it keeps the moment. */
  setSpeed(speed: number): void;
}

export function realClock(machine: MachineClock): RunClock {
  return {
    look: () => ({ wallMs: machine.wallMs(), forwardMs: machine.forwardMs(), start: machine.start }),
    setSpeed: () => {},
  };
}

/** The moment a window that only follows shows: it can't know how fast another window's practise run goes on. */
export const followedLook = (
  { practise, clock }: { readonly practise: unknown; readonly clock: StepClock },
  look: ClockLook,
): ClockLook => (practise && clock.lastLook ? clock.lastLook : look);

/** Time of a practise run: goes on from `fromMs` at any speed, and stands still while the program is closed. */
export function practiseClock(machine: MachineClock, fromMs: number, speed: number): RunClock {
  let base = { ms: fromMs, forwardMs: machine.forwardMs() };
  let rate = speed;
  const now = (): number => base.ms + (machine.forwardMs() - base.forwardMs) * rate;
  return {
    look: () => ({ wallMs: now(), forwardMs: now(), start: `${machine.start} practise` }),
    setSpeed(next) {
      base = { ms: now(), forwardMs: machine.forwardMs() };
      rate = next;
    },
  };
}
