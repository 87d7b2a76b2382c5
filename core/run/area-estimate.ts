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

/**
 * Turns the step into area. The current's share needs no model: at the same voltage current goes with area. The
 * voltage's share does: the density on what is left rises until U has risen by dV, along a straight line or along a
 * power of the density through the same slope. The middle of the two is the value; their distance, the doubt about the
 * slope and the noise make the range.
 */
export function areaLeft(evidence: StepEvidence): AreaLeft {
  const value = areaOf(evidence, evidence.step, evidence.likelyOverV, 0.5);
  const noise = [-1, 1].map((sign) =>
    areaOf(evidence, evidence.step + sign * NINE_IN_TEN * evidence.stepSd, evidence.likelyOverV, 0.5),
  );
  const lowOver = Math.max(
    0.35 * evidence.likelyOverV,
    evidence.likelyOverV - NINE_IN_TEN * evidence.overSdV,
  );
  const highOver = evidence.likelyOverV + NINE_IN_TEN * evidence.overSdV;
  const slope = [lowOver, highOver].map((over) => areaOf(evidence, evidence.step, over, 0.5));
  const law = [0, 1].map((bent) => areaOf(evidence, evidence.step, evidence.likelyOverV, bent));
  const spread = (candidates: readonly number[][], pick: (...values: number[]) => number): number =>
    Math.sqrt(candidates.reduce((sum, pair) => sum + (pick(...pair, value) - value) ** 2, 0));
  const all = [noise, slope, law];
  return {
    value,
    low: Math.max(0, value - spread(all, Math.min) - 0.01),
    high: Math.min(1, value + spread(all, Math.max) + 0.01),
  };
}

/** @param bent 0 straight line, 1 power law */
function areaOf(evidence: StepEvidence, step: number, over: number, bent: number): number {
  const { currentRatio, voltageV, overV } = evidence;
  // I / (V − E) changed by e^step: what the current does not explain, the voltage did.
  const riseV = overV * (currentRatio * Math.exp(-step) - 1);
  const straight = Math.max(0.05, 1 + riseV / over);
  const power = Math.max(0.05, 1 + riseV / voltageV) ** (voltageV / over);
  const densityRatio = straight ** (1 - bent) * power ** bent;
  return Math.min(1, Math.max(0, currentRatio / densityRatio));
}
