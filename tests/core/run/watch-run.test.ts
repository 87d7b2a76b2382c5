import { describe, expect, it } from 'vitest';
import { CHARGE_CONSTANT_DEFAULT } from '../../../core/reference/charge-constant.ts';
import { readingsFrom } from '../../../core/run/readings.ts';
import type { WatchEvent } from '../../../core/run/watch-event.ts';
import { watchedRun } from '../../../core/run/watch-run.ts';

/** 12 A/ft² on 3.5 dm²: 142 s of full current grow 1 µm by the 720 rule (720 A·min/ft² a mil). */
const J = 129.17;
const AREA_M2 = 0.035;
const I0 = J * AREA_M2;
const plan = {
  mode: 'current' as const,
  areaM2: AREA_M2,
  currentDensityAPerM2: J,
  chargePerVolumeCPerM3: CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3,
  chargeRelativeUncertainty: 0.1,
  chargeSource: CHARGE_CONSTANT_DEFAULT.source,
  thicknessM: 25e-6,
  rampS: 0,
  supplyVoltageLimitV: null,
  supplyCurrentLimitA: null,
  learntVoltage: null,
};
const lostAt = (atS: number): WatchEvent => ({
  atS,
  sinceS: atS - 20,
  kind: 'contact-lost',
  level: 'alarm',
  areaLeft: [0.5, 0.7],
  likelyAreaLeft: 0.6,
});
/** Every 5 s but where none is read, at full current but where it is off. */
const said = (untilS: number, isRead: (t: number) => boolean, isOff = (_t: number): boolean => false) =>
  watchedRun(
    readingsFrom(
      Array.from({ length: untilS / 5 + 1 }, (_, i) => 5 * i)
        .filter(isRead)
        .map((tS) => ({ tS, voltageV: isOff(tS) ? 0 : 15, currentA: isOff(tS) ? 0 : I0 })),
      'supply',
    ),
    plan,
    [lostAt(untilS)],
  ).events[0]!;

describe('a lost contact after a gap in the readings', () => {
  const inGap = (t: number): boolean => t > 60 && t < 260;

  it('is not to be clamped again where the film may have grown too thick unread', () => {
    const { remedy, filmM } = said(300, (t) => !inGap(t));
    expect(remedy).toMatch(/stripped and done again/);
    expect(remedy).not.toMatch(/clamp it again/);
    // As if the current had flowed all through: 300 s of it.
    expect(filmM).toBeCloseTo((300 * J) / plan.chargePerVolumeCPerM3, 12);
  });

  it('is, where the readings show that the power was off meanwhile, or the gap is too short for that', () => {
    expect(said(300, () => true, inGap).remedy).toMatch(/clamp it again/);
    expect(said(120, (t) => t <= 30 || t >= 100).remedy).toMatch(/clamp it again/);
  });
});
