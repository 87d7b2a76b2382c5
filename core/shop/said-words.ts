import { plannedCurrentA } from '../run/planned-current.ts';
import { isHardCoat } from '../run/trace-signal.ts';
import { watchAdvice, type Advice, type AdviceStage } from '../run/watch-advice.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { LoadPlan, SaidEvent } from './run-record.ts';

/**
 * What the watch said, in the reader's units; a run of before these were kept says it as it was said then.
 *
 * @param currentNowA what flows now, A; null where that is not known, or is long past
 */
export function saidWords(
  event: SaidEvent,
  plan: LoadPlan,
  system: UnitSystem,
  currentNowA: number | null = null,
): Advice {
  const { message, remedy } = event;
  const stage = saidStage(event, plan);
  return stage ? watchAdvice(event, { ...stage, system, currentNowA }) : { message, remedy };
}

/** Where the run stood when this was said; null in a run of before that was kept. */
export function saidStage({ filmM, bathTemperatureK }: SaidEvent, plan: LoadPlan): AdviceStage | null {
  if (filmM === undefined) return null;
  return {
    mode: plan.mode,
    thicknessM: filmM,
    plannedA: plannedCurrentA(plan),
    bathTemperatureK,
    bathLimitK: plan.bathLimitK,
    isHardCoat: isHardCoat(plan),
  };
}
