import type { AreaLeft } from './area-estimate.ts';
import { followGrowth, scaleSplit, updateSplit } from './follow-split.ts';
import { createLooseJumps } from './loose-jumps.ts';
import { canBeClamped, createOpenLoss, rampsAgain } from './open-loss.ts';
import { createPauseLoss } from './loss-in-pause.ts';
import { createPlainLevels, type UsualLevel } from './plain-levels.ts';
import type { VoltageSplit } from './ramp-fit.ts';
import { createRampRule } from './ramp-rule.ts';
import { createReadingBins } from './reading-bins.ts';
import type { Reading } from './readings.ts';
import { findSlowChange } from './slow-rules.ts';
import { areaAfterStep, settledStep } from './step-area.ts';
import { createStepRule, REFINE_S, windowCount, type FoundStep } from './step-rule.ts';
import { createSupplyChecks } from './supply-checks.ts';
import { correctMove, despike, isHardCoat, learnNoise, setSignal } from './trace-signal.ts';
import { voltageStanding } from './voltage-check.ts';
import { WATCH_LEVELS, type WatchEvent, type WatchKind, type WatchPlan } from './watch-event.ts';
import {
  addSample,
  addTemperature,
  GAP_S,
  medianOf,
  newest,
  newWatchTrace,
  restartRamp,
  restartTrace,
  seeDigits,
} from './watch-trace.ts';
import { maybeWhole } from './whole-again.ts';

/**
 * Watches a run for lost contact.
 *
 * One signal serves both ways of running: x = ln(I / (V − E)), the logarithm of the live area's conductance. Lost area
 * makes it fall by ln(1 − f) whether the supply holds the current (V rises) or the voltage (I falls), and whatever the
 * operator sets; film growth lets it sink slowly, a warmer bath lets it rise (0.44 eV, taken out where the bath is
 * read). E comes from the run's own ramp, or from handbook slopes (follow-split.ts).
 *
 * Here the rules are brought together and what they find is said: plain levels on every reading, then on samples of a few
 * seconds the supply, a contact that lets go in the ramp (which has a rule of its own, since E is not known well there), steps,
 * jumps both ways, slow changes. Until the start-up peak is past nothing but plain levels is judged.
 */
export interface ContactWatch {
  /** Takes the next reading (times never fall) and returns what is new. Throws RangeError for one that is not finite. */
  readonly add: (reading: Reading) => WatchEvent[];
  /** Everything said so far; ranges of fresh losses get narrower for two minutes. */
  readonly events: () => readonly WatchEvent[];
  /** Share of the area with contact now. */
  readonly areaLeft: () => AreaLeft;
}

/** About 0.8 µm of film: the start-up peak is over, for all rules but the ramp's, which takes what is left of it into account. */
const SETTLED_C_PER_M2 = 15_000;
const SETTLED_S = 90;
/** From here on levels are known well enough for short, total loss and power off. */
const PLAIN_LEVELS_S = 30;
/** Samples after the ramp's end until the step rule knows what is usual. */
const RAMP_RULE_STAYS = 18;
/** A loss that is undone sooner was a loose contact; one is said at most this often. */
const SOON_BACK_S = 240;
const LOOSE_AGAIN_S = 300;
/** So long after burning was said, a flicker is taken for the burning surface's own: pressing a clamp home would not help it. */
const FLICKERS_S = 1200;

/** Smallest loss called an alarm, share of the live area; less may be a contact that has got worse. */
const SMALLEST_LOSS = 0.1;
/** Refined, a step is this share of what was found at least. */
const LEAST_OF_STEP = 0.4;

/** A fresh loss whose range the next two minutes make narrower. */
interface Refining {
  readonly onset: number;
  readonly event: number;
  /** As it was found. */
  readonly step: number;
  /** As it was before the loss. */
  readonly leftBefore: AreaLeft;
  readonly splitBefore: VoltageSplit;
}

export function createContactWatch(plan: WatchPlan): ContactWatch {
  if (!(plan.areaM2 > 0)) throw new RangeError(`createContactWatch: areaM2 is ${plan.areaM2}`);
  if (!(plan.currentDensityAPerM2 > 0)) {
    throw new RangeError(`createContactWatch: currentDensityAPerM2 is ${plan.currentDensityAPerM2}`);
  }
  const trace = newWatchTrace(plan);
  const events: WatchEvent[] = [];
  const said = new Set<WatchKind>();
  const bins = createReadingBins();
  const plainLevels = createPlainLevels();
  const supply = createSupplyChecks(plan);
  const rampRule = createRampRule();
  const stepRule = createStepRule();
  const looseJumps = createLooseJumps();
  const openLoss = createOpenLoss(trace);
  const pauseLoss = createPauseLoss(trace);

  let lastRawS = -Infinity;
  let lastLooseS = -Infinity;
  let usual: UsualLevel | undefined;
  let refining: Refining | undefined;
  let rampEvent = 0;
  let lost: { readonly atS: number; readonly step: number } | undefined;
  let voltageChecked = false;
  /** The area left before all contact was lost, until current flows again. */
  let leftBeforeTotal: AreaLeft | undefined;
  let openShort: { readonly event: number; readonly belowV: number } | undefined;

  const say = (kind: WatchKind, atS: number, sinceS: number, share: AreaLeft = trace.left): WatchEvent => {
    const event: WatchEvent = {
      atS,
      sinceS,
      kind,
      level: WATCH_LEVELS[kind],
      areaLeft: [share.low, share.high],
      likelyAreaLeft: share.value,
      ...(openLoss.mayBeBack() && kind.startsWith('contact') ? { mayBeBack: true } : {}),
    };
    events.push(event);
    said.add(kind);
    return event;
  };

  /** What has been said of the area left is known better by now. */
  const renewLeft = (event: number, left: AreaLeft): void => {
    trace.left = left;
    events[event] = { ...events[event]!, areaLeft: [left.low, left.high], likelyAreaLeft: left.value };
  };

  const restart = (): void => {
    restartTrace(trace);
    pauseLoss.forget();
    refining = undefined;
    rampRule.forget();
    lost = undefined;
    usual = undefined;
    looseJumps.restart();
    supply.restart();
  };

  const endShort = (untilS: number): void => {
    if (openShort) events[openShort.event] = { ...events[openShort.event]!, untilS };
    openShort = undefined;
  };

  /** With the power off, or nothing read, after a loss a new clamp may bring the area back. */
  const leaveOpen = (): void => {
    if (!leftBeforeTotal) openLoss.open();
  };

  const judgeReturn = (fresh: WatchEvent[]): void => {
    const { tS } = newest(trace);
    const verdict = openLoss.judge(rampRule.standing());
    if (verdict?.kind === 'whole') {
      lost = undefined;
      fresh.push(say('contact-back', tS, verdict.sinceS));
    } else if (verdict?.kind === 'lost') fresh.push(say('contact-lost', tS, verdict.sinceS));
    else if (verdict?.kind === 'unsure') fresh.push(say('contact-unsure', tS, tS, maybeWhole(trace.left)));
    else if (verdict) {
      events.forEach(({ mayBeBack: open, ...event }, i) => {
        if (open) events[i] = event;
      });
    }
  };

  /** True when the reading is no ordinary one. */
  const judgePlainly = (reading: Reading, fresh: WatchEvent[]): boolean => {
    if (!usual) return false;
    const { odd, said: kind } = plainLevels.judge(reading, usual);
    if (kind === 'short') fresh.push(say(kind, reading.tS, lastRawS, { ...trace.left, low: 0 }));
    else if (kind) {
      if (kind === 'contact-total') {
        leftBeforeTotal = trace.left;
        openLoss.settle();
        trace.left = { value: 0, low: 0, high: 0.05 };
      } else leaveOpen();
      fresh.push(say(kind, reading.tS, lastRawS));
      restart();
    }
    if (kind === 'short') {
      endShort(lastRawS);
      openShort = { event: events.length - 1, belowV: Math.min(3, 0.3 * usual.voltageV) };
    }
    return odd;
  };

  const sayLoose = (fresh: WatchEvent[], sinceS: number): void => {
    const { tS } = newest(trace);
    const isBurning = events.some(({ kind, atS }) => kind === 'burning' && tS - atS < FLICKERS_S);
    if (!isBurning && tS - lastLooseS > LOOSE_AGAIN_S) fresh.push(say('contact-loose', tS, sinceS));
    lastLooseS = tS;
  };

  /** What a step leaves of the area were it a loss, and its size without the moments in which a contact lets go. */
  const sizeOf = ({
    onset,
    step,
    stepSd,
  }: FoundStep): { readonly settledStep: number; readonly left: AreaLeft } => {
    const count = windowCount(trace, trace.segmentFrom)!;
    const settled = settledStep(trace, onset, count) ?? { step, stepSd };
    return {
      settledStep: settled.step,
      left: areaAfterStep(trace, onset, settled, trace.left, trace.split!),
    };
  };

  const callLoss = (
    fresh: WatchEvent[],
    { onset, step }: FoundStep,
    { settledStep: settled, left }: ReturnType<typeof sizeOf>,
  ): void => {
    const now = newest(trace);
    rampRule.forget();
    const leftBefore = trace.left;
    const splitBefore = trace.split!;
    trace.left = left;
    lost = { atS: now.tS, step };
    // A loose contact has been said; its every swing is not a loss of its own.
    if (now.tS - lastLooseS <= LOOSE_AGAIN_S) return;
    fresh.push(say('contact-lost', now.tS, trace.samples[onset]!.tS));
    refining = { onset, event: events.length - 1, step: settled, leftBefore, splitBefore };
    openLoss.keep(onset, leftBefore, splitBefore, false);
  };

  const callReturn = (fresh: WatchEvent[], { onset, step }: Pick<FoundStep, 'onset' | 'step'>): void => {
    const { tS } = newest(trace);
    const sinceS = trace.samples[onset]!.tS;
    refining = undefined;
    rampRule.forget();
    if (!lost) return;
    const whole = step > -0.6 * lost.step;
    if (whole) {
      openLoss.settle();
      trace.left = { value: 1, low: Math.min(0.9, trace.left.high), high: 1 };
    }
    if (tS - lost.atS < SOON_BACK_S) sayLoose(fresh, sinceS);
    else if (whole) fresh.push(say('contact-back', tS, sinceS));
    lost = undefined;
  };

  /** True where something let go or came back: the run is learnt anew from there. */
  const judgeRamp = (fresh: WatchEvent[]): boolean => {
    const measured = rampRule.measure(trace);
    if (measured) renewLeft(rampEvent, measured);
    if (trace.splitFixed && trace.samples.length - trace.comparableFrom > RAMP_RULE_STAYS) return false;
    const back = rampRule.findReturn(trace);
    if (back) {
      callReturn(fresh, back);
      restartRamp(trace, back.onset);
      supply.restart();
      return true;
    }
    const found = rampRule.find(trace);
    const { tS } = newest(trace);
    if (!found) {
      const late = lost || said.has('contact-resistance') ? undefined : rampRule.findLate(trace);
      // How much it is can't be told any more: the film counts as on the whole area.
      const share = late && { value: 1, low: late.leastLeft, high: 1 };
      if (late) fresh.push(say('contact-resistance', tS, trace.samples[late.onset]!.tS, share));
      return false;
    }
    const leftBefore = trace.left;
    trace.left = found.left;
    openLoss.keep(found.onset, leftBefore, found.split, true);
    lost = { atS: tS, step: found.step };
    refining = undefined;
    rampEvent = events.length;
    fresh.push(say('contact-lost', tS, trace.samples[found.onset]!.tS));
    restartRamp(trace, found.onset);
    supply.restart();
    return true;
  };

  const judgeSteps = (fresh: WatchEvent[]): void => {
    if (!trace.splitFixed) return;
    const found = stepRule.find(trace);
    if (!found) return;
    const { onset, step, large, lasting, metersOwn } = found;
    const size = step > 0 ? undefined : sizeOf(found);
    const isLoss = size && large && size.left.value <= (1 - SMALLEST_LOSS) * trace.left.value;
    // What is too small for a loss is looked at for longer.
    if (size && !isLoss && !lasting) return;
    if (!metersOwn) {
      if (!size) callReturn(fresh, found);
      else if (isLoss) callLoss(fresh, found, size);
      else if (!said.has('contact-resistance')) {
        const share = { ...trace.left, low: Math.min(trace.left.low, size.left.low) };
        fresh.push(say('contact-resistance', newest(trace).tS, trace.samples[onset]!.tS, share));
      }
    }
    trace.segmentFrom = onset;
    if (metersOwn) return;
    scaleSplit(trace, onset, step);
    // The slow rules look at levels with this step taken out.
    trace.stepSum += step;
    for (let i = onset; i < trace.samples.length; i++) trace.samples[i]!.level -= step;
    supply.restart();
  };

  const refine = (): void => {
    if (!refining) return;
    const { onset, event, step, leftBefore, splitBefore } = refining;
    if (newest(trace).tS - trace.samples[onset]!.tS > REFINE_S) {
      refining = undefined;
      return;
    }
    const count = windowCount(trace, Math.max(0, onset - 30));
    const refined = count === undefined ? undefined : settledStep(trace, onset, count);
    // A loss that was found does not shrink to none: what the readings do since is something else.
    if (!refined || refined.step > LEAST_OF_STEP * step) return;
    renewLeft(event, areaAfterStep(trace, onset, refined, leftBefore, splitBefore));
  };

  const judgeSlowly = (fresh: WatchEvent[]): void => {
    const found = findSlowChange(trace, said);
    if (!found) return;
    const { tS } = newest(trace);
    trace.left = found.left;
    fresh.push(say(found.kind, tS, found.sinceS));
    if (found.kind === 'contact-drift') lost ??= { atS: tS, step: found.change };
  };

  /** What a hard coat's readings say of a pause, once there are enough after it. */
  const judgePause = (fresh: WatchEvent[]): void => {
    const found = pauseLoss.judge();
    if (!found) return;
    const { kind, sinceS, left } = found;
    if (kind === 'contact-lost') trace.left = left;
    else if (said.has(kind)) return;
    const share = kind === 'contact-lost' ? left : { ...trace.left, low: Math.min(trace.left.low, left.low) };
    fresh.push(say(kind, newest(trace).tS, sinceS, share));
  };

  const takeSample = (reading: Reading, fresh: WatchEvent[]): void => {
    const { tS, currentA, bathTemperatureK } = reading;
    if (bathTemperatureK !== undefined) {
      addTemperature(trace, bathTemperatureK);
      const warmer = trace.slowKelvin! - trace.firstKelvin!;
      if (warmer > 3 && !said.has('bath-warming')) fresh.push(say('bath-warming', tS, tS));
    }
    if (trace.onS === undefined && currentA < 0.04 * trace.plannedA) return;
    trace.onS ??= tS;
    if (leftBeforeTotal) {
      // Current flows again: through how much of the area the readings don't say.
      trace.left = maybeWhole(leftBeforeTotal);
      leftBeforeTotal = undefined;
      fresh.push(say('contact-back', tS, tS));
    }
    const sinceOnS = tS - trace.onS;
    const moved = addSample(trace, reading);
    if (!voltageChecked) {
      const standing = voltageStanding(trace);
      voltageChecked = standing !== undefined;
      if (standing && standing !== 'as-expected') fresh.push(say(standing, tS, tS));
    }
    for (const kind of supply.add(reading, sinceOnS)) fresh.push(say(kind, tS, tS));
    if (sinceOnS < PLAIN_LEVELS_S || trace.samples.length < 5) return;
    const tail = trace.samples.slice(-5);
    usual = { voltageV: medianOf(tail, 'voltageV'), currentA: medianOf(tail, 'currentA') };
    if (judgeRamp(fresh)) return;
    openLoss.note();
    const isSettled =
      sinceOnS >= SETTLED_S && trace.samples.length >= 8 && trace.chargePerAreaC >= SETTLED_C_PER_M2;
    const isTooLittle = !trace.split && usual.currentA < 0.3 * trace.plannedA;
    // Through the little that is left next to no current may flow for good.
    if (!isSettled || isTooLittle) return judgeReturn(fresh);
    updateSplit(trace);
    const index = trace.samples.length - 1;
    setSignal(trace, index);
    if (moved) correctMove(trace);
    followGrowth(trace, refining !== undefined);
    learnNoise(trace);
    if (index - trace.segmentFrom < 3) return;
    const looseSinceS = looseJumps.find(trace);
    if (looseSinceS !== undefined) sayLoose(fresh, looseSinceS);
    despike(trace);
    refine();
    judgeSteps(fresh);
    judgePause(fresh);
    judgeReturn(fresh);
    judgeSlowly(fresh);
  };

  const add = (reading: Reading): WatchEvent[] => {
    const { tS } = reading;
    for (const name of ['tS', 'voltageV', 'currentA'] as const) {
      if (!Number.isFinite(reading[name])) throw new RangeError(`contact watch: ${name} is ${reading[name]}`);
    }
    if (tS < lastRawS) throw new RangeError(`contact watch: tS goes back to ${tS}`);
    const fresh: WatchEvent[] = [];
    const dt = tS - lastRawS;
    if (dt > 3 * trace.usualStepS && dt > GAP_S && Number.isFinite(dt)) {
      const leftBefore = trace.left;
      const wasOff = rampsAgain(reading, usual);
      if (wasOff || canBeClamped(trace)) leaveOpen();
      fresh.push(say('gap', tS, lastRawS));
      if (wasOff || trace.left !== leftBefore) restart();
      else {
        trace.noise?.cut();
        pauseLoss.open(lastRawS, tS);
      }
      // What the film of a hard coat took unseen looks like a step.
      if (isHardCoat(plan)) trace.segmentFrom = trace.samples.length;
    } else if (dt > 0 && Number.isFinite(dt)) trace.usualStepS += 0.2 * (dt - trace.usualStepS);
    if (openShort && reading.voltageV >= openShort.belowV) endShort(tS);
    const odd = judgePlainly(reading, fresh);
    lastRawS = tS;
    if (odd) return fresh;
    seeDigits(trace, reading);
    const sample = bins.add(reading, trace.usualStepS);
    if (sample) takeSample(sample, fresh);
    return fresh;
  };

  return { add, events: () => events, areaLeft: () => trace.left };
}
