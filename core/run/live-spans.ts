import type { WatchEvent, WatchKind } from './watch-event.ts';

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

export const WHOLE_AREA: Omit<LiveSpan, 'fromS'> = { low: 1, likely: 1, high: 1 };

/** Below this share nothing worth a thickness is left. */
export const SMALLEST_LIVE = 0.02;

/** Throws RangeError for spans out of order, or with a range that is none. */
export function checkSpans(live: readonly LiveSpan[]): void {
  live.forEach((span, i) => {
    const ordered = 0 <= span.low && span.low <= span.likely && span.likely <= span.high && span.high <= 1;
    if (!ordered || (i > 0 && span.fromS < live[i - 1]!.fromS)) {
      throw new RangeError(
        `runProgress: live span ${i} is ${span.low}, ${span.likely}, ${span.high} from ${span.fromS} s`,
      );
    }
  });
}

/** The likely share at a moment; none where too little is left. */
export function likelyShareAt(live: readonly LiveSpan[]): (tS: number) => number {
  return (tS) => {
    const { likely } = live.findLast(({ fromS }) => fromS <= tS) ?? WHOLE_AREA;
    return likely < SMALLEST_LIVE ? 0 : likely;
  };
}
