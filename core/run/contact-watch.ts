import { areaLeft, type AreaLeft } from './area-estimate.ts';
import { createHeldLevel, HELD_LEVEL_DELAY, median } from './held-level.ts';
import {
  createNoiseTracker,
  WANDER_MEMORY_S,
  type NoiseEstimate,
  type NoiseTracker,
} from './noise-tracker.ts';
import { arrheniusFactor, DISSOLUTION_ACTIVATION_EV } from './oxide-cell.ts';
import { learnSplit, priorSplit, type VoltageSplit } from './ramp-fit.ts';
import type { Reading } from './readings.ts';
import { stepFilters, type StepFilterBank } from './step-filter.ts';
import { createSupplyChecks } from './supply-checks.ts';
import { WATCH_LEVELS, type WatchEvent, type WatchKind, type WatchPlan } from './watch-event.ts';

/**
 * Watches a run for lost contact.
 *
 * One signal serves both ways of running: x = ln(I / (V − E)), the logarithm of the live area's conductance. Lost area
 * makes it fall by ln(1 − f) whether the supply holds the current (V rises) or the voltage (I falls), and whatever the
 * operator sets; film growth lets it sink slowly, a warmer bath lets it rise (0.44 eV, taken out where the bath is
 * read). E comes from the run's own ramp, or from handbook slopes (ramp-fit.ts).
 *
 * Steps are found by a bank of least-squares step filters (step-filter.ts) over the last minutes, whose noise is learnt
 * from the run; a step is called when it stands THRESHOLD deviations clear, is at least SMALLEST_STEP and has held for
 * three samples. Slow losses, warming and burning are seen in one-minute means; jumps both ways are a loose contact;
 * short, total loss and power off are plain levels. The first minute and a half and the start-up peak are not judged.
 *
 * Above 400 lines: the rules share one sample history, and splitting them would hand that history around.
 */
export interface ContactWatch {
  /** Takes the next reading (times never fall) and returns what is new. Throws RangeError for one that is not finite. */
  readonly add: (reading: Reading) => WatchEvent[];
  /** Everything said so far; ranges of fresh losses get narrower for two minutes. */
  readonly events: () => readonly WatchEvent[];
  /** Share of the area with contact now. */
  readonly areaLeft: () => AreaLeft;
}

const THRESHOLD = 6.5;
const SMALLEST_STEP = 0.085;
/** While the supply ramps, E is not known well and the signal bends by itself. */
const IN_RAMP = { threshold: 7.5, smallestStep: 0.17 } as const;
const SMALL_STEP_THRESHOLD = 7;
const SMALLEST_RESISTANCE_STEP = 0.02;
const BIN_S = 4;
const WINDOW_COUNTS = [10, 12, 14, 17, 20, 24, 29, 35, 42, 50] as const;
const LONGEST_LAG_S = 100;
const REFINE_S = 120;
const LETTING_GO_S = 9;
/** About 0.8 µm of film: the start-up peak is over. */
const SETTLED_C_PER_M2 = 15_000;
const SETTLED_S = 90;
const PAST_PEAK_C_PER_M2 = 7000;
/** From here on levels are known well enough for short, total loss and power off. */
const PLAIN_LEVELS_S = 30;
/** Warming or cooling a tank can do in a minute without being read, K/s. */
const UNREAD_WARMING_K_PER_S = 0.15 / 60;
/** Where growth alone may take more than this in ten minutes (hard coat), a slow loss can't be told from it. */
const TELLABLE_FALL = 0.8;
const GROWTH_V_PER_M = { usual: 0.1e6, hard: 1.2e6 } as const;
const HARD_COAT_A_PER_M2 = 230;
const GAP_S = 60;

interface Sample {
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

interface Loss {
  readonly index: number;
  readonly event: number;
  readonly leftBefore: AreaLeft;
  /** As it was before the loss. */
  readonly split: VoltageSplit;
}

export function createContactWatch(plan: WatchPlan): ContactWatch {
  if (!(plan.areaM2 > 0)) throw new RangeError(`createContactWatch: areaM2 is ${plan.areaM2}`);
  if (!(plan.currentDensityAPerM2 > 0)) {
    throw new RangeError(`createContactWatch: currentDensityAPerM2 is ${plan.currentDensityAPerM2}`);
  }
  const plannedA = plan.areaM2 * plan.currentDensityAPerM2;
  const events: WatchEvent[] = [];
  const said = new Set<WatchKind>();
  const banks = new Map<string, StepFilterBank>();
  const supply = createSupplyChecks(plan);

  let samples: Sample[] = [];
  let bin: Reading[] = [];
  let lastRawS = -Infinity;
  let usualStepS = 5;
  let onS: number | undefined;
  let chargePerAreaC = 0;
  let split: VoltageSplit | undefined;
  let splitFixed = false;
  let noise: NoiseTracker | undefined;
  /** Smallest change seen from one reading to the next: the display's step, or next to nothing where it has none. */
  let digitV = Infinity;
  let digitA = Infinity;
  let heldVoltage = createHeldLevel();
  let heldCurrent = createHeldLevel();
  let segmentFrom = 0;
  /** Samples before this one were looked at with another split. */
  let comparableFrom = 0;
  /** Next sample for the noise to be learnt from. */
  let noiseFrom = 0;
  let lastSplitS = -Infinity;
  let left: AreaLeft = { value: 1, low: 1, high: 1 };
  let refining: Loss | undefined;
  let stepSum = 0;
  let lost: { atS: number; step: number } | undefined;
  let jumps: { tS: number; up: boolean }[] = [];
  let zeroRun = 0;
  let shortRun = 0;
  let slowKelvin: number | undefined;
  let firstKelvin: number | undefined;
  let level: { voltageV: number; currentA: number } | undefined;
  let lastLooseS = -Infinity;
  let voltageChecked = false;

  const say = (kind: WatchKind, atS: number, sinceS: number, share: AreaLeft = left): WatchEvent => {
    const event: WatchEvent = {
      atS,
      sinceS,
      kind,
      level: WATCH_LEVELS[kind],
      areaLeft: [share.low, share.high],
      likelyAreaLeft: share.value,
    };
    events.push(event);
    said.add(kind);
    return event;
  };

  const restart = (): void => {
    samples = [];
    onS = undefined;
    chargePerAreaC = 0;
    split = undefined;
    splitFixed = false;
    noise = undefined;
    heldVoltage = createHeldLevel();
    heldCurrent = createHeldLevel();
    segmentFrom = 0;
    comparableFrom = 0;
    lastSplitS = -Infinity;
    refining = undefined;
    stepSum = 0;
    lost = undefined;
    jumps = [];
    level = undefined;
    supply.restart();
  };

  /** Levels that need no statistics, on every reading. Returns true when the reading is no ordinary one. */
  const plainLevels = (reading: Reading, fresh: WatchEvent[]): boolean => {
    if (!level) return false;
    const { voltageV, currentA, tS } = reading;
    const dead = currentA < 0.05 * level.currentA;
    const shorted = voltageV < Math.min(3, 0.3 * level.voltageV) && currentA > 0.5 * level.currentA;
    shortRun = shorted ? shortRun + 1 : 0;
    zeroRun = dead ? zeroRun + 1 : 0;
    if (shortRun === 2)
      fresh.push(say('short', tS, lastRawS, { value: left.value, low: 0, high: left.high }));
    if (zeroRun === 2) {
      if (voltageV > 0.4 * level.voltageV) {
        left = { value: 0, low: 0, high: 0.05 };
        fresh.push(say('contact-total', tS, lastRawS));
      } else {
        fresh.push(say('supply-off', tS, lastRawS));
      }
      restart();
      return true;
    }
    return shorted || dead;
  };

  const overPotential = (voltageV: number): number => {
    const { voltageV: atV, overV } = split!;
    return Math.max(voltageV - (atV - overV), 0.05 * overV);
  };

  const signal = (index: number): number => {
    const sample = samples[index]!;
    // While the supply still ramps nothing is held.
    const currentA = splitFixed && plan.mode === 'current' ? sample.heldA : sample.currentA;
    const voltageV = splitFixed && plan.mode === 'voltage' ? sample.heldV : sample.voltageV;
    const warm =
      sample.kelvin === undefined || firstKelvin === undefined
        ? 0
        : Math.log(arrheniusFactor(DISSOLUTION_ACTIVATION_EV, sample.kelvin, firstKelvin));
    return Math.log(Math.max(currentA, 1e-3 * plannedA) / overPotential(voltageV)) - warm;
  };

  /** What the run has shown, and never less than the last digit of the displays is worth. */
  const noiseNow = (): NoiseEstimate => {
    const { whiteSd, wanderSd } = noise!.estimate();
    const now = samples.at(-1)!;
    // A run without any change has no noise to speak of.
    const step = (digit: number): number => (Number.isFinite(digit) ? digit : 0);
    const digit =
      0.5 *
      Math.hypot(
        step(digitA) / Math.max(now.currentA, 1e-3 * plannedA),
        step(digitV) / overPotential(now.voltageV),
      );
    return { whiteSd: Math.max(whiteSd, digit), wanderSd };
  };

  const growthPerS = (): number => {
    const density = samples.at(-1)!.currentA / (plan.areaM2 * Math.max(left.value, 0.05));
    const hard = plan.currentDensityAPerM2 > HARD_COAT_A_PER_M2;
    const perM = hard ? GROWTH_V_PER_M.hard : GROWTH_V_PER_M.usual;
    // At a held voltage what growth takes is missing from U, and counts for more as U gets less.
    const shrunk =
      plan.mode === 'voltage' ? Math.min(1, samples.at(-1)!.currentA / (left.value * split!.currentA)) : 1;
    return ((density / plan.chargePerVolumeCPerM3) * perM) / (split!.overV * Math.max(shrunk, 0.02));
  };

  const warmingPerS = (): number => {
    const unread = Math.log(
      arrheniusFactor(DISSOLUTION_ACTIVATION_EV, 293.15 + UNREAD_WARMING_K_PER_S, 293.15),
    );
    return samples.at(-1)!.kelvin === undefined ? unread : unread / 3;
  };

  const updateSplit = (): void => {
    const now = samples.at(-1)!;
    const rising = currentRise(samples);
    if (splitFixed || (split && now.tS - lastSplitS < 25)) return;
    lastSplitS = now.tS;
    const tail = samples.slice(-6);
    const voltageV = median(tail.map((sample) => sample.voltageV));
    const currentA = median(tail.map((sample) => sample.currentA));
    const prior = priorFor(plan, voltageV, currentA);
    // The start-up peak falls while the current rises, and would make the slope look too small.
    const settled = samples.filter((sample) => sample.chargePerAreaC > PAST_PEAK_C_PER_M2);
    split = learnSplit(
      settled.map((sample) => sample.voltageV),
      settled.map((sample) => sample.currentA),
      prior,
    );
    splitFixed = rising < 0.02;
    const spread = plan.mode === 'current' || !splitFixed ? (0.01 * voltageV) / split.overV : 0.012;
    noise = createNoiseTracker({ whiteSd: spread, wanderSd: 0.5 * spread });
    segmentFrom = Math.max(0, samples.length - (splitFixed ? 5 : 12));
    comparableFrom = segmentFrom;
    if (splitFixed) {
      // What was held while the supply ramped is no guide to what it holds now.
      heldVoltage = createHeldLevel();
      heldCurrent = createHeldLevel();
    }
    for (let i = segmentFrom; i < samples.length; i++) {
      const sample = samples[i]!;
      sample.heldV = heldVoltage.add(sample.voltageV).level;
      sample.heldA = heldCurrent.add(sample.currentA).level;
      sample.x = signal(i);
      sample.level = sample.x - stepSum;
    }
    noiseFrom = segmentFrom;
  };

  /** From samples old enough that a step in them would have been called: a step must not excuse itself as noise. */
  const learnNoise = (): void => {
    const now = samples.at(-1)!;
    while (noiseFrom < samples.length && now.tS - samples[noiseFrom]!.tS > LONGEST_LAG_S) {
      const sample = samples[noiseFrom++]!;
      noise!.add(sample.tS, sample.level);
    }
  };

  const bankFor = (count: number): { bank: StepFilterBank; scale: number } => {
    const { whiteSd, wanderSd } = noiseNow();
    const slopeSd = warmingPerS() + growthPerS() / 2 + (splitFixed ? 0 : 1e-3);
    // Everything goes with whiteSd, so the bank is kept per rounded ratio.
    const ratio = Math.round(4 * Math.log(Math.max(wanderSd / whiteSd, 0.05)));
    const slope = Math.round(3 * Math.log(slopeSd / whiteSd));
    const window = samples.slice(-count);
    const firstS = window[0]!.tS;
    const stepS = (window.at(-1)!.tS - firstS) / (count - 1);
    const even = window.every((sample, i) => Math.abs(sample.tS - firstS - i * stepS) < 0.25 * stepS);
    const key = even ? `${count} ${ratio} ${slope} ${Math.round(10 * stepS)}` : '';
    let bank = banks.get(key);
    if (!bank || !even) {
      const lags: number[] = [];
      for (let lag = 2; lag <= count - 6 && (lag <= 3 || lag * stepS <= REFINE_S); lag++) lags.push(lag);
      const times = Float64Array.from(window, (sample, i) => (even ? i * stepS : sample.tS - firstS));
      bank = stepFilters(times, lags, {
        whiteSd: 1,
        wanderSd: Math.exp(ratio / 4),
        memoryS: WANDER_MEMORY_S,
        slopeSdPerS: Math.exp(slope / 3),
      });
      if (even) banks.set(key, bank);
    }
    return { bank, scale: whiteSd };
  };

  /** The step after lag `bank.lags[k]`, growth's usual slope taken out. */
  const stepOf = (bank: StepFilterBank, k: number): number => {
    const weights = bank.weights[k]!;
    const from = samples.length - bank.count;
    const growth = growthPerS() / 2;
    const { tS: startS, x: startX } = samples[from]!;
    let step = 0;
    for (let i = 0; i < bank.count; i++) {
      const sample = samples[from + i]!;
      step += weights[i]! * (sample.x - startX + growth * (sample.tS - startS));
    }
    return step;
  };

  /** The step without the samples right after its onset, where a contact may still have been letting go. */
  const settledStep = (onset: number, count: number): { step: number; stepSd: number } | undefined => {
    const from = samples.length - count;
    const chosen: number[] = [];
    for (let i = from; i < samples.length; i++) {
      if (i < onset || samples[i]!.tS > samples[onset]!.tS + LETTING_GO_S) chosen.push(i);
    }
    const lag = chosen.filter((i) => i >= onset).length;
    if (lag < 1 || chosen.length - lag < 2) return undefined;
    const { whiteSd, wanderSd } = noiseNow();
    const bank = stepFilters(
      Float64Array.from(chosen, (i) => samples[i]!.tS - samples[from]!.tS),
      [lag],
      { whiteSd, wanderSd, memoryS: WANDER_MEMORY_S, slopeSdPerS: warmingPerS() + growthPerS() / 2 },
    );
    const growth = growthPerS() / 2;
    let step = 0;
    chosen.forEach((index, i) => {
      const sample = samples[index]!;
      step += bank.weights[0]![i]! * (sample.x - samples[from]!.x + growth * (sample.tS - samples[from]!.tS));
    });
    return { step, stepSd: bank.deviations[0]! };
  };

  const meanOf = (from: number, to: number, name: 'voltageV' | 'currentA'): number => {
    let sum = 0;
    for (let i = from; i < to; i++) sum += samples[i]![name];
    return sum / (to - from);
  };

  const estimateArea = (
    onset: number,
    { step, stepSd }: { step: number; stepSd: number },
    before: AreaLeft,
    splitBefore: VoltageSplit,
  ): AreaLeft => {
    if (!splitFixed) {
      // While the supply ramps, current and voltage before and after are not alike: the step alone, and a wide range.
      return {
        value: before.value * Math.exp(step),
        low: before.low * Math.max(0, Math.exp(3 * step) - 0.05),
        high: before.high * Math.min(1, Math.exp(0.3 * step) + 0.02),
      };
    }
    const from = Math.max(0, onset - 12);
    const voltageV = meanOf(from, onset, 'voltageV');
    const currentA = meanOf(from, onset, 'currentA');
    const settledFrom = Math.min(
      samples.length - 1,
      samples.findIndex((sample, i) => i >= onset && sample.tS > samples[onset]!.tS + LETTING_GO_S) >>> 0,
    );
    const after = meanOf(settledFrom, samples.length, 'currentA');
    const measured = after / currentA;
    const currentRatio = plan.mode === 'current' && Math.abs(measured - 1) < 0.04 ? 1 : measured;
    const voltageHeld =
      plan.mode === 'voltage' &&
      Math.abs(meanOf(settledFrom, samples.length, 'voltageV') / voltageV - 1) < 0.02;
    const overV = overPotential(voltageV);
    const evidence = {
      step,
      stepSd,
      currentRatio: voltageHeld ? Math.exp(step) : currentRatio,
      voltageV,
      overV,
      likelyOverV: 0.5 * (overV + Math.min(overV, splitBefore.overV)),
      overSdV: Math.hypot(splitBefore.overSdV, 0.5 * (overV - splitBefore.overV)),
    };
    const share = areaLeft(evidence);
    return {
      value: before.value * share.value,
      low: before.low * share.low,
      high: Math.min(1, before.high * share.high),
    };
  };

  const windowCount = (from: number): number | undefined => {
    const available = samples.length - from;
    return WINDOW_COUNTS.findLast((count) => count <= available);
  };

  const findSteps = (fresh: WatchEvent[]): void => {
    const count = windowCount(segmentFrom);
    if (count === undefined) return;
    const { bank, scale } = bankFor(count);
    const now = samples.at(-1)!;
    let best = -1;
    let bestZ = 0;
    let bestStep = 0;
    for (let k = 0; k < bank.lags.length; k++) {
      const lag = bank.lags[k]!;
      if (lag > 3 && now.tS - samples[samples.length - lag]!.tS > LONGEST_LAG_S) break;
      if (lag < 3 && usualStepS < 15) continue;
      const step = stepOf(bank, k);
      const z = step / (bank.deviations[k]! * scale);
      if (Math.abs(z) > Math.abs(bestZ)) {
        best = k;
        bestZ = z;
        bestStep = step;
      }
    }
    if (best < 0) return;
    const lag = bank.lags[best]!;
    const onset = samples.length - lag;
    const { threshold, smallestStep } = splitFixed
      ? { threshold: THRESHOLD, smallestStep: SMALLEST_STEP }
      : IN_RAMP;
    const large = Math.abs(bestStep) >= smallestStep && Math.abs(bestZ) >= threshold;
    const small =
      splitFixed &&
      lag >= 6 &&
      Math.abs(bestStep) >= SMALLEST_RESISTANCE_STEP &&
      Math.abs(bestZ) >= SMALL_STEP_THRESHOLD;
    if (!(large || small) || !holds(onset, bestStep)) return;
    if (!responds(onset, bestStep)) {
      segmentFrom = onset;
      return;
    }
    const stepSd = bank.deviations[best]! * scale;
    if (bestStep < 0 && large) callLoss(fresh, onset, bestStep, stepSd);
    else if (bestStep < 0) {
      if (!said.has('contact-resistance')) fresh.push(say('contact-resistance', now.tS, samples[onset]!.tS));
      segmentFrom = onset;
    } else callReturn(fresh, onset, bestStep);
    scaleSplit(onset, bestStep);
    // The slow rules look at levels with this step taken out.
    stepSum += bestStep;
    for (let i = onset; i < samples.length; i++) samples[i]!.level -= bestStep;
    supply.restart();
  };

  /** The last three samples all lie on the step's side, so that one spoiled reading is never a step. */
  const holds = (onset: number, step: number): boolean => {
    const before = median(samples.slice(Math.max(segmentFrom, onset - 9), onset).map((sample) => sample.x));
    const after = samples.slice(Math.max(onset, samples.length - 3));
    return after.every((sample) => (sample.x - before) / step > 0.4);
  };

  /**
   * Whether the quantity the supply leaves free moved too. If only the held one seems to have, and by little, its
   * meter wandered.
   */
  const responds = (onset: number, step: number): boolean => {
    const before = samples.slice(Math.max(segmentFrom, onset - 9), onset);
    const after = samples.slice(Math.max(onset, samples.length - 5));
    const change = (pick: (sample: Sample) => number): number =>
      Math.log(median(after.map(pick)) / median(before.map(pick)));
    const current = change((sample) => Math.max(sample.currentA, 1e-3 * plannedA));
    const voltage = -change((sample) => overPotential(sample.voltageV));
    const [free, kept] = plan.mode === 'current' ? [voltage, current] : [current, voltage];
    const keptMoved =
      plan.mode === 'current'
        ? Math.abs(kept)
        : Math.abs(change((sample) => Math.max(sample.voltageV, 0.01)));
    return free / step > 0.5 || keptMoved > 0.06;
  };

  const callLoss = (fresh: WatchEvent[], onset: number, step: number, stepSd: number): void => {
    const now = samples.at(-1)!;
    const before = left;
    const settled = (splitFixed && settledStep(onset, windowCount(segmentFrom)!)) || { step, stepSd };
    left = estimateArea(onset, settled, before, split!);
    lost = { atS: now.tS, step };
    // A loose contact has been said; its every swing is not a loss of its own.
    if (now.tS - lastLooseS > 300) {
      fresh.push(say('contact-lost', now.tS, samples[onset]!.tS));
      if (splitFixed) {
        refining = { index: onset, event: events.length - 1, leftBefore: before, split: split! };
      }
    }
    segmentFrom = onset;
  };

  const callReturn = (fresh: WatchEvent[], onset: number, step: number): void => {
    const now = samples.at(-1)!;
    segmentFrom = onset;
    refining = undefined;
    if (!lost) return;
    const whole = step > -0.6 * lost.step;
    if (whole) left = { value: 1, low: Math.min(0.9, left.high), high: 1 };
    if (now.tS - lost.atS < 240) sayLoose(fresh, samples[onset]!.tS);
    else if (whole) fresh.push(say('contact-back', now.tS, samples[onset]!.tS));
    lost = undefined;
  };

  const sayLoose = (fresh: WatchEvent[], sinceS: number): void => {
    const now = samples.at(-1)!;
    if (now.tS - lastLooseS > 300) fresh.push(say('contact-loose', now.tS, sinceS));
    lastLooseS = now.tS;
  };

  const refine = (): void => {
    if (!refining) return;
    const now = samples.at(-1)!;
    if (now.tS - samples[refining.index]!.tS > REFINE_S) {
      refining = undefined;
      return;
    }
    const count = windowCount(Math.max(0, refining.index - 30));
    if (count === undefined) return;
    const refined = settledStep(refining.index, count);
    if (!refined) return;
    left = estimateArea(refining.index, refined, refining.leftBefore, refining.split);
    events[refining.event] = {
      ...events[refining.event]!,
      areaLeft: [left.low, left.high],
      likelyAreaLeft: left.value,
    };
  };

  const findJumps = (fresh: WatchEvent[]): void => {
    const now = samples.at(-1)!;
    const last = samples.at(-2)!;
    const { whiteSd, wanderSd } = noiseNow();
    const limit = Math.max(0.07, 6 * Math.SQRT2 * Math.hypot(whiteSd, 0.4 * wanderSd));
    const change = now.x - last.x;
    if (Math.abs(change) > limit) jumps.push({ tS: now.tS, up: change > 0 });
    while (jumps.length > 0 && now.tS - jumps[0]!.tS > 120) jumps.shift();
    const up = jumps.filter((jump) => jump.up).length;
    if (jumps.length >= 5 && up >= 2 && jumps.length - up >= 2) {
      sayLoose(fresh, jumps[0]!.tS);
      jumps = [];
    }
  };

  /** One spoiled reading between two that agree: the level passes over it. */
  const despike = (): void => {
    const index = samples.length - 2;
    if (index - 1 < segmentFrom) return;
    const [a, b, c] = [samples[index - 1]!, samples[index]!, samples[index + 1]!];
    const limit = 5 * Math.SQRT2 * noiseNow().whiteSd;
    const spike = Math.min(Math.abs(b.x - a.x), Math.abs(b.x - c.x));
    if ((b.x - a.x) * (b.x - c.x) > 0 && spike > limit && Math.abs(a.x - c.x) < 0.5 * spike) {
      const middle = (a.x + c.x) / 2;
      b.level += middle - b.x;
      b.x = middle;
    }
  };

  const levelMean = (endS: number): number | undefined => {
    let sum = 0;
    let count = 0;
    for (let i = samples.length - 1; i >= comparableFrom && samples[i]!.tS > endS - 60; i--) {
      if (samples[i]!.tS <= endS) {
        sum += samples[i]!.level;
        count++;
      }
    }
    return count >= 3 ? sum / count : undefined;
  };

  const slowRules = (fresh: WatchEvent[]): void => {
    if (!splitFixed) return;
    const now = samples.at(-1)!;
    const here = levelMean(now.tS);
    if (here === undefined) return;
    const { whiteSd, wanderSd } = noiseNow();
    const sd = Math.SQRT2 * Math.hypot(whiteSd / Math.sqrt(60 / usualStepS), wanderSd);
    const changeAt = (endS: number, agoS: number): number | undefined => {
      const end = levelMean(endS);
      const then = levelMean(endS - agoS);
      return end === undefined || then === undefined ? undefined : end - then;
    };
    const change = (agoS: number): number | undefined => changeAt(now.tS, agoS);
    /** Change of what the supply leaves free alone: a meter that wanders on the held quantity is not a fault. */
    const freeChange = (agoS: number): number => {
      const near = (endS: number): number[] =>
        samples
          .slice(comparableFrom)
          .filter((sample) => sample.tS <= endS && sample.tS > endS - 60)
          .map((sample) =>
            plan.mode === 'voltage'
              ? Math.log(Math.max(sample.currentA, 1e-3 * plannedA))
              : -Math.log(overPotential(sample.voltageV)),
          );
      return median(near(now.tS)) - median(near(now.tS - agoS));
    };
    const stepsWithin = (agoS: number): number => {
      const then = samples.find((sample) => sample.tS >= now.tS - agoS)!;
      return then.x - then.level - (now.x - now.level);
    };
    /** Most of it was there a while ago already: no fresh step, which findSteps is about to judge. */
    const lasting = (total: number, agoS: number, whileS: number): boolean =>
      (changeAt(now.tS - whileS, agoS) ?? 0) / total > 0.6;
    const fast = change(120);
    const middle = change(300);
    const slow = change(600);
    const warm = warmingPerS();
    if (!said.has('burning')) {
      const rises = (rise: number | undefined, agoS: number): boolean =>
        rise !== undefined &&
        rise > 0.15 + 1.5 * warm * agoS &&
        rise > 6 * sd &&
        lasting(rise, agoS, 15) &&
        freeChange(agoS) > 0.5 * rise;
      if (rises(fast, 120) || rises(middle, 300)) {
        fresh.push(say('burning', now.tS, now.tS - 120));
        return;
      }
    }
    if (slow === undefined) return;
    const fall = 0.25 + 600 * (growthPerS() + warm);
    if (
      !said.has('contact-drift') &&
      fall < TELLABLE_FALL &&
      -slow > fall &&
      -slow > 6 * sd &&
      lasting(slow, 600, 75) &&
      freeChange(600) < 0.5 * (slow - stepsWithin(600))
    ) {
      const share = estimateDrift(-slow, growthPerS() * 600, sd);
      left = share;
      fresh.push(say('contact-drift', now.tS, now.tS - 600));
      lost ??= { atS: now.tS, step: slow };
    }
    if (!said.has('bath-warming') && now.kelvin === undefined) {
      const long = change(1500);
      if (long !== undefined && long > 0.15 && long > 6 * sd)
        fresh.push(say('bath-warming', now.tS, now.tS - 1500));
    }
  };

  /** Growth may have taken anything from none to all it usually takes. */
  const estimateDrift = (fall: number, growth: number, sd: number): AreaLeft => ({
    value: left.value * Math.exp(-(fall - growth / 2)),
    low: left.low * Math.exp(-(fall + 2 * sd) * 1.2),
    high: Math.min(1, left.high * Math.exp(-(fall - growth - 2 * sd) * 0.8)),
  });

  const setSignal = (index: number): void => {
    const sample = samples[index]!;
    const steps = sample.x - sample.level;
    sample.x = signal(index);
    sample.level = sample.x - steps;
  };

  /** The supply moved some samples ago: these get the new level where it fits them better. */
  const correctMove = (): void => {
    const now = samples.at(-1)!;
    const nearer = (value: number, old: number): number =>
      Math.abs(value - now.heldV) < Math.abs(value - old) ? now.heldV : old;
    const nearerA = (value: number, old: number): number =>
      Math.abs(value - now.heldA) < Math.abs(value - old) ? now.heldA : old;
    const last = samples.length - 1;
    for (let i = Math.max(comparableFrom, last - HELD_LEVEL_DELAY); i < last; i++) {
      const sample = samples[i]!;
      if (plan.mode === 'voltage') sample.heldV = nearer(sample.voltageV, sample.heldV);
      else sample.heldA = nearerA(sample.currentA, sample.heldA);
      setSignal(i);
    }
  };

  /**
   * What the film's growth adds to the voltage at a held current belongs to E, not to U, or a lost area would show less
   * and less: E follows once they are too far apart, and the signal is worked out anew with it.
   */
  const followGrowth = (): void => {
    if (
      plan.mode !== 'current' ||
      !splitFixed ||
      refining ||
      samples.length - comparableFrom < 24 ||
      samples.length % 6 !== 0
    ) {
      return;
    }
    if (samples.length - segmentFrom < 12) return;
    const recent = samples.slice(-12);
    const voltageV = median(recent.map((sample) => sample.voltageV));
    const currentA = median(recent.map((sample) => sample.currentA));
    const scale = currentA / split!.currentA;
    const expected = split!.overV * scale;
    if (Math.abs(overPotential(voltageV) - expected) < 0.2 * expected) return;
    split = { ...split!, voltageV, currentA, overV: expected, overSdV: split!.overSdV * scale };
    for (let i = comparableFrom; i < samples.length; i++) setSignal(i);
  };

  /** After a step the live area has another U at the same current; E stays. */
  const scaleSplit = (onset: number, step: number): void => {
    if (plan.mode !== 'current') return;
    const before = meanOf(Math.max(0, onset - 12), onset, 'currentA');
    const factor = Math.min(10, Math.exp(-step) * (meanOf(onset, samples.length, 'currentA') / before));
    const { voltageV, overV, overSdV } = split!;
    split = {
      ...split!,
      voltageV: voltageV + overV * (factor - 1),
      overV: overV * factor,
      overSdV: overSdV * factor,
    };
  };

  /** Against the shop's own runs, once, when the current has settled at the plan's. */
  const checkVoltage = (fresh: WatchEvent[]): void => {
    const now = samples.at(-1)!;
    if (!plan.learntVoltage || !splitFixed || plan.mode !== 'current' || voltageChecked) return;
    const recent = samples.filter((sample) => sample.tS > now.tS - 60);
    if (now.tS - samples[comparableFrom]!.tS < 120) return;
    voltageChecked = true;
    const currentA = median(recent.map((sample) => sample.currentA));
    if (Math.abs(currentA / plannedA - 1) > 0.05) return;
    const { voltageV, voltageSdV } = plan.learntVoltage;
    // Three deviations of what the shop's runs differ by, and of this minute's noise.
    const { whiteSd, wanderSd } = noiseNow();
    const noiseV = split!.overV * Math.hypot(whiteSd / Math.sqrt(recent.length), wanderSd);
    const away = Math.abs(median(recent.map((sample) => sample.voltageV)) - voltageV);
    if (away > 3 * Math.hypot(voltageSdV, noiseV)) fresh.push(say('voltage-off-plan', now.tS, now.tS));
  };

  const takeSample = (reading: Reading, fresh: WatchEvent[]): void => {
    const { tS, voltageV, currentA } = reading;
    if (reading.bathTemperatureK !== undefined) {
      firstKelvin ??= reading.bathTemperatureK;
      slowKelvin ??= reading.bathTemperatureK;
      const away = Math.min(Math.max(reading.bathTemperatureK - slowKelvin, -1), 1);
      slowKelvin += away * Math.min(1, usualStepS / 60);
      if (slowKelvin - firstKelvin > 3 && !said.has('bath-warming')) fresh.push(say('bath-warming', tS, tS));
    }
    if (onS === undefined) {
      if (currentA < 0.04 * plannedA) return;
      onS = tS;
    }
    const last = samples.at(-1);
    if (last && voltageV !== last.voltageV) digitV = Math.min(digitV, Math.abs(voltageV - last.voltageV));
    if (last && currentA !== last.currentA) digitA = Math.min(digitA, Math.abs(currentA - last.currentA));
    if (last)
      chargePerAreaC += (((currentA + last.currentA) / 2) * Math.min(tS - last.tS, GAP_S)) / plan.areaM2;
    const heldV = heldVoltage.add(voltageV);
    const heldA = heldCurrent.add(currentA);
    samples.push({
      tS,
      voltageV,
      currentA,
      chargePerAreaC,
      heldV: heldV.level,
      heldA: heldA.level,
      kelvin: reading.bathTemperatureK === undefined ? undefined : slowKelvin,
      x: 0,
      level: 0,
    });
    checkVoltage(fresh);
    for (const kind of supply.add(tS - onS, voltageV, currentA)) fresh.push(say(kind, tS, tS));
    if (tS - onS < PLAIN_LEVELS_S || samples.length < 5) return;
    const tail = samples.slice(-5);
    level = {
      voltageV: median(tail.map((sample) => sample.voltageV)),
      currentA: median(tail.map((sample) => sample.currentA)),
    };
    if (tS - onS < SETTLED_S || samples.length < 8 || chargePerAreaC < SETTLED_C_PER_M2) return;
    if (!split && level.currentA < 0.3 * plannedA) return;
    updateSplit();
    const index = samples.length - 1;
    const sample = samples[index]!;
    sample.x = signal(index);
    sample.level = sample.x - stepSum;
    if (plan.mode === 'current' ? heldA.moved : heldV.moved) correctMove();
    followGrowth();
    learnNoise();
    if (index - segmentFrom < 3) return;
    findJumps(fresh);
    despike();
    refine();
    findSteps(fresh);
    slowRules(fresh);
  };

  const add = (reading: Reading): WatchEvent[] => {
    const { tS, voltageV, currentA } = reading;
    if (!Number.isFinite(tS)) throw new RangeError(`contact watch: tS is ${tS}`);
    if (!Number.isFinite(voltageV)) throw new RangeError(`contact watch: voltageV is ${voltageV}`);
    if (!Number.isFinite(currentA)) throw new RangeError(`contact watch: currentA is ${currentA}`);
    if (tS < lastRawS) throw new RangeError(`contact watch: tS goes back to ${tS}`);
    const fresh: WatchEvent[] = [];
    const dt = tS - lastRawS;
    if (dt > 3 * usualStepS && dt > GAP_S && Number.isFinite(dt)) {
      fresh.push(say('gap', tS, lastRawS));
      noise?.cut();
    } else if (dt > 0 && Number.isFinite(dt)) usualStepS += 0.2 * (dt - usualStepS);
    const odd = plainLevels(reading, fresh);
    lastRawS = tS;
    if (odd) return fresh;
    bin.push(reading);
    if (tS - bin[0]!.tS + Math.min(usualStepS, BIN_S) >= BIN_S - 1e-6 || usualStepS >= BIN_S) {
      takeSample(meanReading(bin), fresh);
      bin = [];
    }
    return fresh;
  };

  return { add, events: () => events, areaLeft: () => left };
}

function priorFor(plan: WatchPlan, voltageV: number, currentA: number): VoltageSplit {
  const density = currentA / plan.areaM2;
  if (!plan.learntVoltage) return priorSplit(voltageV, currentA, density);
  const { slopeVM2PerA, slopeSdVM2PerA } = plan.learntVoltage;
  return {
    voltageV,
    currentA,
    overV: slopeVM2PerA * density,
    overSdV: Math.max(slopeSdVM2PerA, 0.08 * slopeVM2PerA) * density,
    learnt: true,
  };
}

/** Rise of the current over the last minute, share; medians, so that noise does not count. */
function currentRise(samples: readonly Sample[]): number {
  const now = samples.at(-1)!.tS;
  const late = samples.filter((sample) => sample.tS > now - 30).map((sample) => sample.currentA);
  const early = samples
    .filter((sample) => sample.tS <= now - 30 && sample.tS > now - 60)
    .map((sample) => sample.currentA);
  if (late.length === 0 || early.length === 0) return 0;
  return median(late) / median(early) - 1;
}

function meanReading(bin: readonly Reading[]): Reading {
  const mean = (pick: (reading: Reading) => number): number =>
    bin.reduce((sum, r) => sum + pick(r), 0) / bin.length;
  const warm = bin.filter((reading) => reading.bathTemperatureK !== undefined);
  return {
    tS: bin.at(-1)!.tS,
    voltageV: mean((reading) => reading.voltageV),
    currentA: mean((reading) => reading.currentA),
    ...(warm.length > 0
      ? { bathTemperatureK: warm.reduce((sum, r) => sum + r.bathTemperatureK!, 0) / warm.length }
      : {}),
  };
}
