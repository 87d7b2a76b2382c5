import { areaLeft, type AreaLeft } from './area-estimate.ts';
import { WANDER_MEMORY_S } from './noise-tracker.ts';
import type { VoltageSplit } from './ramp-fit.ts';
import { stepFilters } from './step-filter.ts';
import { growthPerS, noiseNow, overPotential, warmingPerS } from './trace-signal.ts';
import { meanOf, type WatchTrace } from './watch-trace.ts';

/** How large a step is and how much area it leaves, once it has been found. */
export interface StepSize {
  readonly step: number;
  readonly stepSd: number;
}

/** A contact may take this long to let go. */
const LETTING_GO_S = 9;

/** The step over the last `count` samples without those right after its onset, where a contact may still have been letting go. */
export function settledStep(trace: WatchTrace, onset: number, count: number): StepSize | undefined {
  const { samples } = trace;
  const from = samples.length - count;
  const chosen: number[] = [];
  for (let i = from; i < samples.length; i++) {
    if (i < onset || samples[i]!.tS > samples[onset]!.tS + LETTING_GO_S) chosen.push(i);
  }
  const lag = chosen.filter((i) => i >= onset).length;
  if (lag < 1 || chosen.length - lag < 2) return undefined;
  const { whiteSd, wanderSd } = noiseNow(trace);
  const growth = growthPerS(trace) / 2;
  const bank = stepFilters(
    Float64Array.from(chosen, (i) => samples[i]!.tS - samples[from]!.tS),
    [lag],
    { whiteSd, wanderSd, memoryS: WANDER_MEMORY_S, slopeSdPerS: warmingPerS(trace) + growth },
  );
  let step = 0;
  chosen.forEach((index, i) => {
    const sample = samples[index]!;
    step += bank.weights[0]![i]! * (sample.x - samples[from]!.x + growth * (sample.tS - samples[from]!.tS));
  });
  return { step, stepSd: bank.deviations[0]! };
}

/** What is left of `before` after the step; `splitBefore` is how the voltage split then. */
export function areaAfterStep(
  trace: WatchTrace,
  onset: number,
  { step, stepSd }: StepSize,
  before: AreaLeft,
  splitBefore: VoltageSplit,
): AreaLeft {
  const { samples, plan } = trace;
  const from = Math.max(0, onset - 12);
  const voltageV = meanOf(samples, from, onset, 'voltageV');
  const currentA = meanOf(samples, from, onset, 'currentA');
  const settledFrom = Math.min(
    samples.length - 1,
    samples.findIndex((sample, i) => i >= onset && sample.tS > samples[onset]!.tS + LETTING_GO_S) >>> 0,
  );
  const measured = meanOf(samples, settledFrom, samples.length, 'currentA') / currentA;
  const currentRatio = plan.mode === 'current' && Math.abs(measured - 1) < 0.04 ? 1 : measured;
  const voltageHeld =
    plan.mode === 'voltage' &&
    Math.abs(meanOf(samples, settledFrom, samples.length, 'voltageV') / voltageV - 1) < 0.02;
  const overV = overPotential(trace, voltageV);
  const share = areaLeft({
    step,
    stepSd,
    currentRatio: voltageHeld ? Math.exp(step) : currentRatio,
    voltageV,
    overV,
    likelyOverV: 0.5 * (overV + Math.min(overV, splitBefore.overV)),
    overSdV: Math.hypot(splitBefore.overSdV, 0.5 * (overV - splitBefore.overV)),
  });
  return {
    value: before.value * share.value,
    low: before.low * share.low,
    high: Math.min(1, before.high * share.high),
  };
}
