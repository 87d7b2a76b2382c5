import type { Figure, FigureInput, Source } from '../figure/figure.ts';
import { askedAndDone, type AskedCurrent } from './asked-current.ts';
import { currentNow, type CurrentNow } from './current-now.ts';
import type { PathPiece } from './current-path.ts';
import {
  chargeAlong,
  chargePath,
  highestOf,
  type Delivered,
  type DeliveredOptions,
} from './delivered-charge.ts';
import { plannedCurrentA } from './planned-current.ts';
import { powerOffAt } from './power-off-at.ts';
import type { Readings } from './readings.ts';
import { wantedSinceS } from './wanted-since.ts';
import type { WatchEvent, WatchKind } from './watch-event.ts';

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

/** From here on this share of the area has contact; see liveSpans. Before the first span all of it has. */
export interface LiveSpan {
  readonly fromS: number;
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  /** All current goes through a short: no film. */
  readonly short?: boolean;
  /** What let go may have contact again, which is not known: the whole area is likely, the low end what had contact last. */
  readonly open?: boolean;
}

/** Of the wanted charge: a doubt worth a word. */
const WORTH_A_REMARK = 0.01;
const OWN_READINGS: Source = { standing: 'definition', text: 'trapezoid rule over the readings of this run' };

/** After these the part that let go may have been clamped anew. */
const OPENS: readonly WatchKind[] = ['supply-off', 'gap', 'contact-unsure'];

/**
 * What the contact watch has said, as spans. With the power off, or no readings, after a loss the part may have been clamped anew: from there on the
 * watch has the whole area as likely and what was left as the low end, until it can tell; the same for a loss
 * while the supply ramped, where a contact that comes back shows no step. While a short lasts its current
 * goes past the parts and makes no film (the volts are below what a film needs): nothing counts, from the first reading that
 * shows it to the first whose volts stand again.
 */
export function liveSpans(events: readonly WatchEvent[]): LiveSpan[] {
  const spans = events
    .filter(({ kind, areaLeft }) => kind.startsWith('contact') || (OPENS.includes(kind) && areaLeft[0] < 1))
    .map(({ kind, sinceS, areaLeft: [low, high], likelyAreaLeft, mayBeBack }): LiveSpan => ({
      fromS: sinceS,
      low,
      likely: mayBeBack ? 1 : likelyAreaLeft,
      high: mayBeBack ? 1 : high,
      ...(mayBeBack || OPENS.includes(kind) ? { open: true } : {}),
    }))
    .sort((a, b) => a.fromS - b.fromS);
  for (const { kind, sinceS, untilS = Infinity } of events) {
    if (kind !== 'short') continue;
    const after = spans.findLast(({ fromS, short }) => fromS <= untilS && !short) ?? WHOLE_AREA;
    const outside = spans.filter(({ fromS }) => fromS < sinceS || fromS > untilS);
    const back = untilS === Infinity ? [] : [{ ...after, fromS: untilS }];
    const shorted: LiveSpan = { fromS: sinceS, low: 0, likely: 0, high: 0, short: true };
    spans.splice(0, spans.length, ...outside, shorted, ...back);
    spans.sort((a, b) => a.fromS - b.fromS);
  }
  return spans;
}

const WHOLE_AREA: Omit<LiveSpan, 'fromS'> = { low: 1, likely: 1, high: 1 };

/** Below this share nothing worth a thickness is left. */
const SMALLEST_LIVE = 0.02;

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
  live.forEach((span, i) => {
    const ordered = 0 <= span.low && span.low <= span.likely && span.likely <= span.high && span.high <= 1;
    if (!ordered || (i > 0 && span.fromS < live[i - 1]!.fromS)) {
      throw new RangeError(
        `runProgress: live span ${i} is ${span.low}, ${span.likely}, ${span.high} from ${span.fromS} s`,
      );
    }
  });
  const { asked = [], ...between } = options;
  const toldS = askedAndDone(readings, asked).flatMap(({ doneFromS }) => doneFromS ?? []);
  const path = chargePath(readings, { rampS: plan.rampS, ...between, toldS });
  const { fromS = -Infinity, toS = Infinity } = options;
  const span = { highestA: highestOf(readings, options), fromS, toS };
  const delivered = chargeAlong(path, span);
  const onLive = live.length === 0 ? onWholeArea(delivered) : chargeOnLiveArea(path, span, live);
  const k = plan.chargePerVolumeCPerM3;
  const off = plan.chargeRelativeUncertainty;
  const perChargeM = 1 / (k * plan.areaM2);
  const remarks: string[] = [];
  if (delivered.gaps.length > 0) {
    const plural = delivered.gaps.length > 1 ? 's' : '';
    remarks.push(
      `${delivered.gaps.length} gap${plural} of ${Math.round(delivered.gapS)} s in all, counted as no current; the range has it all`,
    );
  }
  const wantedC = k * plan.thicknessM * plan.areaM2;
  const stepDoubtC = delivered.highChargeC - delivered.gapChargeC - delivered.lowChargeC;
  if (stepDoubtC > WORTH_A_REMARK * wantedC) {
    remarks.push('the current was set between two readings: the range has both ends');
  }
  const chargeMark = remarks.length === 0 ? {} : { unconfirmed: remarks.join('; ') };
  const short = live.filter((span) => span.short).length;
  if (short > 0) remarks.push('the current of a short makes no film and is not counted');
  if (live.findLast((span) => !span.short)?.open) {
    remarks.push(
      'what let go may have contact again: the film is that of the whole area, the high end that of the rest alone',
    );
  } else if (live.some((span) => span.low < 1 && !span.short)) {
    remarks.push('for the part that still has contact, as the contact watch has it');
  }
  const mark = remarks.length === 0 ? {} : { unconfirmed: remarks.join('; ') };
  const charge: FigureInput = {
    symbol: 'Q',
    label: 'charge',
    kind: 'charge',
    valueSi: delivered.chargeC,
    unit: 'A·h',
  };
  const constant: FigureInput = {
    symbol: 'k',
    label: 'charge constant',
    kind: 'chargePerVolume',
    valueSi: k,
  };
  const area: FigureInput = { symbol: 'A', label: 'coated area', kind: 'area', valueSi: plan.areaM2 };
  const chargeC: Figure = {
    label: 'Charge so far',
    kind: 'charge',
    valueSi: delivered.chargeC,
    lowSi: delivered.lowChargeC,
    highSi: delivered.highChargeC,
    unit: 'A·h',
    formula: 'Q = Σ ½ (Iᵢ + Iᵢ₊₁) (tᵢ₊₁ − tᵢ)',
    inputs: [
      { symbol: 'n', label: 'readings', kind: 'count', valueSi: readings.tS.length },
      ...toldS.map((atS, i): FigureInput => ({
        symbol: `t${i + 1}`,
        label: 'from here on the current as it was told to be set and then read',
        kind: 'time',
        valueSi: atS,
        unit: 'min',
      })),
    ],
    source: OWN_READINGS,
    ...chargeMark,
  };
  const thicknessM: Figure = {
    label: 'Film so far',
    kind: 'length',
    valueSi: onLive.likely * perChargeM,
    lowSi: (onLive.low * perChargeM) / (1 + off),
    highSi: (onLive.high * perChargeM) / (1 - off),
    unit: 'µm',
    formula: live.length > 0 ? 'd = Σ Qᵢ / (k · A · aᵢ), aᵢ share with contact' : 'd = Q / (k · A)',
    inputs: [
      charge,
      constant,
      area,
      ...live.map((span, i): FigureInput => ({
        symbol: `a${i + 1}`,
        label: `share with contact from ${Math.round(span.fromS)} s`,
        kind: 'fraction',
        valueSi: span.likely,
        unit: '%',
      })),
    ],
    source: plan.chargeSource,
    ...mark,
  };
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
    filmWithGapsM: onLive.withGaps * perChargeM,
    missingChargeC: Math.max(0, wantedC - onLive.likely) * share.likely,
    done,
    wantedSinceS: done
      ? (wantedSinceS(readings, wantedC, likelyShareAt(live), { toldS, rampS: plan.rampS }) ??
        readings.tS.at(-1) ??
        null)
      : null,
  };
}

function likelyShareAt(live: readonly LiveSpan[]): (tS: number) => number {
  return (tS) => {
    const { likely } = live.findLast(({ fromS }) => fromS <= tS) ?? WHOLE_AREA;
    return likely < SMALLEST_LIVE ? 0 : likely;
  };
}

/** Of a charge, or of a share of the area. */
export interface ChargeRange {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

interface ChargeOnLive extends ChargeRange {
  /** As likely, with all that may have flowed in gaps. */
  readonly withGaps: number;
}

/** All of it, with the whole area in contact. */
function onWholeArea({ chargeC, lowChargeC, highChargeC, gapChargeC }: Delivered): ChargeOnLive {
  return { low: lowChargeC, likely: chargeC, high: highChargeC, withGaps: chargeC + gapChargeC };
}

/** The charge that would have given the live part its film with the whole area in contact. */
function chargeOnLiveArea(
  path: readonly PathPiece[],
  { highestA, fromS: firstS, toS: lastS }: Parameters<typeof chargeAlong>[1],
  live: readonly LiveSpan[],
): ChargeOnLive {
  const edges = [-Infinity, ...live.map((span) => span.fromS), Infinity];
  const sum = { low: 0, likely: 0, high: 0, withGaps: 0 };
  for (let i = 0; i + 1 < edges.length; i++) {
    const fromS = Math.max(firstS, edges[i]!);
    const toS = Math.min(lastS, edges[i + 1]!);
    if (fromS > toS) continue;
    const part = chargeAlong(path, { highestA, fromS, toS });
    const span = live[i - 1] ?? WHOLE_AREA;
    if (span.likely < SMALLEST_LIVE) continue;
    sum.low += part.lowChargeC / span.high;
    sum.likely += part.chargeC / span.likely;
    sum.withGaps += (part.chargeC + part.gapChargeC) / span.likely;
    sum.high += part.highChargeC / Math.max(span.low, SMALLEST_LIVE);
  }
  return sum;
}
