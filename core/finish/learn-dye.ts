import type { Figure } from '../figure/figure.ts';
import { ownRuns, type Learnt } from '../run/learnt.ts';
import { deltaE2000 } from './colour.ts';
import { fitUptake, predictColour, type DipPoint, type UptakeFit } from './fit-uptake.ts';
import type { UptakeModel } from './uptake-models.ts';

/** k·t at which half of what the film takes is in it: Crank for diffusion from one side; the other two in closed form. */
const HALF: Readonly<Record<UptakeModel, number>> = {
  diffusion: 0.19674,
  'second order': 1,
  'first order': Math.LN2,
};

/** A dip this far off the curve of all others, and so many times their own scatter, is worth another look. */
const FAR_OFF_DELTA_E = 5;
const FAR_OFF_TIMES = 3;
/** Dips that a curve without one of them needs, and of which the worst are held against it. */
const ENOUGH_DIPS = 5;
const LOOKED_AT = 2;

/** How fast a dye goes into the shop's own films, from the dips of its colour book; each dip counts, far ones are named. */
export function learnDye(dips: readonly DipPoint[]): Learnt<UptakeFit> {
  const fit = fitUptake(dips);
  if (!fit.ok) {
    return {
      state: 'too-little',
      count: dips.length,
      needed: 3,
      message: fit.error.message,
      remedy: fit.error.remedy,
    };
  }
  const { model, best, allowed, meanDeltaE } = fit.value;
  const rates = allowed.map(({ ratePerS }) => ratePerS);
  const half = (ratePerS: number): number => HALF[model] / ratePerS;
  const figure: Figure = {
    label: 'Half of the full colour after',
    kind: 'time',
    valueSi: half(best.ratePerS),
    lowSi: half(Math.max(...rates)),
    highSi: half(Math.min(...rates)),
    formula: `t½ = ${HALF[model].toPrecision(3)} / k, uptake by ${model}`,
    inputs: [
      { symbol: 'k', label: 'rate, per minute', kind: 'count', valueSi: best.ratePerS * 60, digits: 3 },
      { symbol: 'n', label: 'dips', kind: 'count', valueSi: dips.length },
      {
        symbol: 'ΔE',
        label: 'scatter of the dips, mean CIEDE2000',
        kind: 'count',
        valueSi: meanDeltaE,
        digits: 2,
      },
    ],
    source: ownRuns(dips.length),
  };
  return {
    state: 'offered',
    value: fit.value,
    count: dips.length,
    outliers: farOff(dips, fit.value),
    figures: [figure],
    remarks: fit.value.notes,
  };
}

/** Places of the dips that the curve of all others misses by far: a far one pulls the common curve to itself. */
function farOff(dips: readonly DipPoint[], fit: UptakeFit): number[] {
  if (dips.length <= ENOUGH_DIPS) return [];
  const missOf = (of: UptakeFit, dip: DipPoint): number =>
    deltaE2000(dip.colour, predictColour(of, of.best, dip, dip.timeS));
  return dips
    .map((dip, index) => ({ index, miss: missOf(fit, dip) }))
    .sort((a, b) => b.miss - a.miss)
    .slice(0, LOOKED_AT)
    .flatMap(({ index }) => {
      const others = fitUptake(dips.filter((_, i) => i !== index));
      if (!others.ok) return [];
      const far = Math.max(FAR_OFF_DELTA_E, FAR_OFF_TIMES * others.value.meanDeltaE);
      return missOf(others.value, dips[index]!) > far ? [index] : [];
    })
    .sort((a, b) => a - b);
}
