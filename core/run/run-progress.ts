import type { Figure, Source } from '../figure/figure.ts';
import { askedAndDone, type AskedCurrent } from './asked-current.ts';
import { currentNow, type CurrentNow } from './current-now.ts';
import { chargeOnLive } from './charge-on-live.ts';
import {
  chargeAlong,
  chargePath,
  highestOf,
  type Delivered,
  type DeliveredOptions,
} from './delivered-charge.ts';
import { checkSpans, likelyShareAt, SMALLEST_LIVE, WHOLE_AREA, type LiveSpan } from './live-spans.ts';
import { plannedCurrentA } from './planned-current.ts';
import { powerOffAt } from './power-off-at.ts';
import { progressFigures } from './progress-figures.ts';
import type { Readings } from './readings.ts';
import { wantedSinceS } from './wanted-since.ts';

/**
 * How thick the film is by now and when the power can go off. Thickness follows from charge: d = ∫ I dt / (k · A), so a
 * low stretch or a slower ramp needs no rule of its own: the missing charge is simply still to come.
 */
export interface ProgressPlan {
  readonly areaM2: number;
  readonly thicknessM: number;
  readonly currentDensityAPerM2: number;
  readonly chargePerVolumeCPerM3: number;
  /** Share by which the charge constant may be off; 0.1 unless the shop's own runs say better. */
  readonly chargeRelativeUncertainty: number;
  readonly chargeSource: Source;
  readonly rampS: number;
}

export interface ProgressOptions extends Omit<DeliveredOptions, 'toldS'> {
  /** Currents that somebody was told to set, in the order they were said. */
  readonly asked?: readonly AskedCurrent[];
}

export interface RunProgress {
  readonly chargeC: Figure;
  readonly thicknessM: Figure;
  /** Seconds of the run; absent when no current flows that could finish it. */
  readonly endS: Figure | null;
  readonly delivered: Delivered;
  /** Film as it would be had the highest current flowed through every gap, m: what a new contact may have to get through. */
  readonly filmWithGapsM: number;
  /** Charge still to come, C; 0 when done. */
  readonly missingChargeC: number;
  readonly done: boolean;
  /** Since when the film has been as thick as wanted, seconds of the run; null while it is not. */
  readonly wantedSinceS: number | null;
  /** What the end is worked out with; null without readings. */
  readonly currentNow: CurrentNow | null;
}

/**
 * Film and end time of the part that still has contact: after a loss the current flows through less area, so its film
 * grows faster at a held current; what lost contact keeps the film it had then.
 * Throws RangeError for a plan without area, thickness, density or charge constant, and for spans out of order.
 */
export function runProgress(
  readings: Readings,
  plan: ProgressPlan,
  options: ProgressOptions = {},
  live: readonly LiveSpan[] = [],
): RunProgress {
  for (const name of ['areaM2', 'thicknessM', 'currentDensityAPerM2', 'chargePerVolumeCPerM3'] as const) {
    if (!(plan[name] > 0)) throw new RangeError(`runProgress: ${name} is ${plan[name]}`);
  }
  checkSpans(live);
  const { asked = [], ...between } = options;
  const toldS = askedAndDone(readings, asked).flatMap(({ doneFromS }) => doneFromS ?? []);
  const path = chargePath(readings, { rampS: plan.rampS, ...between, toldS });
  const { fromS = -Infinity, toS = Infinity } = options;
  const span = { highestA: highestOf(readings, options), fromS, toS };
  const delivered = chargeAlong(path, span);
  const onLive = chargeOnLive(path, span, delivered, live);
  const k = plan.chargePerVolumeCPerM3;
  const wantedC = k * plan.thicknessM * plan.areaM2;
  const { chargeC, thicknessM, mark } = progressFigures({
    plan,
    readings: readings.tS.length,
    delivered,
    live,
    onLive,
    wantedC,
    toldS,
  });
  const share = live.at(-1) ?? WHOLE_AREA;
  const done = onLive.likely >= wantedC;
  const now = currentNow(readings, { plannedA: plannedCurrentA(plan), rampS: plan.rampS }, asked);
  const nowS = readings.tS.at(-1);
  return {
    chargeC,
    thicknessM,
    currentNow: now ?? null,
    endS:
      share.likely < SMALLEST_LIVE || !now || nowS === undefined
        ? null
        : powerOffAt({ nowS, now, plan, onLive, wantedC, share, thickness: thicknessM, mark }),
    delivered,
    filmWithGapsM: onLive.withGaps / (k * plan.areaM2),
    missingChargeC: Math.max(0, wantedC - onLive.likely) * share.likely,
    done,
    wantedSinceS: done
      ? (wantedSinceS(readings, wantedC, likelyShareAt(live), { toldS, rampS: plan.rampS }) ??
        readings.tS.at(-1) ??
        null)
      : null,
  };
}
