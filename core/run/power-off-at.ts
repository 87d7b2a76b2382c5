import type { Figure, FigureInput } from '../figure/figure.ts';
import type { CurrentNow } from './current-now.ts';
import { plannedCurrentA } from './planned-current.ts';
import type { ChargeRange } from './charge-on-live.ts';
import type { ProgressPlan } from './run-progress.ts';

/** Below this share of the plan the current is no basis for an end time. */
const SMALLEST_SHARE = 0.05;

/** What is known when the end is worked out. */
export interface EndBasis {
  /** The last reading, seconds of the run. */
  readonly nowS: number;
  readonly now: CurrentNow;
  readonly plan: ProgressPlan;
  /** Charge that would have given the live part its film with the whole area in contact, C. */
  readonly onLive: ChargeRange;
  readonly wantedC: number;
  /** With contact now. */
  readonly share: ChargeRange;
  readonly thickness: Figure;
  readonly mark: { readonly unconfirmed?: string };
}

/**
 * When the wanted film is there, seconds of the run, if what flows now flows on; a ramp goes on at the rate it really has, up to the
 * planned current. The range has that of the film, of the area with contact, of the charge constant and of the current. Null
 * where no current flows that could finish it.
 */
export function powerOffAt(basis: EndBasis): Figure | null {
  const { nowS, now, plan, onLive, wantedC, share, thickness, mark } = basis;
  const plannedA = plannedCurrentA(plan);
  const leastA = SMALLEST_SHARE * plannedA;
  const flowsA = now.insteadOfA ?? now.levelA;
  if (flowsA < leastA && onLive.likely < wantedC) return null;
  const slopeAPerS = now.riseAPerS;
  const after = (missing: number, levelA: number): number => {
    if (missing <= 0) return nowS;
    if (!(slopeAPerS > 0)) return nowS + missing / Math.max(levelA, leastA);
    const rampLeftS = (plannedA - levelA) / slopeAPerS;
    const rampCharge = ((levelA + plannedA) / 2) * rampLeftS;
    return missing >= rampCharge
      ? nowS + rampLeftS + (missing - rampCharge) / plannedA
      : nowS + (Math.sqrt(levelA ** 2 + 2 * slopeAPerS * missing) - levelA) / slopeAPerS;
  };
  const off = plan.chargeRelativeUncertainty;
  const current: FigureInput = {
    symbol: 'I',
    label: currentLabel(now),
    kind: 'current',
    valueSi: now.levelA,
  };
  return {
    label: 'Power off at',
    kind: 'time',
    valueSi: after((wantedC - onLive.likely) * share.likely, now.levelA),
    lowSi: after((wantedC * (1 - off) - onLive.high) * share.low, now.highA),
    highSi: after((wantedC * (1 + off) - onLive.low) * share.high, now.lowA),
    unit: 'min',
    formula:
      slopeAPerS > 0
        ? 't = now + rest of the ramp + k · A · a · (d_wanted − d) / I'
        : 't = now + k · A · a · (d_wanted − d) / I',
    inputs: [
      { symbol: 'd', label: 'film so far', kind: 'length', valueSi: thickness.valueSi, unit: 'µm' },
      { symbol: 'd_wanted', label: 'wanted thickness', kind: 'length', valueSi: plan.thicknessM, unit: 'µm' },
      { symbol: 'k', label: 'charge constant', kind: 'chargePerVolume', valueSi: plan.chargePerVolumeCPerM3 },
      { symbol: 'A', label: 'coated area', kind: 'area', valueSi: plan.areaM2 },
      { symbol: 'a', label: 'share with contact now', kind: 'fraction', valueSi: share.likely, unit: '%' },
      current,
      ...(now.insteadOfA === null
        ? []
        : [
            {
              symbol: 'I_read',
              label: 'current at the last reading, which the range has too',
              kind: 'current',
              valueSi: now.insteadOfA,
            } satisfies FigureInput,
          ]),
    ],
    source: plan.chargeSource,
    ...mark,
  };
}

function currentLabel({ insteadOfA, riseAPerS, readings }: CurrentNow): string {
  if (insteadOfA !== null) return 'current as it was told to be set; no reading shows it yet';
  if (riseAPerS > 0) return `current now, on the line through the last ${readings} readings`;
  return readings === 1
    ? 'current now, the last reading'
    : `current now, mean of the last ${readings} readings`;
}
