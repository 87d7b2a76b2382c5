import { currentPath } from './current-path.ts';
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
  checkReadings(readings);
  const { tS, currentA } = readings;
  const { gapAfterS } = options;
  if (gapAfterS !== undefined && !(gapAfterS > 0))
    throw new RangeError(`deliveredCharge: gapAfterS is ${gapAfterS}`);
  const isGap =
    gapAfterS === undefined ? gapFinder(readings) : (i: number) => tS[i]! - tS[i - 1]! > gapAfterS;
  const fromS = options.fromS ?? -Infinity;
  const toS = options.toS ?? Infinity;
  if (!(fromS <= toS)) throw new RangeError(`deliveredCharge: fromS is ${fromS}, after toS ${toS}`);
  const highestA = options.highestCurrentA ?? currentA.reduce((most, value) => Math.max(most, value), 0);
  if (!(highestA >= 0)) throw new RangeError(`deliveredCharge: highestCurrentA is ${highestA}`);

  let chargeC = 0;
  let lowChargeC = 0;
  let highChargeC = 0;
  let gapChargeC = 0;
  let energyJ = 0;
  let gapS = 0;
  const gaps: Gap[] = [];
  for (const piece of currentPath(readings, { isGap, toldS: options.toldS, rampS: options.rampS })) {
    const whole = piece.toS - piece.fromS;
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
    const at = ([from, to]: readonly [number, number], momentS: number): number =>
      from + (to - from) * ((momentS - piece.fromS) / whole);
    const [i0, i1] = [at(piece.currentA, startS), at(piece.currentA, endS)];
    const [v0, v1] = [at(piece.voltageV, startS), at(piece.voltageV, endS)];
    const pieceC = ((i0 + i1) / 2) * span;
    chargeC += pieceC;
    const [lowA, highA] = piece.boundsA ?? [pieceC / span, pieceC / span];
    lowChargeC += lowA * span;
    highChargeC += highA * span;
    // Both linear in time: the product is a parabola, whose integral this is exactly.
    energyJ += ((2 * v0 * i0 + 2 * v1 * i1 + v0 * i1 + v1 * i0) / 6) * span;
  }
  highChargeC += gapChargeC;
  return { chargeC, lowChargeC, highChargeC, gapChargeC, energyJ, gaps, gapS };
}
