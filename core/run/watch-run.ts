import { plannedCurrentA } from './planned-current.ts';
import { createContactWatch } from './contact-watch.ts';
import { isHardCoat } from './trace-signal.ts';
import { watchBesidePlan, type BesidePlan } from './beside-plan.ts';
import { liveSpans } from './live-spans.ts';
import { createPacedWatch, SELDOM_S } from './paced-watch.ts';
import type { SaidPause } from './power-again.ts';
import { runProgress, type ProgressPlan, type RunProgress } from './run-progress.ts';
import { readingAt, type ReadingOrigin, type Readings } from './readings.ts';
import { createTypedWatch } from './typed-watch.ts';
import type { AskedCurrent } from './asked-current.ts';
import { currentAskedForA, watchAdvice, type Advice } from './watch-advice.ts';
import type { WatchEvent, WatchPlan } from './watch-event.ts';

/** A run being watched: give it all readings again after a reload, then each as it comes. */
export interface RunWatch {
  readonly watch: BesidePlan;
  /** How many of the run's readings it has had. */
  readonly seen: number;
}

/** A watch's plan as a record has it. */
export type PlanToWatch = Omit<WatchPlan, 'learntVoltage' | 'bathLimitK'> & {
  readonly learntVoltage: WatchPlan['learntVoltage'] | null;
  readonly bathLimitK?: number | null;
};

/** Most of the readings come minutes apart. */
function readSeldom({ tS }: Readings): boolean {
  if (tS.length < 2) return false;
  const steps = Float64Array.from(tS.subarray(1), (later, i) => later - tS[i]!).sort();
  return steps[steps.length >> 1]! > SELDOM_S;
}

/** The watch for a log: each reading goes by its distance to the one before; where most come seldom all are held one against the other. */
export const logWatch = (plan: WatchPlan, readings: Readings): BesidePlan =>
  watchBesidePlan(readSeldom(readings) ? createTypedWatch(plan) : createPacedWatch(plan), plan);

/** Readings typed by hand come minutes apart and are watched in another way; a log as it comes. */
export function newRunWatch(
  planned: PlanToWatch,
  origin: ReadingOrigin | null,
  readings: Readings,
): RunWatch {
  const { learntVoltage, bathLimitK, ...rest } = planned;
  const plan: WatchPlan = {
    ...rest,
    ...(learntVoltage ? { learntVoltage } : {}),
    ...(bathLimitK ? { bathLimitK } : {}),
  };
  if (origin === 'log') return { watch: logWatch(plan, readings), seen: 0 };
  const watch = origin === 'typed' ? createTypedWatch(plan) : createContactWatch(plan);
  return { watch: watchBesidePlan(watch, plan), seen: 0 };
}

/**
 * @param untilS what was read later is not watched: past the hold a part that is lifted out is no lost contact
 * @param pauses of the run's timer; see power-again.ts
 */
export function feedRunWatch(
  run: RunWatch,
  readings: Readings,
  untilS = Infinity,
  pauses: readonly SaidPause[] = [],
): RunWatch {
  let { seen } = run;
  for (; seen < readings.tS.length && readings.tS[seen]! <= untilS; seen++)
    run.watch.add(readingAt(readings, seen), pauses);
  return { ...run, seen };
}

export interface WatchedRun {
  readonly progress: RunProgress;
  /** With the film at that moment, gaps counted as powered, and the bath; that null where it was not read. */
  readonly events: readonly (WatchEvent &
    Advice & { readonly filmM: number; readonly bathTemperatureK: number | null })[];
}

/** Film, end time and what was said, each with the advice that fits the film at that moment. */
export function watchedRun(
  readings: Readings,
  plan: PlanToWatch & ProgressPlan,
  events: readonly WatchEvent[],
): WatchedRun {
  const limitA = plan.supplyCurrentLimitA;
  const charge = limitA === null ? {} : { highestCurrentA: limitA };
  const plannedA = plannedCurrentA(plan);
  const asked: AskedCurrent[] = [];
  const said = events.map((event, i) => {
    const before = runProgress(readings, plan, { ...charge, toS: event.atS }, liveSpans(events.slice(0, i)));
    // Too thick a film lets no new contact through: what may have grown unread counts.
    const filmM = before.filmWithGapsM;
    const bathTemperatureK = bathAt(readings, event.atS);
    const stage = {
      mode: plan.mode,
      thicknessM: filmM,
      plannedA,
      bathTemperatureK,
      bathLimitK: plan.bathLimitK ?? null,
      isHardCoat: isHardCoat(plan),
    };
    const toA = currentAskedForA(event, stage);
    if (toA !== null) asked.push({ atS: event.atS, toA, stands: !events.some(isBackAfter(event)) });
    return { ...event, areaLeft: event.areaLeft, filmM, bathTemperatureK, ...watchAdvice(event, stage) };
  });
  return { progress: runProgress(readings, plan, { ...charge, asked }, liveSpans(events)), events: said };
}

/** A contact that is back takes back what was asked for. */
const isBackAfter =
  ({ atS }: WatchEvent) =>
  (later: WatchEvent): boolean =>
    later.kind === 'contact-back' && later.atS > atS;

/** The bath as it was read last by a moment, K; null where it was not. */
function bathAt({ tS, bathTemperatureK }: Readings, atS: number): number | null {
  for (let i = tS.length - 1; bathTemperatureK && i >= 0; i--) {
    const kelvin = bathTemperatureK[i]!;
    if (tS[i]! <= atS && !Number.isNaN(kelvin)) return kelvin;
  }
  return null;
}
