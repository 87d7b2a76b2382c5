import { failure, type Result } from '../result.ts';
import type { Reading } from './readings.ts';
import { formatCount } from '../units/format-count.ts';

/**
 * Whether a log that could be read makes sense as the log of a run. Numbers that can't be a run's are found here rather than as a
 * senseless charge later on.
 */
const MOST_V = 1000;
const MOST_A = 1e5;
const LONGEST_RUN_S = 7 * 86_400;
/** A meter's offset at rest is no current the wrong way round. */
const OFFSET_SHARE = 0.02;

/** Why a reading can't be one of a bath; undefined where it can. */
export function readingOutOfSense({ voltageV, currentA }: Reading): string | undefined {
  if (Math.abs(voltageV) > MOST_V) return `no bath has ${voltageV.toPrecision(3)} V`;
  if (Math.abs(currentA) > MOST_A) return `no supply here gives ${currentA.toPrecision(3)} A`;
  return undefined;
}

/**
 * What is wrong with the readings as a whole, undefined where nothing is: `log-current-negative`, `log-voltage-negative`,
 * `log-no-span`, `log-too-long-run`. `list` has one reading at least.
 */
export function logOutOfSense(list: readonly Reading[]): Result<never> | undefined {
  for (const [name, word, meter] of [
    ['currentA', 'current', 'shunt or current sensor'],
    ['voltageV', 'voltage', 'voltmeter'],
  ] as const) {
    const { low, high } = extremes(list.map((reading) => reading[name]));
    if (low < 0 && -low > high) {
      return failure(
        `log-${word}-negative`,
        `The ${word} in this log is negative.`,
        `The ${meter} was read the wrong way round: swap its leads for the next run, and turn the sign of this column round in a spreadsheet.`,
      );
    }
  }
  const spanS = list.at(-1)!.tS - list[0]!.tS;
  if (!(spanS > 0)) {
    return failure(
      'log-no-span',
      list.length === 1 ? 'The log has one reading only.' : 'All readings of the log have the same time.',
      'A run needs two readings at least, at different times: export it again with its times.',
    );
  }
  if (spanS > LONGEST_RUN_S) {
    return failure(
      'log-too-long-run',
      `The log spans ${formatCount(Math.round(spanS / 86_400))} days, which no run does.`,
      'Say the unit of the times in the heading, such as t_ms or t_min, or export this run only.',
    );
  }
  return undefined;
}

/** True for a current so far below zero that it is no offset; the current's largest value says what is small. */
export function runsBackwards(currentA: number, mostA: number): boolean {
  return currentA < -OFFSET_SHARE * mostA;
}

export function extremes(values: readonly number[]): { readonly low: number; readonly high: number } {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return { low, high };
}
