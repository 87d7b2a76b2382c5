import { describe, expect, it } from 'vitest';
import {
  currentStep,
  denyJump,
  endStepOnTime,
  lookAtClock,
  markStep,
  newStepClock,
  noteStep,
  stepTimers,
  type ClockLook,
  type RunStep,
  type StepClock,
} from '../../../core/run/step-clock.ts';

const T0 = Date.UTC(2026, 0, 1);
const look = (wallS: number, forwardS = wallS, start = 'a'): ClockLook => ({
  wallMs: T0 + wallS * 1000,
  forwardMs: forwardS * 1000,
  start,
});
const steps: RunStep[] = [
  { kind: 'clean', label: 'Clean', plannedS: 300 },
  { kind: 'rinse', label: 'Rinse', plannedS: 60 },
  { kind: 'etch', label: 'Etch', plannedS: 60 },
  { kind: 'hold', label: 'Hold', plannedS: 3600 },
];
const elapsed = (clock: StepClock, at: ClockLook): number[] =>
  stepTimers(clock, at).map((timer) => timer.elapsedMs / 1000);
/** As the store gives it back. */
const reload = (clock: StepClock): StepClock => JSON.parse(JSON.stringify(clock)) as StepClock;

describe('the step clock', () => {
  it('counts each step and leaves pauses out', () => {
    let clock = markStep(newStepClock(steps), 'begin', look(0));
    clock = markStep(clock, 'pause', look(100));
    clock = markStep(clock, 'resume', look(160));
    clock = noteStep(clock, 'foam on top', look(200));
    clock = markStep(clock, 'next', look(320));
    expect(elapsed(clock, look(350)).slice(0, 3)).toEqual([260, 30, 0]);
    const [clean, rinse, etch] = stepTimers(clock, look(350));
    expect([clean!.state, rinse!.state, etch!.state]).toEqual(['done', 'running', 'waiting']);
    expect(rinse!.remainingMs).toBe(30_000);
    expect(currentStep(clock)).toBe(1);
  });

  it('ignores marks that make no sense now', () => {
    let clock = newStepClock(steps);
    clock = markStep(clock, 'pause', look(0));
    clock = markStep(clock, 'begin', look(10));
    clock = markStep(clock, 'begin', look(20));
    clock = markStep(clock, 'resume', look(30));
    expect(elapsed(clock, look(60))[0]).toBe(50);
  });

  it('goes back to the step before as if it had not been left', () => {
    let clock = markStep(newStepClock(steps), 'begin', look(0));
    expect(currentStep(markStep(clock, 'back', look(5)))).toBe(0); // nothing to go back to
    clock = markStep(clock, 'next', look(100));
    clock = markStep(clock, 'next', look(130)); // a mis-tap
    clock = markStep(clock, 'back', look(150));
    expect(currentStep(clock)).toBe(1);
    expect(elapsed(clock, look(160))).toEqual([100, 60, 0, 0]);
    clock = markStep(clock, 'back', look(170));
    expect(elapsed(reload(clock), look(200))).toEqual([200, 0, 0, 0]);
    clock = markStep(clock, 'next', look(300));
    expect(elapsed(clock, look(310))).toEqual([300, 10, 0, 0]);
  });

  it('ends a step at its own time, however late it is looked at, and never before', () => {
    const clock = markStep(newStepClock(steps), 'begin', look(0));
    expect(currentStep(endStepOnTime(clock, look(299)))).toBe(0);
    const late = endStepOnTime(clock, look(340));
    expect(elapsed(late, look(340))).toEqual([300, 40, 0, 0]);
    const paused = markStep(clock, 'pause', look(100));
    expect(currentStep(endStepOnTime(paused, look(900)))).toBe(0);
  });

  it('is right after a reload in the middle', () => {
    let clock = markStep(newStepClock(steps), 'begin', look(0));
    clock = reload(lookAtClock(clock, look(100)));
    clock = lookAtClock(clock, look(190, 2, 'b'));
    expect(elapsed(clock, look(200, 12, 'b'))[0]).toBe(200);
    expect(clock.findings).toEqual([]);
  });

  it('counts a machine’s sleep as time passed, and says so', () => {
    let clock = markStep(newStepClock(steps), 'begin', look(0));
    // The forward clock stood still for 40 min of sleep.
    clock = lookAtClock(lookAtClock(clock, look(60)), look(2460, 61));
    expect(clock.findings).toMatchObject([{ kind: 'jumped-ahead', byMs: 2_399_000 }]);
    expect(elapsed(clock, look(2460, 61))[0]).toBe(2460);
  });

  it('takes the jump back when the clock was set', () => {
    let clock = markStep(newStepClock(steps), 'begin', look(0));
    clock = denyJump(lookAtClock(clock, look(3660, 60)));
    expect(elapsed(clock, look(3700, 100))[0]).toBe(100);
    expect(clock.findings).toEqual([]);
    // And goes on rightly across a reload.
    clock = reload(lookAtClock(clock, look(3700, 100)));
    expect(elapsed(lookAtClock(clock, look(3800, 5, 'b')), look(3800, 5, 'b'))[0]).toBe(200);
  });

  it('allows for a clock set back, also while the program was closed', () => {
    let clock = markStep(newStepClock(steps), 'begin', look(0));
    clock = lookAtClock(lookAtClock(clock, look(100)), look(-3490, 110));
    expect(clock.findings).toMatchObject([{ kind: 'set-back', byMs: 3_600_000 }]);
    expect(elapsed(clock, look(-3490, 110))[0]).toBe(110);
    clock = reload(clock);
    clock = lookAtClock(clock, look(-7090, 1, 'b'));
    expect(clock.findings).toHaveLength(2);
    // What passed while it was closed can't be known: at least nothing is lost.
    expect(elapsed(clock, look(-7090, 1, 'b'))[0]).toBe(110);
  });

  it('does not mind clocks that drift or are read a moment apart', () => {
    let clock = markStep(newStepClock(steps), 'begin', look(0));
    for (let t = 1; t < 7200; t++) clock = lookAtClock(clock, look(t, t * 1.0001 + (t % 2) * 0.5));
    expect(clock.findings).toEqual([]);
  });

  it('ends', () => {
    let clock = markStep(newStepClock(steps.slice(0, 2)), 'begin', look(0));
    clock = markStep(clock, 'next', look(10));
    clock = markStep(clock, 'next', look(30));
    expect(stepTimers(clock, look(99)).map(({ state, elapsedMs }) => [state, elapsedMs])).toEqual([
      ['done', 10_000],
      ['done', 20_000],
    ]);
    expect(() => newStepClock([])).toThrow(RangeError);
  });
});
