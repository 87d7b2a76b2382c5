import type { Figure } from '../figure/figure.ts';
import { leastSquares, outliersOf, studentT95 } from './least-squares.ts';
import { ownRuns, tooLittle, type Learnt } from './learnt.ts';

export interface HeatedRun {
  /** ∫ V·I dt over the run. */
  readonly energyJ: number;
  readonly chargeC: number;
  readonly riseK: number;
  readonly durationS: number;
}

export interface LearntHeating {
  /** Heat the bath takes per kelvin, tank and cooling included. */
  readonly heatCapacityJPerK: number;
  readonly lowJPerK: number;
  readonly highJPerK: number;
  /** What the bath loses (above zero) to the room or a cooler while it runs, W. */
  readonly lossW: number;
}

const NEEDED = 4;
/** Enthalpy of 2 Al + 3 H₂O → Al₂O₃ + 3 H₂ as volts on top of the cell's own (CODATA, NIST WebBook). */
const REACTION_V = 1.413;

/** From the rise of each run: rise = heat / C − loss · time / C, least squares in 1/C and loss/C. */
export function learnHeating(runs: readonly HeatedRun[]): Learnt<LearntHeating> {
  runs.forEach((run, i) => {
    for (const name of ['energyJ', 'chargeC', 'durationS'] as const) {
      if (!(run[name] > 0)) throw new RangeError(`learnHeating: ${name} of run ${i} is ${run[name]}`);
    }
    if (!Number.isFinite(run.riseK)) throw new RangeError(`learnHeating: riseK of run ${i} is ${run.riseK}`);
  });
  if (runs.length < NEEDED) return tooLittle(runs.length, NEEDED, 'the bath’s temperature before and after');
  const fit = (list: readonly HeatedRun[]) =>
    leastSquares(
      [
        Float64Array.from(list, (run) => run.energyJ + REACTION_V * run.chargeC),
        Float64Array.from(list, (run) => -run.durationS),
      ],
      Float64Array.from(list, (run) => run.riseK),
    );
  const first = fit(runs);
  const outliers = first ? outliersOf(first.residuals) : [];
  const used = runs.filter((_, i) => !outliers.includes(i));
  const line = used.length >= NEEDED ? fit(used) : first;
  const inverse = line?.coefficients[0] ?? 0;
  const half = line && line.freedom > 0 ? studentT95(line.freedom) * line.deviations[0]! : Infinity;
  if (!line || !(inverse > 0) || !(half < inverse)) {
    return {
      state: 'too-little',
      count: runs.length,
      needed: runs.length + 2,
      message: 'The runs are too alike, or scatter too much, to tell how fast the bath warms.',
      remedy: 'Record runs of different length or current.',
    };
  }
  const kept = used.length >= NEEDED;
  const count = kept ? used.length : runs.length;
  const figure: Figure = {
    label: 'Rise of the bath per 100 kJ',
    kind: 'temperatureDifference',
    valueSi: inverse * 1e5,
    lowSi: (inverse - half) * 1e5,
    highSi: (inverse + half) * 1e5,
    formula: 'ΔT = (∫ V·I dt + 1.41 V · Q − P · t) / C, least squares',
    inputs: [{ symbol: 'n', label: 'runs', kind: 'count', valueSi: count }],
    source: ownRuns(count),
  };
  return {
    state: 'offered',
    value: {
      heatCapacityJPerK: 1 / inverse,
      lowJPerK: 1 / (inverse + half),
      highJPerK: 1 / (inverse - half),
      lossW: line.coefficients[1]! / inverse,
    },
    count,
    outliers: kept ? outliers : [],
    figures: [figure],
    remarks: [],
  };
}
