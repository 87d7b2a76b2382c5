import { describe, expect, it } from 'vitest';
import { readingsFrom } from '../../../core/run/readings.ts';
import { runProgress, type ProgressPlan } from '../../../core/run/run-progress.ts';
import { CHARGE_CONSTANT_DEFAULT } from '../../../core/reference/charge-constant.ts';

/** 88 in², 1 mil at 6 A/ft²: 3.667 A for 120 min by the 720 rule (trade journal). */
const AREA_M2 = 88 * 0.0254 ** 2;
const I0 = (6 * 88) / 144;
const plan: ProgressPlan = {
  areaM2: AREA_M2,
  thicknessM: 25.4e-6,
  currentDensityAPerM2: 6 / 0.3048 ** 2,
  chargePerVolumeCPerM3: CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3,
  chargeRelativeUncertainty: 0.1,
  chargeSource: CHARGE_CONSTANT_DEFAULT.source,
  rampS: 0,
};
const run = (untilS: number, current: (t: number) => number, skip: (t: number) => boolean = () => false) =>
  readingsFrom(
    Array.from({ length: untilS / 10 + 1 }, (_, i) => i * 10)
      .filter((t) => !skip(t))
      .map((tS) => ({ tS, voltageV: 12, currentA: current(tS) })),
    'log',
  );

describe('runProgress', () => {
  it('half way is half a mil, and ends at 120 min', () => {
    const { thicknessM, endS, done } = runProgress(
      run(3600, () => I0),
      plan,
    );
    expect(thicknessM.valueSi).toBeCloseTo(12.7e-6, 12);
    expect(endS!.valueSi).toBeCloseTo(7200, 6);
    // The charge constant's ±10 %.
    expect(thicknessM.lowSi).toBeCloseTo(12.7e-6 / 1.1, 12);
    expect(thicknessM.highSi).toBeCloseTo(12.7e-6 / 0.9, 12);
    expect(endS!.lowSi).toBeCloseTo(7200 - 720, 6);
    expect(endS!.highSi).toBeCloseTo(7200 + 720, 6);
    expect(done).toBe(false);
  });

  it('past the wanted film, since when: in closed form, a loss and the supply switched off afterwards included', () => {
    const since = (...of: Parameters<typeof run>) => runProgress(run(...of), plan).wantedSinceS;
    expect(since(7000, () => I0)).toBeNull();
    expect(since(7500, () => I0)).toBeCloseTo(7200, 6);
    // A ramp of 900 s costs 450 s; none flows any more from 8000 s on.
    expect(since(9000, (t) => (t > 8000 ? 0 : I0 * Math.min(1, t / 900)))).toBeCloseTo(7650, 6);
    // Rising by a tenth of I0 every 1000 s: I0 · (t + t² / 20 000) = 7200 · I0.
    const rising = -10_000 + Math.sqrt(10_000 ** 2 + 20_000 * 7200);
    expect(since(6000, (t) => I0 * (1 + t / 10_000))).toBeCloseTo(rising, 4);
    // Half of the area gone at 3600 s: the rest grows twice as fast, 3600 + 1800 s.
    const live = [{ fromS: 3600, low: 0.4, likely: 0.5, high: 0.6 }];
    const lost = runProgress(
      run(6000, () => I0),
      plan,
      {},
      live,
    );
    expect(lost.wantedSinceS).toBeCloseTo(5400, 6);
  });

  it('is extended by a low stretch: ten minutes at half current cost five', () => {
    const { endS } = runProgress(
      run(3600, (t) => (t > 1000 && t <= 1600 ? I0 / 2 : I0)),
      plan,
    );
    expect(endS!.valueSi).toBeCloseTo(7500, 6);
  });

  it('counts a ramp slower than planned', () => {
    // A ramp of 900 s passes half of what full current would: 450 s more.
    const { endS } = runProgress(
      run(3600, (t) => I0 * Math.min(1, t / 900)),
      plan,
    );
    expect(endS!.valueSi).toBeCloseTo(7650, 6);
  });

  it('sees the end from within the ramp', () => {
    // By the current's own slope the ramp ends at 900 s. The slope of the last minute is exact for a straight ramp.
    const { endS } = runProgress(
      run(300, (t) => (I0 * t) / 900),
      plan,
    );
    expect(endS!.valueSi).toBeCloseTo(7650, 3);
  });

  it('bounds what a gap may hold', () => {
    const { thicknessM, endS, delivered } = runProgress(
      run(
        3600,
        () => I0,
        (t) => t > 1000 && t < 1600,
      ),
      plan,
      { highestCurrentA: I0 },
    );
    expect(delivered.gapS).toBe(600);
    expect(thicknessM.valueSi).toBeCloseTo((25.4e-6 * 3000) / 7200, 12);
    expect(thicknessM.highSi).toBeCloseTo((25.4e-6 * 3600) / 7200 / 0.9, 12);
    expect(thicknessM.unconfirmed).toMatch(/1 gap of 600 s/);
    expect(endS!.valueSi).toBeCloseTo(7800, 6);
    expect(endS!.lowSi!).toBeLessThan(7200);
  });

  it('is done when the charge is there, and has no end without current', () => {
    const finished = runProgress(
      run(7300, () => I0),
      plan,
    );
    expect(finished.done).toBe(true);
    expect(finished.endS!.valueSi).toBe(7300);
    expect(
      runProgress(
        run(3600, (t) => (t < 1800 ? I0 : 0)),
        plan,
      ).endS,
    ).toBeNull();
    expect(runProgress(readingsFrom([], 'log'), plan).endS).toBeNull();
  });

  it('grows the live part faster after a loss, and ends earlier', () => {
    // Half an hour whole, half an hour with half of the area: 1/4 + 2/4 of the film; the last quarter takes an eighth.
    const half = { fromS: 1800, low: 0.5, likely: 0.5, high: 0.5 };
    const { thicknessM, endS, missingChargeC } = runProgress(
      run(3600, () => I0),
      plan,
      {},
      [half],
    );
    expect(thicknessM.valueSi).toBeCloseTo((25.4e-6 * 3) / 4, 12);
    expect(endS!.valueSi).toBeCloseTo(3600 + 900, 6);
    expect(missingChargeC).toBeCloseTo(I0 * 900, 6);
    // At a held voltage the current falls with the area, and nothing changes.
    const held = runProgress(
      run(3600, (t) => (t <= 1800 ? I0 : I0 / 2)),
      plan,
      {},
      [{ ...half, fromS: 1800 }],
    );
    // One interval of 10 s in which the current falls, a trapezoid of a quarter too much.
    expect(held.thicknessM.valueSi / 12.7e-6).toBeCloseTo(1, 2);
    expect(held.endS!.valueSi / 7200).toBeCloseTo(1, 2);
  });

  it('has the range of the area in its own', () => {
    const span = { fromS: 1800, low: 0.4, likely: 0.5, high: 0.6 };
    const { thicknessM } = runProgress(
      run(3600, () => I0),
      { ...plan, chargeRelativeUncertainty: 0 },
      {},
      [span],
    );
    expect(thicknessM.lowSi).toBeCloseTo(25.4e-6 * (0.25 + 0.25 / 0.6), 12);
    expect(thicknessM.highSi).toBeCloseTo(25.4e-6 * (0.25 + 0.25 / 0.4), 12);
  });

  it('has no end after total loss', () => {
    const gone = { fromS: 1800, low: 0, likely: 0, high: 0.05 };
    const lost = runProgress(
      run(3600, (t) => (t < 1800 ? I0 : 0)),
      plan,
      {},
      [gone],
    );
    expect(lost.endS).toBeNull();
    expect(lost.thicknessM.valueSi / 6.35e-6).toBeCloseTo(1, 2);
  });

  it('names a plan that can’t be', () => {
    expect(() =>
      runProgress(
        run(60, () => I0),
        { ...plan, areaM2: 0 },
      ),
    ).toThrow(/areaM2/);
    expect(() =>
      runProgress(
        run(60, () => I0),
        plan,
        {},
        [{ fromS: 0, low: 1, likely: 0.5, high: 1 }],
      ),
    ).toThrow(/live/);
  });
});
