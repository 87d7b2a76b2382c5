import { createCurrentLine, type CurrentStep } from './current-line.ts';
import { evenRamp, type EvenRamp } from './even-ramp.ts';
import type { Sample, WatchTrace } from './watch-trace.ts';

/**
 * A contact that lets go, or comes back, while a supply raises its voltage evenly: the current falls, or rises, by the share of the
 * area from one sample to the next and goes on from there (current-line.ts).
 */
export interface CurrentChange extends CurrentStep {
  /** First sample of the window after it. */
  readonly onset: number;
}

/** `uneven`: the voltage is set by hand, and the current's steps are its own. */
export type CurrentAnswer = CurrentChange | 'uneven' | undefined;

const FEWEST_BEFORE = 4;
const FEWEST_AFTER = 3;
const LONGEST_LAG_S = 60;
const THRESHOLD = 6;
/** 15 % of the area. */
const SMALLEST_STEP = -Math.log(1 - 0.15);
/** What must be left of a fall when the voltage was turned back as far as the readings allow. */
const SMALLEST_OF_ITS_OWN = 0.12;
/** Of the loss: what comes back is at least this much of it. */
const SMALLEST_RETURN = 0.4;
const SURE_DEVIATIONS = 3;

export const FEWEST_IN_WINDOW = FEWEST_BEFORE + FEWEST_AFTER + 1;

/** Looks at the newest sample of the window. */
export function findCurrentFall(window: readonly Sample[], trace: WatchTrace): CurrentAnswer {
  const even = evenRamp(window);
  if (!even) return 'uneven';
  const line = createCurrentLine(window, even, trace);
  const best = bestChange(window, (onset) => line.stepFrom(onset), -1);
  if (!best || best.step > -SMALLEST_STEP || !line.holds(best.onset, best.step)) return undefined;
  const ownFall = -best.step - turnedBackV(window, even, best.onset) * line.slopeBefore(best.onset);
  return ownFall > SMALLEST_OF_ITS_OWN ? best : undefined;
}

/**
 * After a fall by `lossStep`: the return of a good part of it, or whether the readings exclude one at any place they can still show it.
 */
export function findCurrentReturn(
  window: readonly Sample[],
  trace: WatchTrace,
  lossStep: number,
): { readonly back: CurrentChange | undefined; readonly isExcluded: boolean } {
  const even = evenRamp(window);
  if (!even) return { back: undefined, isExcluded: false };
  const line = createCurrentLine(window, even, trace);
  let isExcluded = true;
  const best = bestChange(
    window,
    (onset) => {
      const change = line.stepFrom(onset);
      const most = change.step + SURE_DEVIATIONS * change.sd;
      if (window.length - onset >= FEWEST_AFTER && most > -lossStep) isExcluded = false;
      return change;
    },
    1,
  );
  const isLarge = best && best.step > Math.max(SMALLEST_STEP, -SMALLEST_RETURN * lossStep);
  return { back: isLarge && line.holds(best.onset, best.step) ? best : undefined, isExcluded };
}

/** The step anew, from samples around it. */
export function measureCurrentFall(
  before: readonly Sample[],
  after: readonly Sample[],
  trace: WatchTrace,
): CurrentStep | undefined {
  const window = [...before, ...after];
  const even = evenRamp(window);
  return even && createCurrentLine(window, even, trace).stepFrom(before.length);
}

/** The clearest change that way; what has only just begun is looked at again with the next sample, when its place and size are known. */
function bestChange(
  window: readonly Sample[],
  stepFrom: (onset: number) => CurrentStep,
  sign: 1 | -1,
): CurrentChange | undefined {
  const nowS = window.at(-1)!.tS;
  let best: (CurrentChange & { readonly z: number }) | undefined;
  for (let onset = window.length - 1; onset >= FEWEST_BEFORE; onset--) {
    if (window.length - onset > FEWEST_AFTER && nowS - window[onset]!.tS > LONGEST_LAG_S) break;
    const change = stepFrom(onset);
    const z = (sign * change.step) / change.sd;
    if (z > Math.max(THRESHOLD, best?.z ?? 0)) best = { ...change, onset, z };
  }
  return best && window.length - best.onset >= FEWEST_AFTER ? best : undefined;
}

/** By how much the voltage may have been set lower just then, V. */
function turnedBackV(
  window: readonly Sample[],
  { voltageV: evenV, noiseV }: EvenRamp,
  onset: number,
): number {
  const off = window.map(({ voltageV }, i) => voltageV - evenV[i]!);
  const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
  const [before, after] = [off.slice(0, onset), off.slice(onset)];
  const sdV = noiseV * Math.sqrt(1 / before.length + 1 / after.length);
  return Math.max(0, mean(before) - mean(after) + sdV);
}
