import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import type { FieldResult } from './solve-field.ts';
import { areaBelow, metresPerDensity, thicknessMap } from './thickness-map.ts';
import { formatCount } from '../units/format-count.ts';

export interface FieldPlan {
  readonly totalCurrentA: number;
  readonly chargeC: number;
  readonly chargePerVolumeCPerM3: number;
  /** Thickness below which the area is counted, m. */
  readonly limitM: number;
  readonly filmSource: Source;
  /** How far the film's voltage may lie from its law, V. */
  readonly filmUncertaintyV: number;
}

export interface FieldFigures {
  readonly cellVoltageV: Figure;
  readonly meanM: Figure;
  readonly leastM: Figure;
  readonly mostM: Figure;
  readonly areaBelowM2: Figure;
  /** |anode current − cathode current| over the current. */
  readonly chargeImbalance: Figure;
}

/** The headline figures of a solved field, with the two grids' difference as their range; the voltage's holds that of the film's law too. */
export function fieldFigures(result: FieldResult, plan: FieldPlan): FieldFigures {
  const { fine, coarse, error, grid } = result;
  const map = thicknessMap(fine.part, plan.totalCurrentA, plan.chargeC, plan.chargePerVolumeCPerM3);
  const perDensity = metresPerDensity(plan.totalCurrentA, plan.chargeC, plan.chargePerVolumeCPerM3);
  const source: Source = {
    standing: plan.filmSource.standing,
    text: `Laplace’s equation in the bath on ${formatCount(fine.cells)} cells of ${(grid.spacingM * 1000).toPrecision(2)} mm at the part; film: ${plan.filmSource.text}`,
  };
  const inputs = [
    figureInput('I', 'current, all parts together', 'current', plan.totalCurrentA),
    figureInput('Q', 'planned charge', 'charge', plan.chargeC, 'A·h'),
    figureInput('k', 'charge constant', 'chargePerVolume', plan.chargePerVolumeCPerM3),
  ];
  const thickness = (label: string, valueSi: number, spread: number): Figure => ({
    label,
    kind: 'length',
    valueSi,
    lowSi: valueSi - spread,
    highSi: valueSi + spread,
    unit: 'µm',
    formula: 'd = j / I · Q / k',
    inputs,
    source,
  });
  const limitAPerM2 = plan.limitM / perDensity;
  const areas = [areaBelow(fine.part, limitAPerM2), areaBelow(coarse.part, limitAPerM2)];
  const meanSpread = Math.abs(
    fine.part.currentA / fine.part.areaM2 - coarse.part.currentA / coarse.part.areaM2,
  );
  return {
    cellVoltageV: {
      label: 'Cell voltage',
      kind: 'voltage',
      valueSi: fine.cellVoltageV,
      lowSi: fine.cellVoltageV - error.cellVoltageV - plan.filmUncertaintyV,
      highSi: fine.cellVoltageV + error.cellVoltageV + plan.filmUncertaintyV,
      formula: 'V such that ∫ j dA = I',
      inputs: inputs.slice(0, 1),
      source,
    },
    meanM: thickness('Mean thickness', map.meanM, meanSpread * perDensity),
    leastM: thickness('Least thickness', map.leastM, error.leastAPerM2 * perDensity),
    mostM: thickness('Most thickness', map.mostM, error.mostAPerM2 * perDensity),
    areaBelowM2: {
      label: 'Area thinner than the limit',
      kind: 'area',
      valueSi: areas[0],
      lowSi: Math.min(...areas),
      highSi: Math.max(...areas),
      formula: 'area with d < d_limit',
      inputs: [...inputs, figureInput('d_limit', 'limit', 'length', plan.limitM, 'µm')],
      source,
    },
    chargeImbalance: {
      label: 'Charge imbalance',
      kind: 'fraction',
      valueSi: Math.abs(fine.anodeCurrentA - fine.cathodeCurrentA) / plan.totalCurrentA,
      formula: '|Σ I_anode − Σ I_cathode| / I',
      inputs: inputs.slice(0, 1),
      source: { standing: 'definition', text: 'conservation of charge, checked on the solution' },
    },
  };
}
