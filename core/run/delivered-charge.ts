import { gapFinder } from './reading-gaps.ts';
import { checkReadings, type Readings } from './readings.ts';

export interface Gap {
  readonly fromS: number;
  readonly toS: number;
}

/** Charge and energy between two moments of a run. */
export interface Delivered {
  /** What the readings show; nothing is added for gaps. Equals `lowChargeC`. */
  readonly chargeC: number;
  readonly lowChargeC: number;
  /** With the highest possible current through every gap. */
  readonly highChargeC: number;
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
}

/**
 * Trapezoid rule over the readings: exact for a current that changes linearly from one reading to the next. A gap adds
 * nothing to the charge; it widens the range, from nothing (power was off) to the highest current all through.
 * The part before the first and after the last reading counts as not run. Negative currents (a meter's offset) count
 * as they are. Charges of adjoining intervals add up when the joint is at a reading.
 */
export function deliveredCharge(readings: Readings, options: DeliveredOptions = {}): Delivered {
  checkReadings(readings);
  const { tS, voltageV, currentA } = readings;
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
  let energyJ = 0;
  let gapS = 0;
  let gapChargeC = 0;
  const gaps: Gap[] = [];
  for (let i = 1; i < tS.length; i++) {
    const whole = tS[i]! - tS[i - 1]!;
    const startS = Math.max(tS[i - 1]!, fromS);
    const endS = Math.min(tS[i]!, toS);
    const span = endS - startS;
    if (!(span > 0)) continue;
    if (isGap(i)) {
      gaps.push({ fromS: startS, toS: endS });
      gapS += span;
      gapChargeC += span * Math.max(highestA, currentA[i - 1]!, currentA[i]!);
      continue;
    }
    const startPart = (startS - tS[i - 1]!) / whole;
    const endPart = (endS - tS[i - 1]!) / whole;
    const i0 = currentA[i - 1]! + (currentA[i]! - currentA[i - 1]!) * startPart;
    const i1 = currentA[i - 1]! + (currentA[i]! - currentA[i - 1]!) * endPart;
    const v0 = voltageV[i - 1]! + (voltageV[i]! - voltageV[i - 1]!) * startPart;
    const v1 = voltageV[i - 1]! + (voltageV[i]! - voltageV[i - 1]!) * endPart;
    chargeC += ((i0 + i1) / 2) * span;
    // Both linear in time: the product is a parabola, whose integral this is exactly.
    energyJ += ((2 * v0 * i0 + 2 * v1 * i1 + v0 * i1 + v1 * i0) / 6) * span;
  }
  return { chargeC, lowChargeC: chargeC, highChargeC: chargeC + gapChargeC, energyJ, gaps, gapS };
}
