import { heatBalance, type HeatPaths, type HeatRun } from './heat-balance.ts';
import { success, type Result } from '../result.ts';

/** Bath temperature at moments of one run, for drawing. Both arrays of one length, in order of time. */
export interface HeatCourse {
  readonly timeS: Float64Array;
  readonly bathK: Float64Array;
}

const RAMP_POINTS = 6;
const HOLD_POINTS = 30;

/**
 * The bath's temperature through ramp and hold, from the same balance that gives its end. Fails as heatBalance does.
 */
export function heatCourse(run: HeatRun, paths: HeatPaths): Result<HeatCourse> {
  const times = [0];
  const temperatures = [run.startK];
  const rampPoints = run.rampS > 0 ? RAMP_POINTS : 0;
  for (let i = 1; i <= rampPoints; i++) {
    // Up to here the ramp is a shorter one of the same steepness.
    const share = i / rampPoints;
    const part = { ...run, rampS: run.rampS * share, currentA: run.currentA * share, holdS: 0, restS: 0 };
    const state = heatBalance(part, paths);
    if (!state.ok) return state;
    times.push(run.rampS * share);
    temperatures.push(state.value.endK);
  }
  let bathK = temperatures.at(-1)!;
  for (let i = 1; i <= HOLD_POINTS && run.holdS > 0; i++) {
    const part = { ...run, startK: bathK, rampS: 0, holdS: run.holdS / HOLD_POINTS, restS: 0 };
    const state = heatBalance(part, paths);
    if (!state.ok) return state;
    bathK = state.value.endK;
    times.push(run.rampS + (run.holdS * i) / HOLD_POINTS);
    temperatures.push(bathK);
  }
  return success({ timeS: Float64Array.from(times), bathK: Float64Array.from(temperatures) });
}
