import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { DYE_ACTIVATION } from '../reference/dye-practice.ts';
import { GAS_CONSTANT_J_PER_MOL_K } from '../reference/thermochemistry.ts';
import { deltaE2000, type Lab } from './colour.ts';
import { predictColour, type DyeSetting, type UptakeCurve, type UptakeFit } from './fit-uptake.ts';

export type Reach = 'reachable' | 'longer than any dip so far' | 'not with this dye';

export interface TimeForColour {
  readonly reach: Reach;
  /** Best time; its range covers every curve the dips allow, their scatter, and the activation energy where the dye is at another temperature. */
  readonly time: Figure;
  readonly predicted: Lab;
  /** CIEDE2000 left at the best time. */
  readonly missBy: number;
  readonly text: string;
}

/** A fair match between parts seen side by side. */
export const MATCH_DELTA_E = 2;
const REACH_PAST_LONGEST = 3;
const STEPS = 300;

/**
 * How long for this colour: the time at which the fitted curve comes closest to it, looked for up to three times the
 * longest dip. It counts as reached within 2 ΔE (or the dips’ own scatter where that is larger).
 */
export function timeForColour(fit: UptakeFit, target: Lab, setting: DyeSetting): TimeForColour {
  const farthestS = fit.longestS * REACH_PAST_LONGEST;
  const tolerance = Math.max(MATCH_DELTA_E, fit.meanDeltaE);
  const warmer = activationEnds(fit.referenceK, setting.temperatureK);
  const best = closest(fit, fit.best, target, setting, farthestS);
  const span = fit.allowed.flatMap((curve) => {
    const at = closest(fit, curve, target, setting, farthestS);
    const times = [at.timeS, ...scatterEnds(fit, curve, setting, farthestS, at)];
    return times.flatMap((timeS) => [timeS, timeS * warmer.low, timeS * warmer.high]);
  });
  const reached = best.missBy <= tolerance;
  const reach: Reach = !reached
    ? 'not with this dye'
    : best.timeS > fit.longestS * 1.001
      ? 'longer than any dip so far'
      : 'reachable';
  return {
    reach,
    time: {
      label: 'Time in the dye',
      kind: 'time',
      valueSi: best.timeS,
      lowSi: Math.min(...span),
      highSi: Math.max(...span),
      formula: `time at which the curve (${fit.model}) is closest to the colour`,
      inputs: [
        figureInput('T', 'dye', 'temperature', setting.temperatureK),
        // The other curves do not know of the film.
        ...(fit.model === 'diffusion' ? [figureInput('L', 'film', 'length', setting.thicknessM, 'µm')] : []),
        figureInput('k', 'rate, per minute', 'count', fit.best.ratePerS * 60, '', 3),
        figureInput('T₀', 'your dips, brought to', 'temperature', fit.referenceK),
        figureInput('ΔE', 'scatter of the dips', 'count', fit.meanDeltaE, '', 2),
      ],
      source: {
        standing: 'your own runs',
        text: isSameTemperature(fit.referenceK, setting.temperatureK)
          ? 'fitted to your own dips of this dye'
          : `fitted to your own dips of this dye; brought to another temperature by ${DYE_ACTIVATION.source.text} (${DYE_ACTIVATION.source.standing}), both ends in the range`,
      },
      ...(reached ? {} : { unconfirmed: 'The curve never comes close to this colour.' }),
    },
    predicted: best.lab,
    missBy: best.missBy,
    text: textFor(reach, best.missBy),
  };
}

/** Nearer than this the activation energy hardly counts. */
const SAME_K = 0.5;
const isSameTemperature = (a: number, b: number): boolean => Math.abs(a - b) < SAME_K;

/** What the least and the greatest activation energy make of a time worked out with the usual one. */
function activationEnds(referenceK: number, temperatureK: number): { low: number; high: number } {
  const { low, usual, high } = DYE_ACTIVATION;
  const apart = 1 / referenceK - 1 / temperatureK;
  const factor = (energy: number): number => Math.exp(((usual - energy) / GAS_CONSTANT_J_PER_MOL_K) * apart);
  return { low: factor(low), high: factor(high) };
}

function textFor(reach: Reach, missBy: number): string {
  switch (reach) {
    case 'reachable':
      return 'This dye has given this colour; dip a test piece for the time given.';
    case 'longer than any dip so far':
      return 'The curve reaches this colour only past your longest dip. Dip a test piece that long first.';
    case 'not with this dye':
      return `The closest this dye comes is ΔE ${missBy.toFixed(1)} away. Use another dye or mix, a thicker film, or change the colour.`;
  }
}

interface Closest {
  readonly timeS: number;
  readonly missBy: number;
  readonly lab: Lab;
}

/** Square steps in time (uptake starts with a root), then golden section around the best one. */
function closest(
  fit: UptakeFit,
  curve: UptakeCurve,
  target: Lab,
  setting: DyeSetting,
  farthestS: number,
): Closest {
  const miss = (timeS: number): number => deltaE2000(predictColour(fit, curve, setting, timeS), target);
  const timeAt = (step: number): number => farthestS * (step / STEPS) ** 2;
  let at = 0;
  let least = Infinity;
  for (let step = 0; step <= STEPS; step++) {
    const here = miss(timeAt(step));
    if (here < least) [at, least] = [step, here];
  }
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [timeAt(Math.max(0, at - 1)), timeAt(Math.min(STEPS, at + 1))];
  for (let i = 0; i < 50; i++) {
    const left = high - golden * (high - low);
    const right = low + golden * (high - low);
    if (miss(left) < miss(right)) high = right;
    else low = left;
  }
  const timeS = (low + high) / 2;
  return { timeS, missBy: miss(timeS), lab: predictColour(fit, curve, setting, timeS) };
}

/** Times around the best at which the curve has moved on by the scatter of the dips. */
function scatterEnds(
  fit: UptakeFit,
  curve: UptakeCurve,
  setting: DyeSetting,
  farthestS: number,
  best: Closest,
): number[] {
  const scatter = fit.meanDeltaE;
  if (scatter < 1e-6) return [];
  const moved = (timeS: number): number => deltaE2000(predictColour(fit, curve, setting, timeS), best.lab);
  const end = (farS: number): number => {
    if (moved(farS) <= scatter) return farS;
    let [near, far] = [best.timeS, farS];
    for (let i = 0; i < 40; i++) {
      const middle = (near + far) / 2;
      if (moved(middle) <= scatter) near = middle;
      else far = middle;
    }
    return (near + far) / 2;
  };
  return [end(0), end(farthestS)];
}
