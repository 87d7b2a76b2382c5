/**
 * How the voltage splits into what stays without current (E) and what the oxide takes for its current (U = b·j), which
 * turns a rise in voltage into a share of lost area. Handbook slopes are 3-5 V per A/dm² near 1.3 A/dm² (from memory), and
 * over the whole Type II range voltage goes about as the square root of the density; the run's own ramp says better.
 */
export interface VoltageSplit {
  /** Voltage at the current the split was made at. */
  readonly voltageV: number;
  readonly currentA: number;
  /** U at that current, and its deviation. */
  readonly overV: number;
  readonly overSdV: number;
  readonly learnt: boolean;
}

/** The start-up peak has died away by here; it falls while the current rises, and would make the slope look too small. */
export const PAST_PEAK_C_PER_M2 = 7000;
const SLOPE_VM2_PER_A = 0.04;
const LOWEST_SHARE = 0.22;
const HIGHEST_SHARE = 0.5;
const PRIOR_RELATIVE_SD = 0.28;
/** Wander in the ramp makes the fit's own deviation too small by about this. */
const WANDER_INFLATION = 2.5;
/** Below this share the ramp itself still builds the film. */
const FROM_SHARE_OF_CURRENT = 0.4;

/** The split before the run has shown anything: handbook slope, share of the voltage kept within handbook bounds. */
export function priorSplit(voltageV: number, currentA: number, densityAPerM2: number): VoltageSplit {
  const share = Math.min(HIGHEST_SHARE, Math.max(LOWEST_SHARE, (SLOPE_VM2_PER_A * densityAPerM2) / voltageV));
  const overV = share * voltageV;
  return { voltageV, currentA, overV, overSdV: PRIOR_RELATIVE_SD * overV, learnt: false };
}

/**
 * The split from a rising current: least squares line through voltage against current over the upper part of the ramp,
 * weighed against the prior by their variances. Returns the prior where the current has not risen enough or the line
 * is not that of an oxide (a supply that ramps its voltage from zero, a contact that changes).
 */
export function learnSplit(
  voltageV: readonly number[],
  currentA: readonly number[],
  prior: VoltageSplit,
): VoltageSplit {
  const from = FROM_SHARE_OF_CURRENT * prior.currentA;
  let n = 0;
  let sumI = 0;
  let sumV = 0;
  for (let i = 0; i < currentA.length; i++) {
    if (currentA[i]! < from || currentA[i]! > 1.1 * prior.currentA) continue;
    n++;
    sumI += currentA[i]!;
    sumV += voltageV[i]!;
  }
  if (n < 8) return prior;
  const meanI = sumI / n;
  const meanV = sumV / n;
  let ii = 0;
  let iv = 0;
  let vv = 0;
  for (let i = 0; i < currentA.length; i++) {
    if (currentA[i]! < from || currentA[i]! > 1.1 * prior.currentA) continue;
    const di = currentA[i]! - meanI;
    const dv = voltageV[i]! - meanV;
    ii += di * di;
    iv += di * dv;
    vv += dv * dv;
  }
  if (Math.sqrt(ii / n) < 0.08 * prior.currentA) return prior;
  const slope = iv / ii;
  const residual = Math.max(0, vv - slope * iv) / (n - 2);
  const overV = slope * prior.currentA;
  const share = overV / prior.voltageV;
  if (!(share > 0.1 && share < 0.75)) return prior;
  // A curved V(j) makes the chord steeper than the slope at its end; the second term covers that, the third what is left of the start-up peak.
  const overSdV = Math.hypot(
    WANDER_INFLATION * Math.sqrt(residual / ii) * prior.currentA,
    0.12 * overV,
    0.01 * prior.voltageV,
  );
  const weight = prior.overSdV ** 2 / (prior.overSdV ** 2 + overSdV ** 2);
  return {
    ...prior,
    overV: prior.overV + weight * (overV - prior.overV),
    overSdV: Math.sqrt(weight) * overSdV,
    learnt: true,
  };
}
