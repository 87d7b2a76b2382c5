import type { ContactWatch } from './contact-watch.ts';
import { plannedCurrentA } from './planned-current.ts';
import { createPowerAgain, type SaidPause } from './power-again.ts';
import type { Reading } from './readings.ts';
import { WATCH_LEVELS, type WatchEvent, type WatchKind, type WatchPlan } from './watch-event.ts';

/** The current has come on. */
const ON_SHARE = 0.04;
/** A ramp shorter than this is none. */
const SHORTEST_RAMP_S = 60;
/** A current that is all there before this share of the ramp has passed was not brought up as planned. */
const EARLY_SHARE = 0.5;
const ALL_THERE = 0.9;
/** Colder by so much than its limit a bath that was too warm may be called again. */
const COLD_AGAIN_K = 1;
/** A thermometer's last digit, and a little. */
const OVER_K = 0.15;

/** Takes with a reading the pauses that somebody has said so far. */
export interface BesidePlan extends ContactWatch {
  readonly add: (reading: Reading, pauses?: readonly SaidPause[]) => WatchEvent[];
}

/**
 * A watch that also holds each reading against the plan: a bath above its limit, each time that it gets there, and a current that was up
 * long before the ramp had brought it there, or at once after a pause. None needs statistics, so it goes for readings typed, read or
 * logged alike.
 */
export function watchBesidePlan(watch: ContactWatch, plan: WatchPlan): BesidePlan {
  const { rampS, bathLimitK } = plan;
  const plannedA = plannedCurrentA(plan);
  /** Each stands after so many of the watch's own. */
  const own: { readonly event: WatchEvent; readonly after: number }[] = [];
  let onS: number | undefined;
  const hasRamp = plan.mode === 'current' && rampS !== null && rampS >= SHORTEST_RAMP_S;
  let isRampSaid = !hasRamp;
  const again = createPowerAgain({ flowsA: ON_SHARE * plannedA, allThereA: ALL_THERE * plannedA });
  let isWarm = false;

  const judge = (reading: Reading, pauses: readonly SaidPause[]): WatchKind[] => {
    const { tS, currentA, bathTemperatureK: kelvin } = reading;
    const found: WatchKind[] = [];
    if (bathLimitK !== undefined && kelvin !== undefined) {
      if (!isWarm && kelvin > bathLimitK + OVER_K) found.push('bath-too-warm');
      if (kelvin > bathLimitK + OVER_K) isWarm = true;
      else if (kelvin < bathLimitK - COLD_AGAIN_K) isWarm = false;
    }
    if (currentA > ON_SHARE * plannedA) onS ??= tS;
    if (!isRampSaid && onS !== undefined) {
      // By the run's zero too: readings may begin when the ramp is over.
      const isOver = Math.max(tS, tS - onS) > EARLY_SHARE * rampS!;
      if (!isOver && currentA > ALL_THERE * plannedA) found.push('fast-ramp');
      isRampSaid = isOver || found.includes('fast-ramp');
    }
    const isEarly = again.isEarly(reading, pauses);
    if (isEarly && hasRamp && !found.includes('fast-ramp')) found.push('fast-again');
    return found;
  };

  return {
    add(reading, pauses = []) {
      const fresh = watch.add(reading);
      const after = watch.events().length;
      const { value, low, high } = watch.areaLeft();
      const said = judge(reading, pauses).map((kind): WatchEvent => ({
        atS: reading.tS,
        sinceS: reading.tS,
        kind,
        level: WATCH_LEVELS[kind],
        areaLeft: [low, high],
        likelyAreaLeft: value,
      }));
      own.push(...said.map((event) => ({ event, after })));
      return [...fresh, ...said];
    },
    events: () => {
      const theirs = watch.events();
      // A watch may take back what it said, so none stands after more than there are.
      const at = (place: number): WatchEvent[] =>
        own.flatMap(({ event, after }) => (Math.min(after, theirs.length) === place ? [event] : []));
      return own.length === 0
        ? theirs
        : [...theirs.flatMap((event, i) => [...at(i), event]), ...at(theirs.length)];
    },
    areaLeft: () => watch.areaLeft(),
  };
}
