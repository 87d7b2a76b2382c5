/** What somebody does at the simulated supply and tank, against the arithmetic of a held current and of a lost share. */
import { describe, expect, it } from 'vitest';
import {
  QUIET,
  simulateRun,
  usualSetup,
  type SimulatedAct,
  type SimulatedFault,
  type SimulatedSetup,
} from '../../../core/run/simulated-run.ts';

const AREA_M2 = 0.04;
const J = 130;
const FULL_A = AREA_M2 * J;
const noisy = usualSetup(AREA_M2, J, 5);
const quiet: SimulatedSetup = { ...noisy, noise: QUIET };
const run = (
  faults: readonly SimulatedFault[],
  acts: readonly SimulatedAct[],
  setup: SimulatedSetup = quiet,
): { at(tS: number): { voltageV: number; currentA: number; live: number } } => {
  const { readings, truth } = simulateRun({ ...setup, faults, acts });
  return {
    at(tS) {
      const i = readings.tS.findIndex((time) => time >= tS);
      return { voltageV: readings.voltageV[i]!, currentA: readings.currentA[i]!, live: truth.liveShare[i]! };
    },
  };
};
const lost = (atS: number): SimulatedFault => ({ kind: 'contact', atS, lostShare: 0.4, overS: 2 });

describe('hands at the simulated supply', () => {
  it('change nothing before they act, noise and all', () => {
    const faults: SimulatedFault[] = [{ kind: 'loose', atS: 900, lostShare: 0.3, dwellS: 8 }];
    const plain = simulateRun({ ...noisy, faults }).readings;
    const acted = simulateRun({
      ...noisy,
      faults,
      acts: [
        { kind: 'set-current', atS: 1500, currentA: 2 },
        { kind: 'clamp', atS: 1600 },
      ],
    }).readings;
    const before = plain.tS.findIndex((tS) => tS >= 1500);
    expect([...acted.voltageV.subarray(0, before)]).toEqual([...plain.voltageV.subarray(0, before)]);
    expect([...acted.currentA.subarray(0, before)]).toEqual([...plain.currentA.subarray(0, before)]);
  });

  it('a current set down to what is left brings the density, and so the voltage, back to where it was', () => {
    const alone = run([lost(1200)], []);
    const acted = run([lost(1200)], [{ kind: 'set-current', atS: 1300, currentA: 0.6 * FULL_A }]);
    expect(alone.at(1310).voltageV).toBeGreaterThan(1.1 * alone.at(1190).voltageV);
    expect(acted.at(1310).currentA).toBeCloseTo(0.6 * FULL_A, 6);
    // Same density through the area that is left: the same volts, but for two minutes' growth.
    expect(Math.abs(acted.at(1310).voltageV / alone.at(1190).voltageV - 1)).toBeLessThan(0.02);
  });

  it('a clamp on bare metal in the first minutes brings the area back; on a film it does not', () => {
    const early = run([lost(150)], [{ kind: 'clamp', atS: 200 }]);
    expect(early.at(195).live).toBeCloseTo(0.6, 9);
    expect(early.at(210).live).toBe(1);
    const late = run([lost(1200)], [{ kind: 'clamp', atS: 1300 }]);
    expect(late.at(1310).live).toBeCloseTo(0.6, 9);
  });

  it('a lead joined again, a load moved clear: these mend at any film', () => {
    const total = run([{ kind: 'total', atS: 1200 }], [{ kind: 'clamp', atS: 1300 }]);
    expect(total.at(1250).currentA).toBe(0);
    expect(total.at(1310).currentA).toBeCloseTo(FULL_A, 6);
    const short = run([{ kind: 'short', atS: 1200, resistanceOhm: 0.05 }], [{ kind: 'clamp', atS: 1300 }]);
    expect(short.at(1250).voltageV).toBeLessThan(1);
    expect(short.at(1310).voltageV).toBeGreaterThan(10);
  });

  it('power off is zero, and on again ramps anew', () => {
    const acts: SimulatedAct[] = [
      { kind: 'power', atS: 1200, on: false },
      { kind: 'power', atS: 1500, on: true },
    ];
    const { at } = run([], acts);
    expect(at(1300)).toMatchObject({ voltageV: 0, currentA: 0 });
    expect(at(1650).currentA).toBeCloseTo(FULL_A / 2, 6); // half the ramp of 300 s
    expect(at(1810).currentA).toBeCloseTo(FULL_A, 6);
    // A supply that went off by itself comes back in the same way.
    expect(run([{ kind: 'off', atS: 1200 }], acts.slice(1)).at(1810).currentA).toBeCloseTo(FULL_A, 6);
  });

  it('a burning part calms at half the current', () => {
    const burning: SimulatedFault[] = [{ kind: 'burning', atS: 1200, doublingS: 40 }];
    const acts: SimulatedAct[] = [{ kind: 'set-current', atS: 1300, currentA: 0.5 * FULL_A }];
    const { at } = run(burning, acts);
    expect(Math.abs(at(1600).voltageV / at(1310).voltageV - 1)).toBeLessThan(0.03);
    const alone = run(burning, []);
    expect(alone.at(1600).voltageV / alone.at(1310).voltageV).toBeLessThan(0.95);
  });
});
