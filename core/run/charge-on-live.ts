import type { PathPiece } from './current-path.ts';
import { chargeAlong, type Delivered } from './delivered-charge.ts';
import { SMALLEST_LIVE, WHOLE_AREA, type LiveSpan } from './live-spans.ts';

/** Of a charge, or of a share of the area. */
export interface ChargeRange {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

export interface ChargeOnLive extends ChargeRange {
  /** As likely, with all that may have flowed in gaps. */
  readonly withGaps: number;
}

/** The charge that would have given the live part its film with the whole area in contact; `delivered` is what the path has in the span. */
export const chargeOnLive = (
  path: readonly PathPiece[],
  span: Parameters<typeof chargeAlong>[1],
  delivered: Delivered,
  live: readonly LiveSpan[],
): ChargeOnLive => (live.length === 0 ? onWholeArea(delivered) : onLiveArea(path, span, live));

/** All of it, with the whole area in contact. */
function onWholeArea({ chargeC, lowChargeC, highChargeC, gapChargeC }: Delivered): ChargeOnLive {
  return { low: lowChargeC, likely: chargeC, high: highChargeC, withGaps: chargeC + gapChargeC };
}

function onLiveArea(
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
