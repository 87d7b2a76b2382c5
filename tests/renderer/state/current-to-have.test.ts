import { describe, expect, it } from 'vitest';
import { readingsFrom } from '../../../core/run/readings.ts';
import type { StepTimer } from '../../../core/run/step-clock.ts';
import type { RunRecord, SaidEvent } from '../../../core/shop/run-record.ts';
import { currentToHave } from '../../../renderer/state/run-words.ts';
import { NO_RUN, type RunView } from '../../../renderer/state/run-view.ts';

/** 6.5 A on 500 cm² at 1.3 A/dm², brought up over five minutes; what an even ramp has is worked by hand below. */
const plan = { mode: 'current', areaM2: 0.05, currentDensityAPerM2: 130, rampS: 300, holdS: 3000 };
const inRamp = (passedS: number, state: StepTimer['state'] = 'running', change: object = {}): RunView => ({
  ...NO_RUN,
  record: { endedAtMs: null, dealtWith: 0, plan: { ...plan, ...change } } as unknown as RunRecord,
  timers: [
    {
      step: { kind: 'ramp', label: 'Power on, ramp to 6.5 A', plannedS: 300 },
      state,
      elapsedMs: 1000 * passedS,
      remainingMs: 1000 * (300 - passedS),
    },
  ],
  readings: readingsFrom([{ tS: passedS, voltageV: 9, currentA: 2 }], 'typed'),
  powerS: passedS,
  powerIsOn: true,
});
const text = (view: RunView): string => currentToHave(view).replaceAll('\u00a0', ' ');

describe('the current to have, as the board has it', () => {
  it('in the ramp is that of an even one at this moment, with the full one beside it', () => {
    // 120 s of 300 s: two fifths of 6.5 A.
    expect(text(inRamp(120))).toBe('ramp now 2.60 A, plan 6.50 A');
    // No more digits than the reading above it has: 1 s of 300 s is 0.0217 A.
    expect(text(inRamp(1))).toBe('ramp now 0.02 A, plan 6.50 A');
    // The timer stands, and the ramp with it.
    expect(text(inRamp(150, 'paused'))).toBe('ramp now 3.25 A, plan 6.50 A');
  });

  it('is the plan’s alone once the ramp is over, in the hold, and where the voltage is ramped', () => {
    expect(text(inRamp(300))).toBe('plan 6.50 A');
    expect(text(inRamp(340))).toBe('plan 6.50 A');
    expect(text(inRamp(120, 'running', { mode: 'voltage' }))).toBe('plan 6.50 A');
    const [ramp] = inRamp(120).timers;
    const hold: StepTimer = { ...ramp!, step: { ...ramp!.step, kind: 'hold' } };
    expect(text({ ...inRamp(120), timers: [hold] })).toBe('plan 6.50 A');
  });

  it('is never more than the ramp has come to where a lost contact asks for less', () => {
    const lost = (passedS: number): RunView => ({
      ...inRamp(passedS),
      events: [{ kind: 'contact-lost', atS: 200, filmM: 2e-6, likelyAreaLeft: 0.6 } as SaidEvent],
    });
    // Three fifths of 6.5 A are 3.9 A, which the ramp has at 180 s.
    expect(text(lost(150))).toBe('ramp now 3.25 A, plan 6.50 A');
    expect(text(lost(250))).toBe('now to 3.90 A, plan 6.50 A');
  });

  it('two figures never break from their units', () => {
    expect(currentToHave(inRamp(120)).split(' ')).toEqual([
      'ramp',
      'now',
      '2.60\u00a0A,',
      'plan',
      '6.50\u00a0A',
    ]);
  });
});
