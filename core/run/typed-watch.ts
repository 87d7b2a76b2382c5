import { plannedCurrentA } from './planned-current.ts';
import type { ContactWatch } from './contact-watch.ts';
import type { AreaLeft } from './area-estimate.ts';
import { arrheniusFactor, DISSOLUTION_ACTIVATION_EV } from './oxide-cell.ts';
import type { Reading } from './readings.ts';
import { HARD_COAT_A_PER_M2, mostGrowthVPerM } from './trace-signal.ts';
import { maybeWhole } from './whole-again.ts';
import { WATCH_LEVELS, type WatchEvent, type WatchKind, type WatchPlan } from './watch-event.ts';

/**
 * The contact watch for readings typed every few minutes: too few for statistics, so each is compared with the one before,
 * as one does at the tank. A conductance I / (V − E) that falls by a tenth and more between two readings is a lost contact, once all
 * that a sound run may do in that time is granted: the growing film's voltage, and a bath that has cooled, by what was read or by half a
 * degree. E, the part of the voltage that does not go with the area, is not known: none of it to three quarters. It must be a loss for
 * any E, and the range of the area left spans them. Of a hard coat, whose film takes most of the voltage, little can be told so, and
 * nothing at a held voltage.
 *
 * A contact that lets go bit by bit falls by less than that from one reading to the next, so each is also held against the first
 * after the start (or after the last loss), with the same granted, but two degrees where the bath is not read. What falls by a sixth on
 * top of that is a slow loss.
 */
const SMALLEST_FALL = 0.1;
const SMALLEST_SLOW_FALL = 0.15;
const UNREAD_COOLING_K = { sinceBase: 2, sinceLast: 0.5 } as const;
const USUAL_BATH_K = 293.15;
/** What a voltage read off a display is off by, share (common practice). */
const READ_OFF = 0.01;
const E_SHARE = { low: 0, likely: 0.6, high: 0.75 } as const;
/** Less is below the last digit of any meter, and no ratio of it tells anything. */
const LEAST_V = 1e-3;
const LEAST_SHARE = 1e-4;
/** The start-up peak is over and the supply no longer ramps. */
const SETTLE_S = 90;
const USUAL_RAMP_S = 300;

export function createTypedWatch(plan: WatchPlan): ContactWatch {
  const plannedA = plannedCurrentA(plan);
  if (!(plannedA > 0)) throw new RangeError(`createTypedWatch: planned current is ${plannedA}`);
  const isHard = plan.currentDensityAPerM2 > HARD_COAT_A_PER_M2;
  const events: WatchEvent[] = [];
  let left: AreaLeft = { value: 1, low: 1, high: 1 };
  let level: Reading | undefined;
  let last: Reading | undefined;
  /** What a slow loss is measured from, and the charge that has passed since, C. */
  let base: { readonly reading: Reading; readonly left: AreaLeft } | undefined;
  let sinceBaseC = 0;
  let leftBeforeTotal = left;
  let openShort: { readonly event: number; readonly belowV: number } | undefined;

  const say = (kind: WatchKind, reading: Reading, since: Reading): WatchEvent => {
    const event: WatchEvent = {
      atS: reading.tS,
      sinceS: since.tS,
      kind,
      level: WATCH_LEVELS[kind],
      areaLeft: [left.low, left.high],
      likelyAreaLeft: left.value,
    };
    events.push(event);
    return event;
  };

  /** Share of the live area that is left when the readings go from one to the other. */
  const shareLeft = (from: Reading, to: Reading, eShare: number): number => {
    const e = Math.min(eShare * from.voltageV, 0.98 * to.voltageV);
    const before = from.currentA / (from.voltageV - e);
    const after = to.currentA / (to.voltageV - e);
    return Math.min(1, Math.max(0, after / before));
  };

  /** The least and the most that can be left when the readings go from one to the other, what is read being off by a little. */
  const boundsLeft = (from: Reading, to: Reading): readonly [low: number, high: number] => {
    const off = (reading: Reading, by: number): Reading => ({
      ...reading,
      voltageV: reading.voltageV * (1 + by),
    });
    const [more, less] = [off(to, READ_OFF), off(to, -READ_OFF)];
    const { low, high } = E_SHARE;
    return [
      Math.min(shareLeft(off(from, -READ_OFF), more, low), shareLeft(off(from, -READ_OFF), more, high)),
      Math.max(shareLeft(off(from, READ_OFF), less, low), shareLeft(off(from, READ_OFF), less, high)),
    ];
  };

  /** A reading as it would be without what film and cooling may have done in a sound run since an earlier one. */
  const granted = (from: Reading, to: Reading, sinceC: number, unreadCoolingK: number): Reading => {
    const filmM = sinceC / (plan.areaM2 * Math.max(left.value, 0.05) * plan.chargePerVolumeCPerM3);
    const fromK = from.bathTemperatureK ?? USUAL_BATH_K;
    const read = from.bathTemperatureK !== undefined && to.bathTemperatureK !== undefined;
    const toK = read ? to.bathTemperatureK! : fromK - unreadCoolingK;
    const slower = arrheniusFactor(DISSOLUTION_ACTIVATION_EV, toK, fromK);
    return {
      ...to,
      voltageV: Math.max(to.voltageV - mostGrowthVPerM(plan) * filmM, 0.05 * from.voltageV),
      currentA: to.currentA / slower,
    };
  };

  const judgeSlowly = (reading: Reading): WatchEvent | undefined => {
    // A hard coat's film takes more than any loss would.
    if (!base || isHard) return undefined;
    const { reading: from, left: before } = base;
    const to = granted(from, reading, sinceBaseC, UNREAD_COOLING_K.sinceBase);
    const shares = [shareLeft(from, to, E_SHARE.low), shareLeft(from, to, E_SHARE.high)];
    if (Math.max(...shares) > 1 - SMALLEST_SLOW_FALL) return undefined;
    const [low, high] = boundsLeft(from, to);
    left = {
      value: before.value * shareLeft(from, to, E_SHARE.likely),
      low: before.low * low,
      high: before.high * high,
    };
    return say('contact-drift', reading, from);
  };

  const endShort = (untilS: number): void => {
    if (openShort) events[openShort.event] = { ...events[openShort.event]!, untilS };
    openShort = undefined;
  };

  const judge = (reading: Reading): WatchEvent | undefined => {
    const { tS, voltageV, currentA } = reading;
    const before = level;
    const from = last ?? reading;
    if (openShort && voltageV >= openShort.belowV) endShort(tS);
    if (left.value === 0 && currentA > 0.05 * plannedA) {
      // Current flows again: through how much of the area two readings don't say.
      left = maybeWhole(leftBeforeTotal);
      return say('contact-back', reading, from);
    }
    if (before && currentA < 0.05 * before.currentA) {
      level = undefined;
      if (voltageV <= 0.4 * before.voltageV) {
        // A new clamp may bring back what was lost; readings minutes apart never say so.
        if (left.value < 1) left = maybeWhole(left);
        return say('supply-off', reading, from);
      }
      leftBeforeTotal = left;
      left = { value: 0, low: 0, high: 0.05 };
      return say('contact-total', reading, from);
    }
    if (before && voltageV < Math.min(3, 0.3 * before.voltageV) && currentA > 0.5 * before.currentA) {
      endShort(from.tS);
      openShort = { event: events.length, belowV: Math.min(3, 0.3 * before.voltageV) };
      return say('short', reading, from);
    }
    const isRead = voltageV > LEAST_V && currentA > LEAST_SHARE * plannedA;
    if (tS < (plan.rampS ?? USUAL_RAMP_S) + SETTLE_S || !isRead) return undefined;
    level = reading;
    base ??= { reading, left };
    // At a held voltage a hard coat's current falls by more than a loss would take of it.
    if (!before || (isHard && plan.mode === 'voltage')) return undefined;
    // At a held current an ordinary film and bath take less of the voltage from one reading to the next than a loss that is called.
    const isSteady = plan.mode === 'current' && !isHard;
    const sound = isSteady
      ? reading
      : granted(before, reading, passedC(before, reading), UNREAD_COOLING_K.sinceLast);
    const shares = [shareLeft(before, sound, E_SHARE.low), shareLeft(before, sound, E_SHARE.high)];
    // A current set lower by hand looks like a loss for one part E and like none for another.
    if (Math.max(...shares) > 1 - SMALLEST_FALL) return judgeSlowly(reading);
    const [low] = boundsLeft(before, reading);
    const [, high] = boundsLeft(before, sound);
    // Some may have let go unsaid since the reading all began with.
    const sinceBase = base ? base.left.low * boundsLeft(base.reading, reading)[0] : 1;
    left = {
      value: left.value * shareLeft(before, reading, E_SHARE.likely),
      low: Math.min(left.low * low, sinceBase),
      high: left.high * high,
    };
    return say('contact-lost', reading, before);
  };

  return {
    add(reading) {
      for (const name of ['tS', 'voltageV', 'currentA'] as const) {
        if (!Number.isFinite(reading[name])) throw new RangeError(`typed watch: ${name} is ${reading[name]}`);
      }
      if (last) sinceBaseC += passedC(last, reading);
      const event = judge(reading);
      if (event || base?.reading === reading) {
        sinceBaseC = 0;
        // Whatever was said, it begins anew from here.
        base = level === reading ? { reading, left } : undefined;
      }
      last = reading;
      return event ? [event] : [];
    },
    events: () => events,
    areaLeft: () => left,
  };
}

/** Charge that passed from one reading to the next, C. */
const passedC = (from: Reading, to: Reading): number =>
  ((from.currentA + to.currentA) / 2) * Math.max(0, to.tS - from.tS);
