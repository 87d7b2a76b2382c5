import { currentStepFinder } from './current-steps.ts';
import { gapFinder } from './reading-gaps.ts';
import type { Readings } from './readings.ts';

/** Current and voltage from one moment to the next, as straight lines. */
export interface PathPiece {
  readonly fromS: number;
  readonly toS: number;
  readonly currentA: readonly [from: number, to: number];
  readonly voltageV: readonly [from: number, to: number];
  /** Of the time between, nothing is known. */
  readonly isGap: boolean;
  /** The current may have been as low and as high as this all the time; equal to the line itself where it did not step. */
  readonly boundsA: readonly [low: number, high: number] | null;
}

export interface PathOptions {
  /** Whether the pause before reading `i` is a gap; as `gapFinder` has it where not said. */
  readonly isGap?: ((i: number) => boolean) | undefined;
  /** Moments at which somebody was told to set the current, seconds of the run. */
  readonly toldS?: readonly number[] | undefined;
  /** Until then a current that rises does so evenly: the planned ramp, which may be over a little later. 0 where not said. */
  readonly rampS?: number | undefined;
}

/** So long after its planned end a ramp may be over. */
const RAMP_LATE_S = 60;

/**
 * The current over time as the readings have it: straight from one to the next. Where it stepped between two, nobody knows when; the
 * line goes through the middle, unless somebody was told to set it just then: from there on it is what was read next.
 */
export function currentPath(
  readings: Readings,
  { isGap = gapFinder(readings), toldS = [], rampS = 0 }: PathOptions = {},
): PathPiece[] {
  const { tS, voltageV, currentA } = readings;
  const isStep = currentStepFinder(readings);
  const pieces: PathPiece[] = [];
  for (let i = 1; i < tS.length; i++) {
    const [fromS, toS] = [tS[i - 1]!, tS[i]!];
    const [i0, i1, v0, v1] = [currentA[i - 1]!, currentA[i]!, voltageV[i - 1]!, voltageV[i]!];
    const gap = isGap(i);
    const isRamp = i1 > i0 && fromS < rampS && toS <= rampS + RAMP_LATE_S;
    if (gap || isRamp || !isStep(i)) {
      pieces.push({ fromS, toS, currentA: [i0, i1], voltageV: [v0, v1], isGap: gap, boundsA: null });
      continue;
    }
    const stepS = toldS.find((told) => told >= fromS && told < toS);
    const bounds = [Math.min(i0, i1), Math.max(i0, i1)] as const;
    if (i1 > i0 && fromS < rampS) {
      // First read long after the ramp: it rose as planned and was held from then on, as likely as not.
      const rise = { currentA: [i0, i1], voltageV: [v0, v1], isGap: false, boundsA: bounds } as const;
      pieces.push({ ...rise, fromS, toS: rampS });
      pieces.push({ ...rise, fromS: rampS, toS, currentA: [i1, i1], voltageV: [v1, v1] });
      continue;
    }
    if (stepS === undefined) {
      pieces.push({ fromS, toS, currentA: [i0, i1], voltageV: [v0, v1], isGap: false, boundsA: bounds });
      continue;
    }
    // Before it was said nobody had set anything.
    const before = { currentA: [i0, i0], voltageV: [v0, v0], isGap: false, boundsA: null } as const;
    if (stepS > fromS) pieces.push({ ...before, fromS, toS: stepS });
    pieces.push({ fromS: stepS, toS, currentA: [i1, i1], voltageV: [v1, v1], isGap: false, boundsA: bounds });
  }
  return pieces;
}
