import { FILM_VOLTAGE_V_PER_M } from '../reference/cell-voltage-table.ts';
import { HELD_LEVEL_DELAY } from './held-level.ts';
import type { NoiseEstimate } from './noise-tracker.ts';
import { arrheniusFactor, DISSOLUTION_ACTIVATION_EV } from './oxide-cell.ts';
import type { WatchPlan } from './watch-event.ts';
import { liveArea, newest, type Sample, type WatchTrace } from './watch-trace.ts';

/**
 * The one signal of the contact watch: x = ln(I / (V − E)), the logarithm of the live area's conductance, and what else than
 * lost area moves it: the meter's noise, the growing film, the bath's temperature.
 */

/** Warming or cooling a tank can do in a minute without being read, K/s. */
const UNREAD_WARMING_K_PER_S = 0.15 / 60;
const HARD_GROWTH_V_PER_M = 1.2e6;
/** Above this a coat is a hard one, whose film takes far more volts as it grows. */
const HARD_COAT_A_PER_M2 = 230;

export const isHardCoat = ({ currentDensityAPerM2 }: Pick<WatchPlan, 'currentDensityAPerM2'>): boolean =>
  currentDensityAPerM2 > HARD_COAT_A_PER_M2;
/** A sample older than this has been looked at for a step as long as it will be. */
export const LONGEST_LAG_S = 100;

/** Of the current the split was made at: a hard coat's comes down to next to nothing at a held voltage, and goes on falling as fast. */
const LEAST_OF_SPLIT = 0.002;
/** Volts the logarithm can stand, where a supply shows current without any. */
const LEAST_OVER_V = 0.01;

/** V − E, for a trace whose split is known. */
export function overPotential(trace: WatchTrace, voltageV: number): number {
  const { voltageV: atV, overV } = trace.split!;
  return Math.max(voltageV - (atV - overV), 0.05 * overV, LEAST_OVER_V);
}

/** A current the logarithm can stand. */
export const atLeast = (trace: WatchTrace, currentA: number): number =>
  Math.max(currentA, 1e-3 * trace.plannedA);

function signal(trace: WatchTrace, index: number): number {
  const { plan, splitFixed, firstKelvin } = trace;
  const sample = trace.samples[index]!;
  // While the supply still ramps nothing is held.
  const currentA = splitFixed && plan.mode === 'current' ? sample.heldA : sample.currentA;
  const voltageV = splitFixed && plan.mode === 'voltage' ? sample.heldV : sample.voltageV;
  const warm =
    sample.kelvin === undefined || firstKelvin === undefined
      ? 0
      : Math.log(arrheniusFactor(DISSOLUTION_ACTIVATION_EV, sample.kelvin, firstKelvin));
  return Math.log(atLeast(trace, currentA) / overPotential(trace, voltageV)) - warm;
}

/** Works out a sample's signal and level, the steps called so far taken out. */
export function setSignal(trace: WatchTrace, index: number): void {
  const sample = trace.samples[index]!;
  sample.x = signal(trace, index);
  sample.level = sample.x - trace.stepSum;
}

/** The same after its split or held level has changed: what was taken out of it stays out. */
export function renewSignal(trace: WatchTrace, index: number): void {
  const sample = trace.samples[index]!;
  const steps = sample.x - sample.level;
  sample.x = signal(trace, index);
  sample.level = sample.x - steps;
}

/** What the run has shown, and never less than the last digit of the displays is worth. */
export function noiseNow(trace: WatchTrace): NoiseEstimate {
  const { whiteSd, wanderSd } = trace.noise!.estimate();
  const { inCurrent, inVoltage } = lastDigits(trace, newest(trace));
  return { whiteSd: Math.max(whiteSd, 0.5 * Math.hypot(inCurrent, inVoltage)), wanderSd };
}

/** What the last digit of each display makes in the signal. */
export function lastDigits(
  trace: WatchTrace,
  { currentA, voltageV }: Pick<Sample, 'currentA' | 'voltageV'>,
): { readonly inCurrent: number; readonly inVoltage: number } {
  // A run without any change has no noise to speak of.
  const step = (digit: number): number => (Number.isFinite(digit) ? digit : 0);
  return {
    inCurrent: step(trace.digitA) / atLeast(trace, currentA),
    inVoltage: step(trace.digitV) / overPotential(trace, voltageV),
  };
}

/** From samples old enough that a step in them would have been called: a step must not excuse itself as noise. */
export function learnNoise(trace: WatchTrace): void {
  const now = newest(trace);
  while (
    trace.noiseFrom < trace.samples.length &&
    now.tS - trace.samples[trace.noiseFrom]!.tS > LONGEST_LAG_S
  ) {
    const sample = trace.samples[trace.noiseFrom++]!;
    trace.noise!.add(sample.tS, sample.level);
  }
}

/** What the growing film takes at most, V per m of it. */
export const mostGrowthVPerM = (plan: WatchPlan): number =>
  isHardCoat(plan) ? HARD_GROWTH_V_PER_M : FILM_VOLTAGE_V_PER_M.high;

/** How fast the growing film may lower the signal at most, 1/s. */
export function growthPerS(trace: WatchTrace): number {
  const { plan, left } = trace;
  const { currentA } = newest(trace);
  const density = currentA / liveArea(trace);
  const perM = mostGrowthVPerM(plan);
  // At a held voltage what growth takes is missing from U, and counts for more as U gets less.
  const shrunk = plan.mode === 'voltage' ? Math.min(1, currentA / (left.value * trace.split!.currentA)) : 1;
  return (
    ((density / plan.chargePerVolumeCPerM3) * perM) / (trace.split!.overV * Math.max(shrunk, LEAST_OF_SPLIT))
  );
}

/** How fast a warming or cooling bath may move the signal, 1/s. */
export function warmingPerS(trace: WatchTrace): number {
  const unread = Math.log(
    arrheniusFactor(DISSOLUTION_ACTIVATION_EV, 293.15 + UNREAD_WARMING_K_PER_S, 293.15),
  );
  return newest(trace).kelvin === undefined ? unread : unread / 3;
}

/** One spoiled reading between two that agree: the level passes over it. */
export function despike(trace: WatchTrace): void {
  const { samples } = trace;
  const index = samples.length - 2;
  if (index - 1 < trace.segmentFrom) return;
  const [a, b, c] = [samples[index - 1]!, samples[index]!, samples[index + 1]!];
  const limit = 5 * Math.SQRT2 * noiseNow(trace).whiteSd;
  const spike = Math.min(Math.abs(b.x - a.x), Math.abs(b.x - c.x));
  if ((b.x - a.x) * (b.x - c.x) > 0 && spike > limit && Math.abs(a.x - c.x) < 0.5 * spike) {
    const middle = (a.x + c.x) / 2;
    b.level += middle - b.x;
    b.x = middle;
  }
}

/** The supply moved some samples ago: these get the new level where it fits them better. */
export function correctMove(trace: WatchTrace): void {
  const { samples } = trace;
  const now = newest(trace);
  const last = samples.length - 1;
  const nearer = (value: number, old: number, fresh: number): number =>
    Math.abs(value - fresh) < Math.abs(value - old) ? fresh : old;
  for (let i = Math.max(trace.comparableFrom, last - HELD_LEVEL_DELAY); i < last; i++) {
    const sample = samples[i]!;
    if (trace.plan.mode === 'voltage') sample.heldV = nearer(sample.voltageV, sample.heldV, now.heldV);
    else sample.heldA = nearer(sample.currentA, sample.heldA, now.heldA);
    renewSignal(trace, i);
  }
}
