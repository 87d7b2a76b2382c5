import type { DoubtContext } from '../../core/run/doubt-reading.ts';
import { plannedCurrentA } from '../../core/run/planned-current.ts';
import type { Readings } from '../../core/run/readings.ts';
import { SETTLE_S } from '../../core/run/typed-watch.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';

/**
 * What a typed reading is held against: the plan, and the reading before it.
 *
 * @param before how many of the run's readings come before it
 */
export function doubtContext(
  plan: RunRecord['plan'],
  readings: Readings,
  before: number,
  system: UnitSystem,
): DoubtContext {
  const last = before - 1;
  return {
    plannedA: plannedCurrentA(plan),
    expectedVoltageV: plan.expectedVoltageV,
    supplyVoltageLimitV: plan.supplyVoltageLimitV,
    supplyCurrentLimitA: plan.supplyCurrentLimitA,
    bathTemperatureK: plan.bathTemperatureK,
    last:
      last >= 0 && readings.currentA[last]! > 0
        ? { voltageV: readings.voltageV[last]!, currentA: readings.currentA[last]! }
        : null,
    isLastSettled: last >= 0 && readings.tS[last]! >= plan.rampS + SETTLE_S,
    system,
  };
}
