import { watchAdvice, type Advice } from '../run/watch-advice.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { LoadPlan, SaidEvent } from './run-record.ts';

/** What the watch said, in the reader's units; a run of before these were kept says it as it was said then. */
export function saidWords(event: SaidEvent, plan: LoadPlan, system: UnitSystem): Advice {
  const { filmM, bathTemperatureK, message, remedy } = event;
  if (filmM === undefined) return { message, remedy };
  return watchAdvice(event, {
    mode: plan.mode,
    thicknessM: filmM,
    plannedA: plan.areaM2 * plan.currentDensityAPerM2,
    bathTemperatureK,
    system,
  });
}
