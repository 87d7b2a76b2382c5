import type { Figure, FigureInput, Source } from '../figure/figure.ts';
import { deliveredCharge, type Delivered, type DeliveredOptions } from './delivered-charge.ts';
import type { Readings } from './readings.ts';

/**
 * How thick the film is by now and when the power can go off. Thickness follows from charge: d = ∫ I dt / (k · A), so a
 * low stretch or a slower ramp needs no rule of its own: the missing charge is simply still to come.
 */
export interface ProgressPlan {
  readonly areaM2: number;
  readonly thicknessM: number;
  readonly currentDensityAPerM2: number;
  readonly chargePerVolumeCPerM3: number;
  /** Share by which the charge constant may be off; 0.1 unless the shop's own runs say better. */
  readonly chargeRelativeUncertainty: number;
  readonly chargeSource: Source;
  readonly rampS: number;
}

export interface RunProgress {
  readonly chargeC: Figure;
  readonly thicknessM: Figure;
  /** Seconds of the run; absent when no current flows that could finish it. */
  readonly endS: Figure | null;
  readonly delivered: Delivered;
  /** Charge still to come, C; 0 when done. */
  readonly missingChargeC: number;
  readonly done: boolean;
}

/** Share of the area with contact, see contact-watch.ts; [1, 1] when all of it is. */
export type LiveArea = readonly [low: number, high: number];

const RECENT_S = 60;
/** Below this share of the plan the current is no basis for an end time. */
const SMALLEST_SHARE = 0.05;
const RISING_SHARE_PER_S = 0.02 / 60;
const OWN_READINGS: Source = { standing: 'definition', text: 'trapezoid rule over the readings of this run' };

/**
 * Throws RangeError for a plan without area, thickness or charge constant.
 * The area is taken as wholly in contact: after a lost contact give what is left as `live`, which widens the range to a
 * loss from the very start; the lost part's own film is what it had when it let go.
 */
export function runProgress(
  readings: Readings,
  plan: ProgressPlan,
  options: DeliveredOptions = {},
  live: LiveArea = [1, 1],
): RunProgress {
  for (const name of ['areaM2', 'thicknessM', 'currentDensityAPerM2', 'chargePerVolumeCPerM3'] as const) {
    if (!(plan[name] > 0)) throw new RangeError(`runProgress: ${name} is ${plan[name]}`);
  }
  if (!(live[0] > 0 && live[0] <= live[1] && live[1] <= 1)) {
    throw new RangeError(`runProgress: live is ${live[0]} to ${live[1]}`);
  }
  const delivered = deliveredCharge(readings, options);
  const k = plan.chargePerVolumeCPerM3;
  const off = plan.chargeRelativeUncertainty;
  const perChargeM = 1 / (k * plan.areaM2);
  const unconfirmed =
    delivered.gaps.length > 0
      ? `${delivered.gaps.length} gap${delivered.gaps.length > 1 ? 's' : ''} of ${Math.round(delivered.gapS)} s in all, counted as no current; the range has it all`
      : undefined;
  const mark = unconfirmed === undefined ? {} : { unconfirmed };
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
    inputs: [{ symbol: 'n', label: 'readings', kind: 'count', valueSi: readings.tS.length }],
    source: OWN_READINGS,
    ...mark,
  };
  const thicknessM: Figure = {
    label: 'Film so far',
    kind: 'length',
    valueSi: delivered.chargeC * perChargeM,
    lowSi: (delivered.lowChargeC * perChargeM) / (1 + off),
    highSi: (delivered.highChargeC * perChargeM) / (1 - off) / live[0],
    unit: 'µm',
    formula: 'd = Q / (k · A)',
    inputs: [charge, constant, area],
    source: plan.chargeSource,
    ...mark,
  };
  const wantedC = k * plan.thicknessM * plan.areaM2;
  const missingChargeC = Math.max(0, wantedC - delivered.chargeC);
  return {
    chargeC,
    thicknessM,
    endS: endFigure(readings, plan, delivered, wantedC, [charge, constant, area], mark),
    delivered,
    missingChargeC,
    done: missingChargeC === 0,
  };
}

function endFigure(
  readings: Readings,
  plan: ProgressPlan,
  delivered: Delivered,
  wantedC: number,
  inputs: readonly FigureInput[],
  mark: { readonly unconfirmed?: string },
): Figure | null {
  const { tS } = readings;
  if (tS.length === 0) return null;
  const nowS = tS[tS.length - 1]!;
  const plannedA = plan.currentDensityAPerM2 * plan.areaM2;
  const { levelA, slopeAPerS } = recentCurrent(readings);
  if (levelA < SMALLEST_SHARE * plannedA && delivered.chargeC < wantedC) return null;
  // While the ramp still rises, the rest of it comes at the rate it really has, up to the planned current.
  const rising = slopeAPerS > RISING_SHARE_PER_S * plannedA && levelA < 0.98 * plannedA;
  const remaining = (chargeC: number): number => {
    const missing = wantedC - chargeC;
    if (missing <= 0) return 0;
    if (!rising) return missing / levelA;
    const rampLeftS = (plannedA - levelA) / slopeAPerS;
    const rampCharge = ((levelA + plannedA) / 2) * rampLeftS;
    if (missing >= rampCharge) return rampLeftS + (missing - rampCharge) / plannedA;
    return (Math.sqrt(levelA ** 2 + 2 * slopeAPerS * missing) - levelA) / slopeAPerS;
  };
  const off = plan.chargeRelativeUncertainty;
  const scaled = (factor: number, chargeC: number): number => {
    const missing = wantedC * factor - chargeC;
    return missing <= 0 ? nowS : nowS + (wantedC > chargeC ? remaining(wantedC - missing) : missing / levelA);
  };
  return {
    label: 'Power off at',
    kind: 'time',
    valueSi: delivered.chargeC >= wantedC ? nowS : nowS + remaining(delivered.chargeC),
    lowSi: scaled(1 - off, delivered.highChargeC),
    highSi: scaled(1 + off, delivered.lowChargeC),
    unit: 'min',
    formula: rising ? 't = now + rest of the ramp + (k · d · A − Q) / I' : 't = now + (k · d · A − Q) / I',
    inputs: [
      ...inputs,
      { symbol: 'd', label: 'wanted thickness', kind: 'length', valueSi: plan.thicknessM, unit: 'µm' },
      { symbol: 'I', label: 'current now', kind: 'current', valueSi: levelA },
    ],
    source: plan.chargeSource,
    ...mark,
  };
}

/** Mean and slope of the current over the last minute, or over the last two readings where they come more slowly. */
function recentCurrent(readings: Readings): { levelA: number; slopeAPerS: number } {
  const { tS, currentA } = readings;
  const last = tS.length - 1;
  let from = last;
  while (from > 0 && (tS[last]! - tS[from - 1]! <= RECENT_S || last - from < 1)) from--;
  let meanT = 0;
  let meanI = 0;
  const count = last - from + 1;
  for (let i = from; i <= last; i++) {
    meanT += tS[i]! / count;
    meanI += currentA[i]! / count;
  }
  let tt = 0;
  let ti = 0;
  for (let i = from; i <= last; i++) {
    tt += (tS[i]! - meanT) ** 2;
    ti += (tS[i]! - meanT) * (currentA[i]! - meanI);
  }
  const slopeAPerS = tt > 0 ? ti / tt : 0;
  const isRise = slopeAPerS * (tS[last]! - tS[from]!) > 0.05 * Math.abs(meanI);
  return { levelA: isRise ? meanI + slopeAPerS * (tS[last]! - meanT) : meanI, slopeAPerS };
}
