import { success, type Result } from '../result.ts';
import { iceForHeatKg } from './iced-bath.ts';
import { heatBalance, type HeatPaths, type HeatRun } from './heat-balance.ts';

/** The bath over one load of several, as the best known losses have it. */
export interface LoadHeat {
  /** Number of the load, from 1. */
  readonly load: number;
  /** After the cooling, where it needs one. */
  readonly startK: number;
  readonly endK: number;
  /** What has to be cooled before it, lest the bath passes the limit; null for none. */
  readonly cooling: LoadCooling | null;
}

export interface LoadCooling {
  /** Where the pause after the load before leaves the bath. */
  readonly fromK: number;
  /** Where this load would end from there; null where it would boil or worse. */
  readonly uncooledEndK: number | null;
  /** The planned start. */
  readonly toK: number;
  /** Ice at 0 °C for that, in closed bottles or out again: its water is not counted as bath. */
  readonly iceKg: number;
  /** The warmest start from which this load stays under the limit; never below `toK`. */
  readonly latestStartK: number;
  /** After the pause, until losses and chiller alone have cooled the bath to `latestStartK`; null where a day does not do it. */
  readonly waitS: number | null;
}

export interface LoadsInARow {
  /** Of each load in the order in which they are run, A. */
  readonly currentsA: readonly number[];
  readonly limitK: number;
  /** Between the end of one load and the start of the next. */
  readonly pauseS: number;
  /** What takes heat while nothing runs. */
  readonly restPaths: HeatPaths;
}

const MOST_WAIT_S = 86_400;
/** Halvings: a day to a second, and the span of any bath to well under a thousandth of a kelvin. */
const HALVINGS = 18;
const SLACK_K = 1e-9;

/**
 * How warm each of several loads finds and leaves the bath, one after the other with the pause between them, and what is to be
 * cooled before a load that would pass the limit: to the planned start, by ice m = C · (T − T₀) / (333.55 kJ/kg + c_w · (T₀ − 0 °C)),
 * or by waiting. A load that passes the limit from the planned start too is told by the run itself.
 *
 * @param run the run of any load, at the start that the first one finds; its current is not looked at
 */
export function heatOverLoads(run: HeatRun, paths: HeatPaths, row: LoadsInARow): Result<LoadHeat[]> {
  const loads: LoadHeat[] = [];
  const latest = new Map<number, number>();
  // A bath that starts above its limit is told by the run itself; later loads are cooled to the limit.
  const toK = Math.min(run.startK, row.limitK);
  let foundK = run.startK;
  for (const [index, currentA] of row.currentsA.entries()) {
    const from = (startK: number) => heatBalance({ ...run, currentA, startK, restS: 0 }, paths);
    const uncooled = from(foundK);
    const passes = !uncooled.ok || uncooled.value.warmestK > row.limitK + SLACK_K;
    let startK = foundK;
    let endK: number;
    let cooling: LoadCooling | null = null;
    if (index > 0 && foundK > toK + SLACK_K && passes) {
      const cooled = from(toK);
      if (!cooled.ok) return cooled;
      const stays = (atK: number): boolean => {
        const tried = from(atK);
        return tried.ok && tried.value.warmestK <= row.limitK;
      };
      const latestStartK = latest.get(currentA) ?? lastThatHolds(toK, foundK, stays);
      latest.set(currentA, latestStartK);
      cooling = {
        fromK: foundK,
        uncooledEndK: uncooled.ok ? uncooled.value.endK : null,
        toK,
        iceKg: iceForHeatKg(run.capacityJPerK * (foundK - toK), toK),
        latestStartK,
        waitS: waitUntil(run, row.restPaths, foundK, latestStartK),
      };
      startK = toK;
      endK = cooled.value.endK;
    } else {
      if (!uncooled.ok) return uncooled;
      endK = uncooled.value.endK;
    }
    loads.push({ load: index + 1, startK, endK, cooling });
    const pause = atRest(run, row.restPaths, endK, row.pauseS);
    if (!pause.ok) return pause;
    foundK = pause.value;
  }
  return success(loads);
}

/** Largest value of a span for which a condition holds that holds below some value only; `lowest` where it never does. */
function lastThatHolds(lowest: number, highest: number, holds: (value: number) => boolean): number {
  if (!holds(lowest)) return lowest;
  let [low, high] = [lowest, highest];
  for (let halving = 0; halving < HALVINGS; halving++) {
    const middle = (low + high) / 2;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** Where a bath left alone ends, without current. */
export function atRest(run: HeatRun, paths: HeatPaths, startK: number, restS: number): Result<number> {
  const rest = heatBalance({ ...run, startK, currentA: 0, rampS: 0, holdS: 0, restS }, paths);
  return rest.ok ? success(rest.value.endK) : rest;
}

/** A bath left alone nears its balance with the room from one side, so the time is found by halving. */
function waitUntil(run: HeatRun, paths: HeatPaths, fromK: number, untilK: number): number | null {
  const isWarmer = (restS: number): boolean => {
    const left = atRest(run, paths, fromK, restS);
    return !left.ok || left.value > untilK;
  };
  return isWarmer(MOST_WAIT_S) ? null : lastThatHolds(0, MOST_WAIT_S, isWarmer);
}
