import type { Figure, FigureInput, Source } from '../figure/figure.ts';
import type { ChargeOnLive } from './charge-on-live.ts';
import type { Delivered } from './delivered-charge.ts';
import type { LiveSpan } from './live-spans.ts';
import type { ProgressPlan } from './run-progress.ts';

/** Charge and film so far, with their working. */
export interface ProgressFigures {
  readonly chargeC: Figure;
  readonly thicknessM: Figure;
  /** What is not sure of the film; goes with all that follows from it. */
  readonly mark: { readonly unconfirmed?: string };
}

export interface ProgressBasis {
  readonly plan: ProgressPlan;
  readonly readings: number;
  readonly delivered: Delivered;
  readonly live: readonly LiveSpan[];
  readonly onLive: ChargeOnLive;
  readonly wantedC: number;
  /** From these moments on the current is as it was told to be set, seconds of the run. */
  readonly toldS: readonly number[];
}

/** Of the wanted charge: a doubt worth a word. */
const WORTH_A_REMARK = 0.01;
const OWN_READINGS: Source = { standing: 'definition', text: 'trapezoid rule over the readings of this run' };

export function progressFigures(basis: ProgressBasis): ProgressFigures {
  const { plan, delivered, live, onLive, wantedC, toldS } = basis;
  const k = plan.chargePerVolumeCPerM3;
  const off = plan.chargeRelativeUncertainty;
  const perChargeM = 1 / (k * plan.areaM2);
  const remarks: string[] = [];
  if (delivered.gaps.length > 0) {
    const plural = delivered.gaps.length > 1 ? 's' : '';
    remarks.push(
      `${delivered.gaps.length} gap${plural} of ${Math.round(delivered.gapS)} s in all, counted as no current; the range has it all`,
    );
  }
  const stepDoubtC = delivered.highChargeC - delivered.gapChargeC - delivered.lowChargeC;
  if (stepDoubtC > WORTH_A_REMARK * wantedC) {
    remarks.push('the current was set between two readings: the range has both ends');
  }
  const chargeMark = remarks.length === 0 ? {} : { unconfirmed: remarks.join('; ') };
  const short = live.filter((span) => span.short).length;
  if (short > 0) remarks.push('the current of a short makes no film and is not counted');
  if (live.findLast((span) => !span.short)?.open) {
    remarks.push(
      'what let go may have contact again: the film is that of the whole area, the high end that of the rest alone',
    );
  } else if (live.some((span) => span.low < 1 && !span.short)) {
    remarks.push('for the part that still has contact, as the contact watch has it');
  }
  const mark = remarks.length === 0 ? {} : { unconfirmed: remarks.join('; ') };
  const charge: FigureInput = {
    symbol: 'Q',
    label: 'charge',
    kind: 'charge',
    valueSi: delivered.chargeC,
    unit: 'A·h',
  };
  const constant: FigureInput = {
    symbol: 'k',
    label: 'charge constant',
    kind: 'chargePerVolume',
    valueSi: k,
  };
  const area: FigureInput = { symbol: 'A', label: 'coated area', kind: 'area', valueSi: plan.areaM2 };
  const chargeC: Figure = {
    label: 'Charge so far',
    kind: 'charge',
    valueSi: delivered.chargeC,
    lowSi: delivered.lowChargeC,
    highSi: delivered.highChargeC,
    unit: 'A·h',
    formula: 'Q = Σ ½ (Iᵢ + Iᵢ₊₁) (tᵢ₊₁ − tᵢ)',
    inputs: [
      { symbol: 'n', label: 'readings', kind: 'count', valueSi: basis.readings },
      ...toldS.map((atS, i): FigureInput => ({
        symbol: `t${i + 1}`,
        label: 'from here on the current as it was told to be set and then read',
        kind: 'time',
        valueSi: atS,
        unit: 'min',
      })),
    ],
    source: OWN_READINGS,
    ...chargeMark,
  };
  const thicknessM: Figure = {
    label: 'Film so far',
    kind: 'length',
    valueSi: onLive.likely * perChargeM,
    lowSi: (onLive.low * perChargeM) / (1 + off),
    highSi: (onLive.high * perChargeM) / (1 - off),
    unit: 'µm',
    formula: live.length > 0 ? 'd = Σ Qᵢ / (k · A · aᵢ), aᵢ share with contact' : 'd = Q / (k · A)',
    inputs: [
      charge,
      constant,
      area,
      ...live.map((span, i): FigureInput => ({
        symbol: `a${i + 1}`,
        label: `share with contact from ${Math.round(span.fromS)} s`,
        kind: 'fraction',
        valueSi: span.likely,
        unit: '%',
      })),
    ],
    source: plan.chargeSource,
    ...mark,
  };
  return { chargeC, thicknessM, mark };
}
