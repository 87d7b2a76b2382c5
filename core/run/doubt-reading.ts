import { formatIn, formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { FLOWED_SHARE, isNoCurrent } from './no-current.ts';
import type { Reading } from './readings.ts';

/** Why a typed value looks wrong; it may be right all the same. */
export interface Doubt {
  readonly reason: string;
  /** What was perhaps meant, where that can be said. */
  readonly meant: Omit<Reading, 'tS'> | null;
}

export interface DoubtContext {
  readonly plannedA: number;
  /** null where not known. */
  readonly expectedVoltageV: number | null;
  readonly supplyVoltageLimitV: number | null;
  readonly supplyCurrentLimitA: number | null;
  /** The bath as planned, K. */
  readonly bathTemperatureK: number;
  /** The reading before; null for the first. */
  readonly last: { readonly voltageV: number; readonly currentA: number } | null;
  readonly system: UnitSystem;
}

/** A supply's display and its limit differ by so much (two percent; common of bench supplies). */
const METER = 1.02;
/** Nobody anodizes in sulfuric acid above these (hard coat ends near 100 V; handbooks, from memory). */
const MOST_V = 120;
const MOST_OF_PLAN = 3;
const USUAL_V = 15;
/** How much better the exchanged pair must fit, as a ratio of each. */
const SWAP = Math.log(2.5);
/** Exchanged it is the reading before, to three percent together, where as typed it is off by more than fifteen. */
const SAME = { offExchanged: Math.log(1.03), offTyped: Math.log(1.15) } as const;
/** A bath this far from its plan is a mistyped one, or a wrong unit. */
const BATH_OFF_K = 12;

/** The first thing that speaks against a typed reading; null where nothing does. */
export function doubtReading(reading: Omit<Reading, 'tS'>, context: DoubtContext): Doubt | null {
  const { voltageV, currentA, bathTemperatureK } = reading;
  const volts = formatIn('voltage', voltageV, 'V', 3).text;
  const amps = formatIn('current', currentA, 'A', 3).text;
  const meant = { ...reading, voltageV: currentA, currentA: voltageV };
  if (fitsExchanged(voltageV, currentA, context))
    return { reason: `${volts} and ${amps}: volts and amps look exchanged.`, meant };
  const { supplyVoltageLimitV: limitV, supplyCurrentLimitA: limitA, plannedA, last } = context;
  if (limitV !== null && voltageV > METER * limitV) {
    const gives = formatIn('voltage', limitV, 'V', 3).text;
    return { reason: `${volts} is more than the supply gives (${gives}).`, meant: null };
  }
  if (voltageV > MOST_V)
    return { reason: `${volts} is more than any bath of sulfuric acid takes.`, meant: null };
  if (last && last.currentA > FLOWED_SHARE * plannedA && isNoCurrent(currentA, plannedA)) {
    const before = formatIn('current', last.currentA, 'A', 3).text;
    return { reason: `${amps}: no current at all, where ${before} flowed before.`, meant: null };
  }
  if (limitA !== null && currentA > METER * limitA) {
    const gives = formatIn('current', limitA, 'A', 3).text;
    return { reason: `${amps} is more than the supply gives (${gives}).`, meant: null };
  }
  if (currentA > MOST_OF_PLAN * plannedA) {
    const planned = formatIn('current', plannedA, 'A', 3).text;
    return { reason: `${amps} is more than three times the plan’s ${planned}.`, meant: null };
  }
  if (bathTemperatureK !== undefined) return doubtBath(reading, bathTemperatureK, context);
  return null;
}

/** The bath’s temperature alone. */
export function doubtBath(
  reading: Omit<Reading, 'tS'>,
  bathTemperatureK: number,
  { bathTemperatureK: plannedK, system }: Pick<DoubtContext, 'bathTemperatureK' | 'system'>,
): Doubt | null {
  if (Math.abs(bathTemperatureK - plannedK) <= BATH_OFF_K) return null;
  const text = (kelvin: number): string => formatQuantity('temperature', kelvin, system, 3).text;
  // The number typed, read on the other scale.
  const celsius = bathTemperatureK - 273.15;
  const otherK = system === 'us' ? celsius * 1.8 + 32 + 273.15 : (celsius - 32) / 1.8 + 273.15;
  const isOther = Math.abs(otherK - plannedK) <= BATH_OFF_K / 2;
  const scale = system === 'us' ? '°C' : '°F';
  return {
    reason: `${text(bathTemperatureK)} is far from the plan’s ${text(plannedK)}${isOther ? `; is the thermometer in ${scale}?` : '.'}`,
    meant: isOther ? { ...reading, bathTemperatureK: otherK } : null,
  };
}

function fitsExchanged(voltageV: number, currentA: number, context: DoubtContext): boolean {
  if (!(voltageV > 0 && currentA > 0)) return false;
  const { last } = context;
  const like = last && last.voltageV > 0 && last.currentA > 0 ? last : null;
  const usualV = like?.voltageV ?? context.expectedVoltageV ?? USUAL_V;
  const usualA = like?.currentA ?? context.plannedA;
  const off = (volts: number, amps: number): number =>
    Math.abs(Math.log(volts / usualV)) + Math.abs(Math.log(amps / usualA));
  const typed = off(voltageV, currentA);
  const swapped = off(currentA, voltageV);
  if (like && swapped < SAME.offExchanged && typed > SAME.offTyped) return true;
  return typed - swapped > 2 * SWAP && swapped < SWAP;
}
