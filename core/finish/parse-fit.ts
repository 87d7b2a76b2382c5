import { isoLimits, type SizeLimits } from '../reference/iso-286.ts';
import type { ThreadLimits } from '../reference/thread-limits.ts';
import { failure, success, type Result } from '../result.ts';
import { limitsOf } from './parse-thread.ts';
import { splitThread, usualClass } from './split-thread.ts';

export type FitSide = 'internal' | 'external';

export type ParsedFit =
  | { readonly kind: 'size'; readonly limits: SizeLimits }
  | {
      readonly kind: 'thread';
      readonly limits: ThreadLimits;
      /** "2B", taken because none is written; null where one is. */
      readonly assumedClass: string | null;
    };

const SIZE = /^[⌀ø]?\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*([A-Za-z]{1,2})\s*(\d{1,2})$/;

/**
 * Reads a size with its tolerance class (10H7, 25 g6) or a thread (M6x1-6H, M8-6g, 1/4-20-2B, #10-32 UNF-2A, or M6 and
 * 1/4-20 without a class). Letters keep their case: H is a hole, h a shaft. Fails with `fit-not-read` and the tables'
 * failures.
 * @param side of the face it is for; a thread without a class is taken as an inside one where nobody says
 */
export function parseFit(text: string, side: FitSide = 'internal'): Result<ParsedFit> {
  const trimmed = text.trim();
  const size = SIZE.exec(trimmed);
  if (size) {
    const limits = isoLimits(Number(size[1]!.replace(',', '.')) / 1000, size[2]!, Number(size[3]));
    return limits.ok ? success({ kind: 'size', limits: limits.value }) : limits;
  }
  const thread = splitThread(trimmed);
  if (thread) {
    const assumedClass = thread.toleranceClass === null ? usualClass(thread.system, side) : null;
    const limits = limitsOf(thread, assumedClass ?? thread.toleranceClass!);
    return limits.ok ? success({ kind: 'thread', limits: limits.value, assumedClass }) : limits;
  }
  return failure(
    'fit-not-read',
    `“${trimmed}” is not a fit or thread that can be read.`,
    'Type a size such as 10H7 or 25g6, or a thread such as M6x1-6H or 1/4-20-2B.',
  );
}

/** What to say of a thread whose class was taken for granted; null where one is written. */
export function assumedClassText(fit: ParsedFit): string | null {
  if (fit.kind === 'size' || fit.assumedClass === null) return null;
  const inside = fit.limits.kind === 'internal';
  const other = { '6H': '6g', '6g': '6H', '2A': '2B', '2B': '2A' }[fit.assumedClass]!;
  return `No class is written, so ${fit.assumedClass} is taken, the usual one ${inside ? 'inside; for a bolt' : 'outside; for a hole'} write -${other}.`;
}
