import { deliveredCharge } from './delivered-charge.ts';
import type { Readings } from './readings.ts';
import type { WatchEvent } from './watch-event.ts';

/** What a finished run has to say to the shop's own figures; null where it was not read. SI. */
export interface RunFacts {
  readonly readings: number;
  readonly chargeC: number;
  readonly highChargeC: number;
  readonly energyJ: number;
  readonly gapS: number;
  /** From the first reading to the first without current after which none flowed any more, or to the last. */
  readonly durationS: number;
  /** Means over the steady middle of the hold. */
  readonly steadyVoltageV: number | null;
  readonly steadyCurrentA: number | null;
  readonly steadyTemperatureK: number | null;
  readonly firstTemperatureK: number | null;
  readonly lastTemperatureK: number | null;
  /** The watch saw area lost, a short or burning: area and voltage are not what was planned. */
  readonly troubled: boolean;
}

/** The steady part: from after the ramp and the start-up peak to shortly before the end, as shares of the rest. */
const STEADY = { from: 0.25, to: 0.95 } as const;
const FEWEST = 3;

/** Throws RangeError for readings out of order or rampS below zero. */
export function runFacts(readings: Readings, rampS: number, events: readonly WatchEvent[]): RunFacts {
  if (!(rampS >= 0)) throw new RangeError(`runFacts: rampS is ${rampS}`);
  const delivered = deliveredCharge(readings, { rampS });
  const { tS, voltageV, currentA, bathTemperatureK } = readings;
  const count = tS.length;
  const endS = count > 0 ? tS[lastOfPower(currentA)]! : 0;
  const holdS = Math.max(0, endS - rampS);
  const steady: number[] = [];
  for (let i = 0; i < count; i++) {
    if (tS[i]! >= rampS + STEADY.from * holdS && tS[i]! <= rampS + STEADY.to * holdS) steady.push(i);
  }
  const warm = bathTemperatureK
    ? Array.from(bathTemperatureK.keys()).filter((i) => !Number.isNaN(bathTemperatureK[i]))
    : [];
  const mean = (indices: readonly number[], column: Float64Array): number | null =>
    indices.length < FEWEST ? null : indices.reduce((sum, i) => sum + column[i]!, 0) / indices.length;
  return {
    readings: count,
    chargeC: delivered.chargeC,
    highChargeC: delivered.highChargeC,
    energyJ: delivered.energyJ,
    gapS: delivered.gapS,
    durationS: count > 0 ? endS - tS[0]! : 0,
    steadyVoltageV: mean(steady, voltageV),
    steadyCurrentA: mean(steady, currentA),
    steadyTemperatureK: bathTemperatureK
      ? mean(
          steady.filter((i) => !Number.isNaN(bathTemperatureK[i])),
          bathTemperatureK,
        )
      : null,
    firstTemperatureK: warm.length > 1 ? bathTemperatureK![warm[0]!]! : null,
    lastTemperatureK: warm.length > 1 ? bathTemperatureK![warm.at(-1)!]! : null,
    troubled: events.some(({ level }) => level === 'alarm'),
  };
}

/** A display that shows less than this share of the run's highest current shows none. */
const NO_CURRENT_SHARE = 0.02;

/** Index of the reading with which the power ended: what is read of a supply that is off does not make the run longer. */
function lastOfPower(currentA: Float64Array): number {
  const none = NO_CURRENT_SHARE * currentA.reduce((most, value) => Math.max(most, value), 0);
  const last = currentA.findLastIndex((value) => value > none);
  return last < 0 ? currentA.length - 1 : Math.min(last + 1, currentA.length - 1);
}
