import { heatBalance, type HeatPaths, type HeatRun } from './heat-balance.ts';
import { atRest, type LoadHeat, type LoadsInARow } from './heat-over-loads.ts';

/** One way in which heat and losses may be, within what is known of them. */
export interface HeatCase {
  readonly run: HeatRun;
  readonly paths: HeatPaths;
  /** While nothing runs. */
  readonly restPaths: HeatPaths;
}

export interface LoadHeatRange {
  /** Coldest and warmest that this load may find the bath; one value where it is cooled to the planned start first. */
  readonly startRangeK: readonly [number, number];
  /** Coldest and warmest at its end. null where the bath may leave what the tables cover. */
  readonly endRangeK: readonly [number, number] | null;
}

/**
 * Lowest and highest over the `cases` of where each of `loads` starts and ends: every case is run load after load, cooled
 * before the same loads as the best known bath, and rests in between by its own losses.
 * @param loads as `heatOverLoads` has them, with the best known values
 * @param row as there; its own `restPaths` is not looked at
 */
export function loadHeatRanges(
  loads: readonly LoadHeat[],
  cases: readonly HeatCase[],
  row: LoadsInARow,
): LoadHeatRange[] {
  const courses = cases.map((one) => courseOf(loads, one, row));
  return loads.map((load, index) => {
    const startsK = courses.map((course) => course[index]?.startK).filter((startK) => startK !== undefined);
    const endsK = courses.map((course) => course[index]?.endK);
    const known = endsK.filter((endK) => endK !== undefined);
    return {
      startRangeK: spanOf([load.startK, ...startsK]),
      endRangeK: known.length < endsK.length ? null : spanOf([load.endK, ...known]),
    };
  });
}

/** Up to the load at which the bath leaves the tables. */
function courseOf(
  loads: readonly LoadHeat[],
  { run, paths, restPaths }: HeatCase,
  { currentsA, pauseS }: LoadsInARow,
): { startK: number; endK: number }[] {
  const course: { startK: number; endK: number }[] = [];
  let foundK = run.startK;
  for (const [index, { cooling }] of loads.entries()) {
    const startK = cooling ? cooling.toK : foundK;
    const ran = heatBalance({ ...run, currentA: currentsA[index]!, startK, restS: 0 }, paths);
    if (!ran.ok) return course;
    const { endK } = ran.value;
    course.push({ startK, endK });
    const rested = atRest(run, restPaths, endK, pauseS);
    if (!rested.ok) return course;
    foundK = rested.value;
  }
  return course;
}

const spanOf = (values: readonly number[]): [number, number] => [Math.min(...values), Math.max(...values)];
