import { expect, it } from 'vitest';
import { createSupplyChecks } from '../../../core/run/supply-checks.ts';
import type { WatchPlan } from '../../../core/run/watch-event.ts';

const plan: WatchPlan = {
  mode: 'voltage',
  areaM2: 0.04,
  currentDensityAPerM2: 100, // 4 A
  chargePerVolumeCPerM3: 1.83e10,
  rampS: 300,
  supplyVoltageLimitV: null,
  supplyCurrentLimitA: null,
};

/** 15 V after an even ramp of 300 s; current flows from 10 V on (handbook: half to three quarters of the voltage bring none). */
function saidAt(share: (tS: number) => number): number | undefined {
  const checks = createSupplyChecks(plan);
  for (let tS = 205; tS <= 3000; tS += 5) {
    const voltageV = 15 * Math.min(1, tS / 300);
    const currentA = 4 * share(tS) * Math.min(1, (voltageV - 10) / 5);
    if (checks.add({ tS, voltageV, currentA }, tS - 205).includes('current-off-plan')) return tS;
  }
  return undefined;
}

it('a supply that ramps its voltage: what let go before current flowed shows within three minutes of the ramp’s end', () => {
  // At a held voltage the current is the area's share: f lost leaves 1 − f.
  for (const left of [0.8, 0.6, 0.3]) {
    const atS = saidAt(() => left)!;
    expect(atS).toBeGreaterThan(360);
    expect(atS).toBeLessThanOrEqual(480);
  }
});

it('the plan’s current, a tenth less, and one that the growing film takes down later are as they should be', () => {
  expect(saidAt(() => 1)).toBeUndefined();
  expect(saidAt(() => 0.9)).toBeUndefined();
  expect(saidAt((tS) => 1 - Math.max(0, tS - 600) / 8000)).toBeUndefined();
});
