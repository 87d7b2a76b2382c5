import type { RunStep } from './step-clock.ts';

/** The steps of a run from the plan; times of the wet steps are common practice and meant to be changed. */
export function usualSteps(plan: {
  readonly rampS: number;
  readonly holdS: number;
  readonly dyed: boolean;
}): RunStep[] {
  if (!(plan.rampS >= 0)) throw new RangeError(`usualSteps: rampS is ${plan.rampS}`);
  if (!(plan.holdS >= 0)) throw new RangeError(`usualSteps: holdS is ${plan.holdS}`);
  const steps: RunStep[] = [
    { kind: 'clean', label: 'Clean', plannedS: 300 },
    { kind: 'rinse', label: 'Rinse after cleaning', plannedS: 60 },
    { kind: 'etch', label: 'Etch', plannedS: 60 },
    { kind: 'rinse', label: 'Rinse after etching', plannedS: 60 },
    ...(plan.rampS > 0 ? [{ kind: 'ramp', label: 'Ramp', plannedS: plan.rampS } as const] : []),
    { kind: 'hold', label: 'Hold', plannedS: plan.holdS },
    { kind: 'rinse', label: 'Rinse after anodizing', plannedS: 120 },
  ];
  if (plan.dyed) {
    steps.push(
      { kind: 'dye', label: 'Dye', plannedS: 600 },
      { kind: 'rinse', label: 'Rinse after dyeing', plannedS: 30 },
    );
  }
  steps.push({ kind: 'seal', label: 'Seal', plannedS: 1200 });
  return steps;
}
