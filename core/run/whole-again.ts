import type { AreaLeft } from './area-estimate.ts';
import { arrheniusFactor, DISSOLUTION_ACTIVATION_EV } from './oxide-cell.ts';
import type { VoltageSplit } from './ramp-fit.ts';
import { lossStillThere } from './same-level.ts';
import { mostGrowthVPerM } from './trace-signal.ts';
import { medianOf, newest, type Sample, type WatchTrace } from './watch-trace.ts';

/**
 * Does the part that let go have contact again? The supply may have been off for a new clamp, or the contact may have come back
 * while the current rose, where no step shows it. Told from conductance, I / (V − E): as it was before the loss, while the area
 * was lost, and now that the supply no longer ramps.
 *
 * Assumed: E, what does not go with the area, is what it was, but for what the film has grown since, none of it to an ordinary
 * film's usual most; a bath that is read is taken into account, one that is not has kept its temperature. The answer must come
 * out the same for all that E may be, or there is none.
 */
export interface LossKept {
  readonly left: AreaLeft;
  readonly leftBefore: AreaLeft;
  readonly before: Level;
  readonly overV: number;
  readonly overSdV: number;
  /** While it was lost; undefined where too few readings show it. */
  readonly during: Level | undefined;
}

export interface Level {
  readonly voltageV: number;
  readonly currentA: number;
  readonly kelvin: number | undefined;
  /** Passed since the watch began anew, C/m² of the whole area. */
  readonly chargePerAreaC: number;
}

const LEVEL_SAMPLES = 6;
const FEWEST = 2;
/** A contact may take this long to let go. */
const LETTING_GO_S = 9;
const NINE_IN_TEN = 1.645;
/** Of the loss's own change: below the first the area is whole, above the second it is not. */
const WHOLE = 0.4;
const STILL_LOST = 0.6;
const SMALLEST_CHANGE = 0.1;
/** Samples of a steady supply until it is asked. */
const STEADY_SAMPLES = 12;
const ASKED_FOR_S = 240;
/** Held so much higher now, the oxide's curve makes U at the loss look smaller than its slope there has it. */
const FAR_BELOW = { voltageShare: 1.1, overShare: 0.25 } as const;

function levelOf(samples: readonly Sample[]): Level | undefined {
  if (samples.length < FEWEST) return undefined;
  const { kelvin, chargePerAreaC } = samples.at(-1)!;
  const [voltageV, currentA] = [medianOf(samples, 'voltageV'), medianOf(samples, 'currentA')];
  return voltageV > 0 && currentA > 0 ? { voltageV, currentA, kelvin, chargePerAreaC } : undefined;
}

/** What to remember of a loss while it can still be seen; undefined where there are too few readings before it. */
export function keepLoss(
  trace: WatchTrace,
  onset: number,
  leftBefore: AreaLeft,
  split: Pick<VoltageSplit, 'voltageV' | 'currentA' | 'overV' | 'overSdV'>,
): LossKept | undefined {
  const before = levelOf(trace.samples.slice(Math.max(0, onset - LEVEL_SAMPLES), onset));
  if (!before) return undefined;
  const scale = before.currentA / split.currentA;
  return {
    left: trace.left,
    leftBefore,
    before,
    overV: split.overV * scale,
    overSdV: split.overSdV * scale,
    during: undefined,
  };
}

/** The same with the newest readings as those of the lost area. */
export function seenLost(kept: LossKept, trace: WatchTrace, sinceS: number): LossKept {
  const lost = trace.samples.filter(({ tS }) => tS > sinceS + LETTING_GO_S).slice(-LEVEL_SAMPLES);
  return { ...kept, left: trace.left, during: levelOf(lost) ?? kept.during };
}

/** The supply no longer ramps, and has stood for long enough to be read. */
const isSteady = (trace: WatchTrace): boolean =>
  trace.splitFixed && trace.samples.length - trace.segmentFrom >= STEADY_SAMPLES;

/** Time is over for it: the supply has been steady for longer than the readings are asked. */
export function isAskedEnough(trace: WatchTrace): boolean {
  const from = trace.samples[trace.segmentFrom];
  return trace.splitFixed && from !== undefined && newest(trace).tS - from.tS > ASKED_FOR_S;
}

/**
 * `whole` or `lost`; undefined where it can't be told. Asked again and again for some minutes, no longer: sooner or later a wander
 * of the readings would look like an answer.
 *
 * @param powerWasOff the trace has begun anew since the loss
 */
export function wholeAgain(
  kept: LossKept,
  trace: WatchTrace,
  powerWasOff: boolean,
): 'whole' | 'lost' | undefined {
  const still = powerWasOff ? lossStillThere(kept, trace) : undefined;
  if (still && still.most < WHOLE) return 'whole';
  if (still && still.least > STILL_LOST) return 'lost';
  const { before, during, overV, overSdV } = kept;
  if (!during || !isSteady(trace) || isAskedEnough(trace)) return undefined;
  const now = levelOf(trace.samples.slice(-STEADY_SAMPLES));
  if (!now || now.currentA < 0.3 * during.currentA) return undefined;
  const grownM =
    (newest(trace).chargePerAreaC + (powerWasOff ? during.chargePerAreaC : 0) - before.chargePerAreaC) /
    trace.plan.chargePerVolumeCPerM3;
  const ratios: number[] = [];
  const overs = [-NINE_IN_TEN, 0, NINE_IN_TEN].map((off) => Math.max(overV + off * overSdV, 0.35 * overV));
  if (trace.plan.mode === 'voltage' && now.voltageV > FAR_BELOW.voltageShare * before.voltageV)
    overs.push(FAR_BELOW.overShare * overV);
  for (const over of overs) {
    const eV = before.voltageV - over;
    const signal = ({ voltageV, currentA, kelvin }: Level, growthV: number): number => {
      const warm =
        kelvin === undefined || before.kelvin === undefined
          ? 0
          : Math.log(arrheniusFactor(DISSOLUTION_ACTIVATION_EV, kelvin, before.kelvin));
      return Math.log(currentA / Math.max(voltageV - growthV - eV, 0.05 * over)) - warm;
    };
    const lostStep = signal(during, 0) - signal(before, 0);
    if (lostStep > -SMALLEST_CHANGE) return undefined;
    for (const growthV of [0, mostGrowthVPerM(trace.plan) * Math.max(0, grownM)]) {
      ratios.push((signal(now, growthV) - signal(before, 0)) / lostStep);
    }
  }
  if (Math.max(...ratios) < WHOLE) return 'whole';
  return Math.min(...ratios) > STILL_LOST ? 'lost' : undefined;
}

/** The area when it may be whole again: counted as whole, so that the film is not shown thicker than it may be. */
export const maybeWhole = (left: AreaLeft): AreaLeft => ({ value: 1, low: left.low, high: 1 });
