import { describe, expect, it } from 'vitest';
import { BATH_AND_CATHODE_OHM_M2, filmLaw } from '../../../core/field/film-law.ts';
import { filmReadings } from '../../../core/shop/film-readings.ts';
import type { RunSummary } from '../../../core/shop/run-summary.ts';

const run = (change: Partial<RunSummary>): RunSummary =>
  ({
    simulated: false,
    troubled: false,
    areaM2: 0.1,
    steadyVoltageV: 14,
    steadyCurrentA: 13,
    ...change,
  }) as RunSummary;

describe('film readings of the shop’s runs', () => {
  it('tell the law they were made with: V = 2 √j across the film, plus what bath and cathode take', () => {
    const runs = [64, 100, 144].map((j) =>
      run({
        steadyCurrentA: 0.1 * j,
        steadyVoltageV: 2 * Math.sqrt(j) + BATH_AND_CATHODE_OHM_M2 * j,
      }),
    );
    const { law, source } = filmLaw(filmReadings(runs));
    expect(source.standing).toBe('your own runs');
    expect(law).toMatchObject({ kind: 'power' });
    if (law.kind === 'power') expect(law.exponent).toBeCloseTo(0.5, 9);
  });

  it('leave out practice, trouble and what was not read', () => {
    const other = run({ steadyCurrentA: 20, steadyVoltageV: 18 });
    expect(filmReadings([run({}), other])).toHaveLength(2);
    for (const bad of [
      { simulated: true },
      { troubled: true },
      { steadyVoltageV: null },
      { steadyCurrentA: null },
      { areaM2: 0 },
    ])
      expect(filmReadings([run({}), other, run(bad)])).toHaveLength(2);
  });

  it('say nothing where all ran at one density, or the voltage falls with it', () => {
    expect(filmReadings([run({}), run({})])).toEqual([]);
    expect(filmReadings([run({}), run({ steadyCurrentA: 20, steadyVoltageV: 10 })])).toEqual([]);
  });
});
