import type { Figure } from '../figure/figure.ts';
import { outliersOf, studentT95 } from './least-squares.ts';
import { ownRuns, tooLittle, type Learnt } from './learnt.ts';

export interface MeasuredRun {
  readonly chargeC: number;
  readonly areaM2: number;
  /** Mean of the eddy-current readings, or from mass loss. */
  readonly thicknessM: number;
}

export interface LearntCharge {
  readonly chargePerVolumeCPerM3: number;
  readonly lowCPerM3: number;
  readonly highCPerM3: number;
  /** A single run's, share; what the next run's thickness may be off by. */
  readonly relativeSd: number;
}

const NEEDED = 3;

/**
 * The charge constant from runs whose film was measured: k = Q / (A · d) of each, their mean, and its 95 % range by
 * Student's t.
 */
export function learnChargeConstant(runs: readonly MeasuredRun[]): Learnt<LearntCharge> {
  runs.forEach((run, i) => {
    for (const name of ['chargeC', 'areaM2', 'thicknessM'] as const) {
      if (!(run[name] > 0)) throw new RangeError(`learnChargeConstant: ${name} of run ${i} is ${run[name]}`);
    }
  });
  if (runs.length < NEEDED) return tooLittle(runs.length, NEEDED, 'a measured film');
  const each = Float64Array.from(runs, (run) => run.chargeC / (run.areaM2 * run.thicknessM));
  const outliers = outliersOf(each);
  const used = each.filter((_, i) => !outliers.includes(i));
  const mean = used.reduce((sum, value) => sum + value, 0) / used.length;
  const sd = Math.sqrt(used.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (used.length - 1));
  const half = (studentT95(used.length - 1) * sd) / Math.sqrt(used.length);
  const figure: Figure = {
    label: 'Charge constant of this shop',
    kind: 'chargePerVolume',
    valueSi: mean,
    lowSi: mean - half,
    highSi: mean + half,
    formula: 'k = mean of Qᵢ / (Aᵢ · dᵢ)',
    inputs: [{ symbol: 'n', label: 'runs', kind: 'count', valueSi: used.length }],
    source: ownRuns(used.length),
  };
  return {
    state: 'offered',
    value: {
      chargePerVolumeCPerM3: mean,
      lowCPerM3: mean - half,
      highCPerM3: mean + half,
      relativeSd: sd / mean,
    },
    count: used.length,
    outliers,
    figures: [figure],
    remarks: [],
  };
}
