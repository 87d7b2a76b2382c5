import { currentPath, type PathPiece } from './current-path.ts';
import { gapFinder } from './reading-gaps.ts';
import { checkReadings, type Readings } from './readings.ts';

export interface Gap {
  readonly fromS: number;
  readonly toS: number;
}

/** Charge and energy between two moments of a run. */
export interface Delivered {
  /** What the readings show; nothing is added for gaps. */
  readonly chargeC: number;
  /** With every step of the current as early, or as late, between two readings as takes most from it. */
  readonly lowChargeC: number;
  /** With every step as adds most, and the highest possible current through every gap. */
  readonly highChargeC: number;
  /** What of the high end is that of gaps, C. */
  readonly gapChargeC: number;
  /** ∫ V·I dt over what was read. */
  readonly energyJ: number;
  readonly gaps: readonly Gap[];
  readonly gapS: number;
}

export interface DeliveredOptions {
  /** Readings further apart than this say nothing about the time between them. Default: as `gapFinder` has it. */
  readonly gapAfterS?: number;
  /** The most the supply can give or is set to, A. Default: the highest current read. */
  readonly highestCurrentA?: number;
  readonly fromS?: number;
  readonly toS?: number;
  /** Moments at which somebody was told to set the current, and the next reading shows it set: it counts from there on. */
  readonly toldS?: readonly number[];
  /** Length of the planned ramp, in which the current rises evenly. */
  readonly rampS?: number;
}

/**
 * Trapezoid rule over the readings: exact for a current that changes linearly from one reading to the next. Where it stepped, nobody
 * knows when: the rule has the middle, and the range both ends. A gap adds
 * nothing to the charge; it widens the range, from nothing (power was off) to the highest current all through.
 * The part before the first and after the last reading counts as not run. Negative currents (a meter's offset) count
 * as they are. Charges of adjoining intervals add up when the joint is at a reading.
 */
export function deliveredCharge(readings: Readings, options: DeliveredOptions = {}): Delivered {
  return chargeAlong(chargePath(readings, options), {
    highestA: highestOf(readings, options),
    fromS: options.fromS ?? -Infinity,
    toS: options.toS ?? Infinity,
  });
}

/** What the charge is counted along, for several spans of the same readings. Throws as `deliveredCharge`. */
export function chargePath(readings: Readings, options: DeliveredOptions = {}): PathPiece[] {
  checkReadings(readings);
  const { tS } = readings;
  const { gapAfterS, toldS, rampS } = options;
  if (gapAfterS !== undefined && !(gapAfterS > 0))
    throw new RangeError(`deliveredCharge: gapAfterS is ${gapAfterS}`);
  const isGap =
    gapAfterS === undefined ? gapFinder(readings) : (i: number) => tS[i]! - tS[i - 1]! > gapAfterS;
  return currentPath(readings, { isGap, toldS, rampS });
}

/** What may have flowed through a gap, A. */
export function highestOf({ currentA }: Readings, { highestCurrentA }: DeliveredOptions): number {
  const highestA = highestCurrentA ?? currentA.reduce((most, value) => Math.max(most, value), 0);
  if (!(highestA >= 0)) throw new RangeError(`deliveredCharge: highestCurrentA is ${highestA}`);
  return highestA;
}

/** `deliveredCharge` along a path that is known. */
export function chargeAlong(
  path: readonly PathPiece[],
  { highestA, fromS, toS }: { readonly highestA: number; readonly fromS: number; readonly toS: number },
): Delivered {
  if (!(fromS <= toS)) throw new RangeError(`deliveredCharge: fromS is ${fromS}, after toS ${toS}`);
  let chargeC = 0;
  let lowChargeC = 0;
  let highChargeC = 0;
  let gapChargeC = 0;
  let energyJ = 0;
  let gapS = 0;
  const gaps: Gap[] = [];
  for (const piece of path) {
    const startS = Math.max(piece.fromS, fromS);
    const endS = Math.min(piece.toS, toS);
    const span = endS - startS;
    if (!(span > 0)) continue;
    if (piece.isGap) {
      gaps.push({ fromS: startS, toS: endS });
      gapS += span;
      gapChargeC += span * Math.max(highestA, ...piece.currentA);
      continue;
    }
    const whole = piece.toS - piece.fromS;
    const startPart = (startS - piece.fromS) / whole;
    const endPart = (endS - piece.fromS) / whole;
    const [fromA, toA] = piece.currentA;
    const [fromV, toV] = piece.voltageV;
    const i0 = fromA + (toA - fromA) * startPart;
    const i1 = fromA + (toA - fromA) * endPart;
    const v0 = fromV + (toV - fromV) * startPart;
    const v1 = fromV + (toV - fromV) * endPart;
    const pieceC = ((i0 + i1) / 2) * span;
    chargeC += pieceC;
    lowChargeC += piece.boundsA ? piece.boundsA[0] * span : pieceC;
    highChargeC += piece.boundsA ? piece.boundsA[1] * span : pieceC;
    // Both linear in time: the product is a parabola, whose integral this is exactly.
    energyJ += ((2 * v0 * i0 + 2 * v1 * i1 + v0 * i1 + v1 * i0) / 6) * span;
  }
  highChargeC += gapChargeC;
  return { chargeC, lowChargeC, highChargeC, gapChargeC, energyJ, gaps, gapS };
}
