import { areaLeft, type AreaLeft } from './area-estimate.ts';
import type { CurrentStep } from './current-line.ts';
import { learnSplit, PAST_PEAK_C_PER_M2, priorSplit, type VoltageSplit } from './ramp-fit.ts';
import type { LineChange } from './ramp-line.ts';
import { medianOf, type Sample } from './watch-trace.ts';

/** How much area a loss in the ramp leaves of what was live before it. */
export interface RampSize {
  readonly share: AreaLeft;
  /** Change of ln conductance, below zero. */
  readonly step: number;
  /** How the voltage split before it. */
  readonly split: VoltageSplit;
}

const LEVEL_SAMPLES = 5;
/** How much larger the doubt about a fall of the current is than its noise: the film goes on settling. */
const FALL_DOUBT = 1.5;

/** @param before the samples of the window up to the loss */
export function splitBefore(before: readonly Sample[], areaM2: number): VoltageSplit {
  const last = before.slice(-LEVEL_SAMPLES);
  const currentA = medianOf(last, 'currentA');
  const settled = before.filter((sample) => sample.chargePerAreaC > PAST_PEAK_C_PER_M2);
  return learnSplit(
    settled.map((sample) => sample.voltageV),
    settled.map((sample) => sample.currentA),
    priorSplit(medianOf(last, 'voltageV'), currentA, currentA / areaM2),
  );
}

/** From a line of V against I that has become steeper. */
export function sizeByLine(split: VoltageSplit, { ohm, sdOhm }: LineChange): RampSize {
  const { currentA, overV } = split;
  const afterV = Math.max(overV + ohm * currentA, 0.05 * overV);
  const step = -Math.log(afterV / overV);
  return sizeOf(split, step, (sdOhm * currentA) / afterV, 1);
}

/** From a current that has fallen: at the same voltage it goes with the area. */
export function sizeByCurrent(split: VoltageSplit, { step, sd }: CurrentStep): RampSize {
  return sizeOf(split, step, FALL_DOUBT * sd, Math.exp(step));
}

function sizeOf(split: VoltageSplit, step: number, stepSd: number, currentRatio: number): RampSize {
  const { voltageV, overV, overSdV } = split;
  const evidence = { step, stepSd, currentRatio, voltageV, overV, likelyOverV: overV, overSdV };
  return { share: areaLeft(evidence), step, split };
}
