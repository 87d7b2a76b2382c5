import { formatIn, formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { FLOWED_SHARE, isNoCurrent } from './no-current.ts';
import { mayBeSlip } from './typed-slip.ts';
import { isShort } from './short-level.ts';
import type { Reading } from './readings.ts';

/** Why a typed value looks wrong; it may be right all the same. */
export interface Doubt {
  readonly reason: string;
  /** What was perhaps meant, where that can be said. */
  readonly meant: Omit<Reading, 'tS'> | null;
  /** What to do before it is answered; absent where it is only to be answered. */
  readonly remedy?: string;
  /** If it is right somebody must act at once. */
  readonly isDanger?: true;
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
  /** That one was read past the ramp and its start-up peak; before, volts and amps go up and down by themselves. */
  readonly isLastSettled: boolean;
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
/** The other number is as it was within this share: nothing was set anew. */
const ALIKE = 0.04;
/** Conductance that rises by more from one reading to the next is no sound run's (measured on simulated ones; noise of 1 %). */
const MORE_CONTACT = 0.15;
/** Further than this off the watch takes a number as it is. */
const FAR = 0.4;
/** A bath this far from its plan is a mistyped one, or a wrong unit. */
const BATH_OFF_K = 12;

type Pair = Pick<Reading, 'voltageV' | 'currentA'>;

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
  const slip = last && doubtSlip({ voltageV, currentA }, last, context.isLastSettled);
  if (slip) return slip;
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

/**
 * A number far from the last one, the other being as it was, that one slip of a finger makes of it. More contact than there was is asked about from a
 * little on, since no sound run has it; less from where the watch no longer asks by itself (typed-watch.ts).
 */
function doubtSlip(typed: Pair, last: Pair, isSettled: boolean): Doubt | null {
  const [volts, amps] = [
    formatIn('voltage', typed.voltageV, 'V', 3),
    formatIn('current', typed.currentA, 'A', 3),
  ];
  const [wasV, wasA] = [
    formatIn('voltage', last.voltageV, 'V', 3),
    formatIn('current', last.currentA, 'A', 3),
  ];
  const [ofV, ofA] = [typed.voltageV / last.voltageV, typed.currentA / last.currentA];
  if (isShort(typed, last)) {
    if (!mayBeSlip(typed.voltageV, last.voltageV)) return null;
    return {
      reason: `${volts.text} at ${amps.text}, where ${wasV.text} stood: a short, or a digit is wrong.`,
      remedy:
        'Look at the supply now. If it shows this, the load touches the cathode: switch the power off at once. If not, change what is typed.',
      meant: null,
      isDanger: true,
    };
  }
  if (!isSettled) return null;
  const remedy = 'Look at the supply again: is this right?';
  if (Math.abs(ofA - 1) <= ALIKE && (ofV < 1 - MORE_CONTACT || ofV > 1 + FAR)) {
    if (!mayBeSlip(typed.voltageV, last.voltageV)) return null;
    const reason = `${volts.text} at ${amps.text}, where ${wasV.text} stood before: a digit may be wrong.`;
    return { reason, remedy, meant: null };
  }
  if (Math.abs(ofV - 1) <= ALIKE && (ofA > 1 + MORE_CONTACT || ofA < 1 - FAR)) {
    if (!mayBeSlip(typed.currentA, last.currentA)) return null;
    const reason = `${amps.text} at ${volts.text}, where ${wasA.text} flowed before: a digit may be wrong.`;
    return { reason, remedy, meant: null };
  }
  return null;
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
