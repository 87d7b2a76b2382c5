import { plannedCurrentA } from './planned-current.ts';
import type { ContactWatch } from './contact-watch.ts';
import type { AreaLeft } from './area-estimate.ts';
import type { Reading } from './readings.ts';
import { isHardCoat } from './trace-signal.ts';
import {
  boundsLeft,
  E_SHARE,
  granted,
  maySpoil,
  mostLeft,
  mostLeftAtLast,
  shareLeft,
} from './typed-shares.ts';
import { isShort, shortBelowV } from './short-level.ts';
import { maybeWhole } from './whole-again.ts';
import { WATCH_LEVELS, type WatchEvent, type WatchKind, type WatchPlan } from './watch-event.ts';

/**
 * The contact watch for readings typed every few minutes: too few for statistics, so each is compared with the one before,
 * as one does at the tank. A conductance I / (V − E) that falls by a tenth and more between two readings is a lost contact, once all
 * that a sound run may do in that time is granted: the growing film's voltage, and a bath that has cooled, by what was read or by half a
 * degree (typed-shares.ts). Of a hard coat, whose film takes most of the voltage, little can be told so, and at a held voltage nothing:
 * that is said.
 *
 * One number misread, mistyped or spoiled looks like a lost contact, or makes the reading after it look like one. Where a single number may be
 * all there is to it, somebody is asked to read again, and the next reading tells. The very first reading has none before it that would bear it out:
 * what is held against it alone says so, since only who typed it knows whether it was wrong.
 *
 * A contact that lets go bit by bit falls by less than that from one reading to the next, so each is also held against the first
 * after the start (or after the last loss), with the same granted, but two degrees where the bath is not read. What falls by a sixth on
 * top of that, twice in a row, is a slow loss.
 */
const SMALLEST_FALL = 0.1;
/** What must be left of that against another reading. */
const SMALLEST_LEFT = 0.035;
const SMALLEST_SLOW_FALL = 0.15;
const UNREAD_COOLING_K = { sinceBase: 2, sinceLast: 0.5 } as const;
/** What the supply holds has not been set anew where two readings of it are within this share: twice what is read off a display, and more. */
const UNMOVED = 0.04;
/** Less is below the last digit of any meter, and no ratio of it tells anything. */
const LEAST_V = 1e-3;
const LEAST_SHARE = 1e-4;
/** A current that had come down to this share of the plan's anyway is not said to be gone. */
const LEAST_TO_BE_GONE = 0.02;
/** The start-up peak is over and the supply no longer ramps. */
export const SETTLE_S = 90;
/** Without a ramp the volts are still on their way up before. */
const BARRIER_S = 120;
/** From a reading before that to the first after it a sound run at a held current may lose less than this, and no loss is called from it alone. */
const SETTLING_FALL = 0.18;
const USUAL_RAMP_S = 300;

/** What changes nothing of what is known of the area. */
const LEAVES_ALL: readonly WatchKind[] = ['reading-doubtful', 'reading-was-off', 'loss-unseen'];

/** A reading that others are held against, and the charge up to it, C. */
interface Kept {
  readonly reading: Reading;
  readonly totalC: number;
}

export function createTypedWatch(plan: WatchPlan): ContactWatch {
  const plannedA = plannedCurrentA(plan);
  if (!(plannedA > 0)) throw new RangeError(`createTypedWatch: planned current is ${plannedA}`);
  const isHard = isHardCoat(plan);
  const isUntold = isHard && plan.mode === 'voltage';
  const events: WatchEvent[] = [];
  let left: AreaLeft = { value: 1, low: 1, high: 1 };
  let totalC = 0;
  let last: Reading | undefined;
  let level: Kept | undefined;
  /** The last at full current before the start-up peak is over; stands in for a level until there is one. */
  let settling: Kept | undefined;
  let earlier: Kept | undefined;
  /** The last reading may be off, or that little of the area is left; it is not kept. */
  let inDoubt: (Reading & { readonly lowLeft: number }) | undefined;
  /** What a slow loss is measured from. */
  let base: (Kept & { readonly left: AreaLeft }) | undefined;
  let wasSlow = false;
  let leftBeforeTotal = left;
  let openShort: { readonly event: number; readonly belowV: number } | undefined;

  const say = (
    kind: WatchKind,
    reading: Reading,
    since: Reading,
    share = left,
    isAlone = false,
  ): WatchEvent => {
    const event: WatchEvent = {
      atS: reading.tS,
      sinceS: since.tS,
      kind,
      level: WATCH_LEVELS[kind],
      areaLeft: [share.low, share.high],
      likelyAreaLeft: share.value,
      ...(isAlone ? { alone: true } : {}),
    };
    events.push(event);
    return event;
  };

  const liveM2 = (): number => plan.areaM2 * Math.max(left.value, 0.05);
  const grant = (from: Kept, to: Reading, unreadCoolingK: number): Reading =>
    granted(plan, liveM2(), { from: from.reading, to, sinceC: totalC - from.totalC, unreadCoolingK });
  // At a held current an ordinary film and bath take less of the voltage from one reading to the next than a loss that is called.
  const isSteady = plan.mode === 'current' && !isHard;
  const sound = (from: Kept, to: Reading): Reading =>
    isSteady ? to : grant(from, to, UNREAD_COOLING_K.sinceLast);
  const isFall = (from: Kept, to: Reading, smallest = SMALLEST_FALL): boolean =>
    mostLeft(from.reading, sound(from, to)) <= 1 - smallest;

  const isHeldAlike = (from: Kept, to: Reading): boolean => {
    const held = plan.mode === 'current' ? 'currentA' : 'voltageV';
    return Math.abs(to[held] / from.reading[held] - 1) <= UNMOVED;
  };

  /** The reading it is held against stands out, not this one: what the supply holds, and most of what comes of it, are as before that. */
  const wasOff = (from: Kept, reading: Reading, stands: boolean): boolean =>
    earlier
      ? isHeldAlike(earlier, reading) && isHalfBack(from.reading, reading, earlier.reading)
      : stands && !isHeldAlike(from, reading);

  const judgeSlowly = (reading: Reading): WatchEvent | undefined => {
    // A hard coat's film takes more than any loss would.
    if (!base || isHard) return undefined;
    const to = grant(base, reading, UNREAD_COOLING_K.sinceBase);
    const isSlow = mostLeftAtLast(base.reading, to, liveM2()) <= 1 - SMALLEST_SLOW_FALL;
    const stands = isSlow && wasSlow;
    wasSlow = isSlow;
    if (!stands) return undefined;
    const { reading: from, left: before } = base;
    const [low, high] = boundsLeft(from, to);
    left = {
      value: before.value * shareLeft(from, to, E_SHARE.likely),
      low: before.low * low,
      high: before.high * high,
    };
    return say('contact-drift', reading, from);
  };

  const callLoss = (from: Kept, reading: Reading, isAlone: boolean): WatchEvent => {
    const [low] = boundsLeft(from.reading, reading);
    const [, high] = boundsLeft(from.reading, sound(from, reading));
    // Some may have let go unsaid since the reading all began with.
    const sinceBase = base ? base.left.low * boundsLeft(base.reading, reading)[0] : 1;
    left = {
      value: left.value * shareLeft(from.reading, reading, E_SHARE.likely),
      low: Math.min(left.low * low, sinceBase),
      high: left.high * high,
    };
    return say('contact-lost', reading, from.reading, left, isAlone);
  };

  /** Against the last that is sure. */
  const judgeSteps = (from: Kept, reading: Reading): WatchEvent | undefined => {
    const doubted = inDoubt;
    inDoubt = undefined;
    // A current set lower by hand looks like a loss for one part E and like none for another.
    const isEarly = from === settling;
    const isAlone = earlier === undefined && left.value === 1;
    const isLoss = doubted
      ? stillLost(from, doubted, reading)
      : isFall(from, reading, isEarly ? SETTLING_FALL : SMALLEST_FALL);
    if (isLoss && !wasOff(from, reading, doubted !== undefined)) {
      if (doubted || (!isEarly && !maySpoil(from.reading, reading, (to) => isFall(from, to), isAlone)))
        return callLoss(from, reading, isAlone);
      const lowLeft = left.low * boundsLeft(from.reading, reading)[0];
      inDoubt = { ...reading, lowLeft };
      return say('reading-doubtful', reading, from.reading, { ...left, low: lowLeft }, isAlone);
    }
    return doubted
      ? say('reading-was-off', reading, from.reading)
      : isLoss
        ? undefined
        : judgeSlowly(reading);
  };

  /** What had fallen has not come back; the film goes on growing meanwhile. */
  const stillLost = (from: Kept, doubted: Reading, reading: Reading): boolean =>
    isFall(from, reading, SMALLEST_LEFT) && !isHalfBack(from.reading, doubted, from.reading, reading);

  const endShort = (untilS: number): void => {
    if (openShort) events[openShort.event] = { ...events[openShort.event]!, untilS };
    openShort = undefined;
  };

  const judge = (reading: Reading): WatchEvent | undefined => {
    const { tS, voltageV, currentA } = reading;
    const before = (level ?? settling)?.reading;
    const from = last ?? reading;
    if (openShort && voltageV >= openShort.belowV) endShort(tS);
    if (left.value === 0 && currentA > 0.05 * plannedA) {
      // Current flows again: through how much of the area two readings don't say.
      left = maybeWhole(leftBeforeTotal);
      return say('contact-back', reading, from);
    }
    if (before && currentA < 0.05 * before.currentA && before.currentA > LEAST_TO_BE_GONE * plannedA) {
      level = settling = undefined;
      if (voltageV <= 0.4 * before.voltageV) {
        // A new clamp may bring back what was lost; readings minutes apart never say so. What was in doubt is never told now.
        if (left.value < 1) left = maybeWhole(left);
        if (inDoubt) left = { ...left, low: Math.min(left.low, inDoubt.lowLeft) };
        return say('supply-off', reading, from);
      }
      leftBeforeTotal = left;
      left = { value: 0, low: 0, high: 0.05 };
      return say('contact-total', reading, from);
    }
    const rampS = plan.rampS ?? USUAL_RAMP_S;
    const isPastRamp = tS >= rampS + SETTLE_S;
    const fullA = before?.currentA ?? (isPastRamp ? plannedA : Infinity);
    const usual = { voltageV: before?.voltageV ?? Infinity, currentA: fullA };
    if (isShort(reading, usual)) {
      endShort(from.tS);
      openShort = { event: events.length, belowV: shortBelowV(usual.voltageV) };
      return say('short', reading, from);
    }
    const isRead = voltageV > LEAST_V && currentA > LEAST_SHARE * plannedA;
    if (!isPastRamp || !isRead) {
      // At a held voltage the current still falls from its peak, and a hard coat's film begins.
      const isFull = isRead && tS >= Math.max(rampS, BARRIER_S);
      if (isFull && isSteady && left.value === 1) settling = { reading, totalC };
      return undefined;
    }
    if (last && last.tS < rampS + SETTLE_S) level ??= settling;
    // Where only the last says that the supply holds something else, it was misread.
    const isMisread = level && earlier && isHeldAlike(earlier, reading) && !isHeldAlike(level, reading);
    const reference = isMisread ? earlier : level;
    const kept = { reading, totalC };
    const event = isUntold
      ? reference
        ? undefined
        : say('loss-unseen', reading, reading)
      : reference && judgeSteps(reference, reading);
    if (inDoubt) return event;
    earlier = level;
    level = kept;
    return event;
  };

  return {
    add(reading) {
      for (const name of ['tS', 'voltageV', 'currentA'] as const) {
        if (!Number.isFinite(reading[name])) throw new RangeError(`typed watch: ${name} is ${reading[name]}`);
      }
      if (last) totalC += passedC(last, reading);
      const event = judge(reading);
      const isNew = level?.reading === reading;
      if (event && !LEAVES_ALL.includes(event.kind)) {
        // Whatever was said, it begins anew from here.
        base = isNew ? { ...level!, left } : undefined;
        earlier = undefined;
        inDoubt = undefined;
        wasSlow = false;
      } else if (isNew) base ??= { ...level!, left };
      last = reading;
      return event ? [event] : [];
    },
    events: () => events,
    areaLeft: () => left,
  };
}

/** Whether the fall between the first two is less than half as large between the others; noise moves no E but none by so much. */
function isHalfBack(from: Reading, to: Reading, otherFrom: Reading, otherTo = to): boolean {
  const [share, other] = [shareLeft(from, to, E_SHARE.low), shareLeft(otherFrom, otherTo, E_SHARE.low)];
  return other > (1 + share) / 2;
}

/** Charge that passed from one reading to the next, C. */
const passedC = (from: Reading, to: Reading): number =>
  ((from.currentA + to.currentA) / 2) * Math.max(0, to.tS - from.tS);
