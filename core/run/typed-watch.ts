import type { ContactWatch } from './contact-watch.ts';
import type { AreaLeft } from './area-estimate.ts';
import type { Reading } from './readings.ts';
import { WATCH_LEVELS, type WatchEvent, type WatchKind, type WatchPlan } from './watch-event.ts';

/**
 * The contact watch for readings typed every few minutes: too few for statistics, so each is compared with the one before,
 * as one does at the tank. A conductance I / (V − E) that falls by a tenth and more between two readings is a lost contact;
 * growth and temperature do a few hundredths at most in that time. E, the part of the voltage that does not go with the area, is
 * not known: none of it to three quarters. It must be a loss for any E, and the range of the area left spans them.
 */
const SMALLEST_FALL = 0.1;
const E_SHARE = { low: 0, likely: 0.6, high: 0.75 } as const;
/** The start-up peak is over and the supply no longer ramps. */
const SETTLE_S = 90;
const USUAL_RAMP_S = 300;

export function createTypedWatch(plan: WatchPlan): ContactWatch {
  const plannedA = plan.areaM2 * plan.currentDensityAPerM2;
  if (!(plannedA > 0)) throw new RangeError(`createTypedWatch: planned current is ${plannedA}`);
  const events: WatchEvent[] = [];
  let left: AreaLeft = { value: 1, low: 1, high: 1 };
  let level: Reading | undefined;
  let last: Reading | undefined;

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

  const judge = (reading: Reading): WatchEvent | undefined => {
    const { tS, voltageV, currentA } = reading;
    const before = level;
    const from = last ?? reading;
    if (before && currentA < 0.05 * before.currentA) {
      level = undefined;
      if (voltageV <= 0.4 * before.voltageV) return say('supply-off', reading, from);
      left = { value: 0, low: 0, high: 0.05 };
      return say('contact-total', reading, from);
    }
    if (before && voltageV < Math.min(3, 0.3 * before.voltageV) && currentA > 0.5 * before.currentA) {
      return say('short', reading, from);
    }
    if (tS < (plan.rampS ?? USUAL_RAMP_S) + SETTLE_S || !(voltageV > 0) || !(currentA > 0)) return undefined;
    level = reading;
    if (!before) return undefined;
    const shares = [shareLeft(before, reading, E_SHARE.low), shareLeft(before, reading, E_SHARE.high)];
    // A current set lower by hand looks like a loss for one part E and like none for another.
    if (Math.max(...shares) > 1 - SMALLEST_FALL) return undefined;
    left = {
      value: left.value * shareLeft(before, reading, E_SHARE.likely),
      low: left.low * Math.min(...shares),
      high: left.high * Math.max(...shares),
    };
    return say('contact-lost', reading, before);
  };

  return {
    add(reading) {
      for (const name of ['tS', 'voltageV', 'currentA'] as const) {
        if (!Number.isFinite(reading[name])) throw new RangeError(`typed watch: ${name} is ${reading[name]}`);
      }
      const event = judge(reading);
      last = reading;
      return event ? [event] : [];
    },
    events: () => events,
    areaLeft: () => left,
  };
}
