/** Share of the area that still has contact, 0 … 1, with the range that holds the truth nine times in ten. */
export interface AreaLeft {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface StepEvidence {
  /** Change of ln(I / (V − E)), below zero for lost area, and its deviation. */
  readonly step: number;
  readonly stepSd: number;
  /** Current after over current before. */
  readonly currentRatio: number;
  /** Before the step. */
  readonly voltageV: number;
  /** V − E before the step as the watch took it. */
  readonly overV: number;
  /** What U may really be: b·j at the current before the step. */
  readonly likelyOverV: number;
  readonly overSdV: number;
}

const NINE_IN_TEN = 1.645;
/** Below the last digit of any meter. */
const LEAST_V = 1e-3;
const UNKNOWN: AreaLeft = { value: 0.5, low: 0, high: 1 };
/** What leads, contacts and bath take of the voltage, share: 0 to 3 %, not known for the run. */
const SERIES_SHARE = { low: 0, usual: 0.015, high: 0.03 } as const;

/**
 * Turns the step into area. The current's share needs no model: at the same voltage current goes with area. The
 * voltage's share does: the density on what is left rises until U has risen by dV, along a straight line or along a
 * power of the density through the same slope. The middle of the two is the value; their distance, the doubt about the
 * slope and the noise make the range.
 */
export function areaLeft(evidence: StepEvidence): AreaLeft {
  // Where there were no volts, or no amps, no ratio tells a share.
  const isTold = Object.values(evidence).every(Number.isFinite) && evidence.voltageV > LEAST_V;
  if (!isTold) return UNKNOWN;
  const value = areaOf(evidence, {});
  const noise = [-1, 1].map((sign) =>
    areaOf(evidence, { step: evidence.step + sign * NINE_IN_TEN * evidence.stepSd }),
  );
  const lowOver = Math.max(
    0.35 * evidence.likelyOverV,
    evidence.likelyOverV - NINE_IN_TEN * evidence.overSdV,
  );
  const highOver = evidence.likelyOverV + NINE_IN_TEN * evidence.overSdV;
  const slope = [lowOver, highOver].map((over) => areaOf(evidence, { over }));
  const law = [0, 1].map((bent) => areaOf(evidence, { bent }));
  const series = [SERIES_SHARE.low, SERIES_SHARE.high].map((share) => areaOf(evidence, { series: share }));
  const spread = (candidates: readonly number[][], pick: (...values: number[]) => number): number =>
    Math.sqrt(candidates.reduce((sum, pair) => sum + (pick(...pair, value) - value) ** 2, 0));
  const all = [noise, slope, law, series];
  return {
    value,
    low: Math.max(0, value - spread(all, Math.min) - 0.01),
    high: Math.min(1, value + spread(all, Math.max) + 0.01),
  };
}

interface Assumed {
  readonly step?: number;
  readonly over?: number;
  /** 0 straight line, 1 power law */
  readonly bent?: number;
  readonly series?: number;
}

function areaOf(evidence: StepEvidence, assumed: Assumed): number {
  const { currentRatio, voltageV, overV } = evidence;
  const { step = evidence.step, bent = 0.5, series = SERIES_SHARE.usual } = assumed;
  const seriesV = series * voltageV;
  const over = Math.max((assumed.over ?? evidence.likelyOverV) - seriesV, 0.05 * voltageV);
  // I / (V − E) changed by e^step: what the current does not explain, the voltage did; and less current leaves more of
  // the voltage to the film.
  const riseV = overV * (currentRatio * Math.exp(-step) - 1) + seriesV * (1 - currentRatio);
  const straight = Math.max(0.05, 1 + riseV / over);
  const power = Math.max(0.05, 1 + riseV / voltageV) ** (voltageV / over);
  const densityRatio = straight ** (1 - bent) * power ** bent;
  return Math.min(1, Math.max(0, currentRatio / densityRatio));
}
