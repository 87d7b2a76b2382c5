import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';

const STEP_M = 0.0005 * 25.4e-3;
const MOST_H = 10;

export interface TapLimit {
  /** "H5" */
  readonly name: string;
  /** Pitch diameter of the tap over the thread’s basic one, m. */
  readonly lowM: number;
  readonly highM: number;
  readonly source: Source;
}

/**
 * The smallest ground tap for inch threads to 1 in whose pitch diameter is surely this far over basic size: H1 lies between basic and
 * 0.0005 in over it, each further one 0.0005 in higher (ASME B94.9, as two open catalogues print it, H1 to H10). Fails with
 * `tap-not-held` beyond H10. Throws RangeError for a distance below 0.
 */
export function tapLimitOver(overM: number): Result<TapLimit> {
  if (!(overM >= 0)) throw new RangeError(`tapLimitOver: overM is ${overM}`);
  // A hundredth of a micrometre is no reason for the next size.
  const below = Math.max(0, Math.ceil((overM - 1e-8) / STEP_M));
  if (below >= MOST_H) {
    return failure(
      'tap-not-held',
      `Ground taps are listed to H${MOST_H}, ${MOST_H / 2} thousandths of an inch over basic size.`,
      'Have a tap ground to size, take a thinner film, or plug the thread.',
    );
  }
  return success({
    name: `H${below + 1}`,
    lowM: below * STEP_M,
    highM: (below + 1) * STEP_M,
    source: { standing: 'published', text: 'ASME B94.9 tap limits as open tool catalogues print them' },
  });
}
