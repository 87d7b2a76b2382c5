import { SHORTEST_GAP_S } from './reading-gaps.ts';
import type { Reading } from './readings.ts';
import { standingMarks, type StepClock } from './step-clock.ts';

/** A pause that somebody said, by the run's timer; seconds after power on. */
export interface SaidPause {
  readonly fromS: number;
  readonly toS: number;
}

/** Of the plan's current; see beside-plan.ts. */
export interface AgainLevels {
  readonly flowsA: number;
  readonly allThereA: number;
}

/**
 * Common practice: after a pause the current is brought up again over a minute or two, for the film there insulates, and the peak of
 * voltage can burn a contact. What is all there before half the shorter of the two was not.
 */
const AGAIN_S = 60;
const EARLY_SHARE = 0.5;

/**
 * Whether a reading shows all the current at once after a pause: said once for each time that the power came on again. A pause is what
 * readings without current span, or what somebody said and no reading with current contradicts; up to a minute it is none. When the
 * power came on again is known no better than by the last of these: of readings that come minutes apart nothing is told.
 */
export function createPowerAgain({ flowsA, allThereA }: AgainLevels): {
  readonly isEarly: (reading: Pick<Reading, 'tS' | 'currentA'>, pauses: readonly SaidPause[]) => boolean;
} {
  let flowedS: number | undefined;
  /** Readings without current since it flowed last. */
  let none: { readonly fromS: number; readonly toS: number } | undefined;
  /** The power may have come on again from here, and was not all there yet. */
  let againS: number | undefined;
  return {
    isEarly: ({ tS, currentA }, pauses) => {
      if (!(currentA > flowsA)) {
        if (flowedS !== undefined) none = { fromS: none?.fromS ?? tS, toS: tS };
        againS = undefined;
        return false;
      }
      const lastS = flowedS;
      if (lastS !== undefined) {
        const said = pauses.filter(({ fromS, toS }) => fromS >= lastS && toS <= tS);
        const off = [...(none ? [none] : []), ...said];
        const fromS = Math.min(...off.map((each) => each.fromS));
        const toS = Math.max(...off.map((each) => each.toS));
        if (toS - fromS > SHORTEST_GAP_S) againS = toS;
      }
      flowedS = tS;
      none = undefined;
      if (againS === undefined) return false;
      const isOver = tS - againS > EARLY_SHARE * AGAIN_S;
      const isEarly = !isOver && currentA > allThereA;
      if (isOver || isEarly) againS = undefined;
      return isEarly;
    },
  };
}

/** The timer's pauses that are over, seconds after `onMs`. */
export function saidPauses(clock: Pick<StepClock, 'marks'>, onMs: number | null): SaidPause[] {
  if (onMs === null) return [];
  const marks = standingMarks(clock);
  return marks.flatMap(({ kind, atMs }, i) => {
    const next = marks[i + 1];
    return kind === 'pause' && next ? [{ fromS: (atMs - onMs) / 1000, toS: (next.atMs - onMs) / 1000 }] : [];
  });
}
