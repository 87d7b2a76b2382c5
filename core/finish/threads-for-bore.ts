import { UNIFIED_SIZES, unifiedThread } from '../reference/asme-b1-1.ts';
import { ISO_261, isoThread } from '../reference/iso-965.ts';
import type { ThreadLimits } from '../reference/thread-limits.ts';

/** Models draw a tapped hole as its core or tap drill: either may be this far outside the core’s limits. */
const SLACK_M = 0.02e-3;

/**
 * Of the thread's diameter: a nut is 0.8 of it high, and plates are tapped down to a little less (common practice). What is
 * shallower is a counterbore or a seat.
 */
const LEAST_LENGTH = 0.7;

/**
 * Inner threads that a plain bore may stand for: those whose core (minor diameter) it fits and that it is long enough
 * for, closest first. Only a guess to offer: the drawing decides.
 */
export function threadsForBore(diameterM: number, lengthM: number): ThreadLimits[] {
  if (!(diameterM > 0)) throw new RangeError(`threadsForBore: diameterM is ${diameterM}`);
  if (!(lengthM > 0)) throw new RangeError(`threadsForBore: lengthM is ${lengthM}`);
  const candidates = [
    ...ISO_261.flatMap(([diameter, coarse, fine]) =>
      [coarse, ...fine].map((pitch) => isoThread(diameter, pitch, '6H')),
    ),
    ...UNIFIED_SIZES.flatMap(([size, , coarse, fine]) =>
      [coarse, fine].map((tpi) => unifiedThread(size, tpi, '2B')),
    ),
  ];
  const middle = (limits: ThreadLimits): number =>
    (limits.minorDiameter.lowM! + limits.minorDiameter.highM!) / 2;
  return candidates
    .flatMap((result) => (result.ok ? [result.value] : []))
    .filter(
      ({ minorDiameter: { lowM, highM }, nominalM }) =>
        diameterM >= lowM! - SLACK_M && diameterM <= highM! + SLACK_M && lengthM >= LEAST_LENGTH * nominalM,
    )
    .sort((x, y) => Math.abs(middle(x) - diameterM) - Math.abs(middle(y) - diameterM));
}
