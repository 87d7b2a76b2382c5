import { plannedCurrentA } from './planned-current.ts';
import type { AreaLeft } from './area-estimate.ts';
import { createHeldLevel, median, type HeldLevel } from './held-level.ts';
import type { NoiseTracker } from './noise-tracker.ts';
import type { VoltageSplit } from './ramp-fit.ts';
import type { Reading } from './readings.ts';
import type { WatchPlan } from './watch-event.ts';

/** One sample of a run as the contact watch keeps it. */
export interface Sample {
  readonly tS: number;
  readonly voltageV: number;
  readonly currentA: number;
  /** Current or voltage freed of the meter's noise, for whichever the supply holds. */
  heldV: number;
  heldA: number;
  readonly kelvin: number | undefined;
  /** Passed so far, C/m². */
  readonly chargePerAreaC: number;
  /** ln conductance, warming taken out where read. */
  x: number;
  /** x with all steps called so far taken out. */
  level: number;
}

/** What a contact watch knows of its run: the samples its rules look at, and how they are to be read. It grows in place. */
export interface WatchTrace {
  readonly plan: WatchPlan;
  readonly plannedA: number;
  samples: Sample[];
  onS: number | undefined;
  usualStepS: number;
  chargePerAreaC: number;
  firstKelvin: number | undefined;
  slowKelvin: number | undefined;
  /** Smallest change seen from one reading to the next: the display's step, or next to nothing where it has none. */
  digitV: number;
  digitA: number;
  lastShown: Reading | undefined;
  heldVoltage: HeldLevel;
  heldCurrent: HeldLevel;
  /** How the voltage splits; `splitFixed` once the current no longer rises. */
  split: VoltageSplit | undefined;
  splitFixed: boolean;
  lastSplitS: number;
  noise: NoiseTracker | undefined;
  /** Next sample for the noise to be learnt from. */
  noiseFrom: number;
  /** Samples before this one lie before the last step. */
  segmentFrom: number;
  /** Samples before this one were looked at with another split. */
  comparableFrom: number;
  /** Samples before this one lie before a loss in the ramp. */
  rampFrom: number;
  /** All steps called so far. */
  stepSum: number;
  left: AreaLeft;
}

/** Charge in a gap longer than this is not counted. */
export const GAP_S = 60;

const freshRun = () => ({
  samples: [] as Sample[],
  onS: undefined,
  chargePerAreaC: 0,
  heldVoltage: createHeldLevel(),
  heldCurrent: createHeldLevel(),
  split: undefined,
  splitFixed: false,
  lastSplitS: -Infinity,
  noise: undefined,
  noiseFrom: 0,
  segmentFrom: 0,
  comparableFrom: 0,
  rampFrom: 0,
  stepSum: 0,
});

export function newWatchTrace(plan: WatchPlan): WatchTrace {
  return {
    plan,
    plannedA: plannedCurrentA(plan),
    usualStepS: 5,
    firstKelvin: undefined,
    slowKelvin: undefined,
    digitV: Infinity,
    digitA: Infinity,
    lastShown: undefined,
    left: { value: 1, low: 1, high: 1 },
    ...freshRun(),
  };
}

/** After the power was off everything is learnt anew but for what the meters and the area left are. */
export function restartTrace(trace: WatchTrace): void {
  Object.assign(trace, freshRun());
}

/** What was live before sample `onset` is no guide to what the line of the ramp is now. */
export function restartRamp(trace: WatchTrace, onset: number): void {
  trace.rampFrom = onset;
  trace.split = undefined;
  trace.splitFixed = false;
  trace.lastSplitS = -Infinity;
}

/** The bath's temperature follows slowly: a single wrong reading hardly moves it. */
export function addTemperature(trace: WatchTrace, kelvin: number): void {
  trace.firstKelvin ??= kelvin;
  trace.slowKelvin ??= kelvin;
  const away = Math.min(Math.max(kelvin - trace.slowKelvin, -1), 1);
  trace.slowKelvin += away * Math.min(1, trace.usualStepS / 60);
}

/** From each reading as the display has it: the mean of several hides how far apart its digits are. */
export function seeDigits(trace: WatchTrace, reading: Reading): void {
  const { lastShown: last } = trace;
  trace.lastShown = reading;
  if (!last) return;
  const { voltageV, currentA } = reading;
  if (voltageV !== last.voltageV) trace.digitV = Math.min(trace.digitV, Math.abs(voltageV - last.voltageV));
  if (currentA !== last.currentA) trace.digitA = Math.min(trace.digitA, Math.abs(currentA - last.currentA));
}

/** Takes a reading of a run with the power on; true where the quantity the supply holds has moved. */
export function addSample(trace: WatchTrace, reading: Reading): boolean {
  const { tS, voltageV, currentA } = reading;
  const last = trace.samples.at(-1);
  if (last) {
    trace.chargePerAreaC +=
      (((currentA + last.currentA) / 2) * Math.min(tS - last.tS, GAP_S)) / trace.plan.areaM2;
  }
  const heldV = trace.heldVoltage.add(voltageV);
  const heldA = trace.heldCurrent.add(currentA);
  trace.samples.push({
    tS,
    voltageV,
    currentA,
    chargePerAreaC: trace.chargePerAreaC,
    heldV: heldV.level,
    heldA: heldA.level,
    kelvin: reading.bathTemperatureK === undefined ? undefined : trace.slowKelvin,
    x: 0,
    level: 0,
  });
  return trace.plan.mode === 'current' ? heldA.moved : heldV.moved;
}

/** What the plan's area has contact with now, m²; never nothing. */
export const liveArea = ({ plan, left }: WatchTrace): number => plan.areaM2 * Math.max(left.value, 0.05);

export const newest = (trace: WatchTrace): Sample => trace.samples.at(-1)!;

export const medianOf = (samples: readonly Sample[], name: 'voltageV' | 'currentA'): number =>
  median(samples.map((sample) => sample[name]));

/** The samples of the last half minute, and of the half before it. */
export function halfMinutes(samples: readonly Sample[]): { late: Sample[]; early: Sample[] } {
  const nowS = samples.at(-1)!.tS;
  return {
    late: samples.filter(({ tS }) => tS > nowS - 30),
    early: samples.filter(({ tS }) => tS <= nowS - 30 && tS > nowS - 60),
  };
}

export function meanOf(
  samples: readonly Sample[],
  from: number,
  to: number,
  name: 'voltageV' | 'currentA',
): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += samples[i]![name];
  return sum / (to - from);
}
