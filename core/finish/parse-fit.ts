import { unifiedThread } from '../reference/asme-b1-1.ts';
import { isoThread } from '../reference/iso-965.ts';
import { isoLimits, type SizeLimits } from '../reference/iso-286.ts';
import type { ThreadLimits } from '../reference/thread-limits.ts';
import { failure, success, type Result } from '../result.ts';

export type ParsedFit =
  | { readonly kind: 'size'; readonly limits: SizeLimits }
  | { readonly kind: 'thread'; readonly limits: ThreadLimits };

const SIZE = /^[⌀ø]?\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*([A-Za-z]{1,2})\s*(\d{1,2})$/;
const METRIC = /^M\s*(\d+(?:[.,]\d+)?)(?:\s*[x×*]\s*(\d+(?:[.,]\d+)?))?(?:\s*[-\s]\s*(6H|6g))$/;
const UNIFIED = /^#?\s*(\d+(?:\/\d+)?)\s*-\s*(\d+)(?:\s*(?:UNC|UNF))?\s*[-\s]\s*(2A|2B)$/i;

/**
 * Reads a size with its tolerance class (10H7, 25 g6) or a thread with its class (M6x1-6H, M8-6g, 1/4-20-2B,
 * #10-32 UNF-2A). Letters keep their case: H is a hole, h a shaft. Fails with `fit-not-read` and the tables' failures.
 */
export function parseFit(text: string): Result<ParsedFit> {
  const trimmed = text.trim();
  const number = (part: string): number => Number(part.replace(',', '.'));
  const metric = METRIC.exec(trimmed);
  if (metric) {
    const limits = isoThread(
      number(metric[1]!),
      metric[2] === undefined ? null : number(metric[2]),
      metric[3]!,
    );
    return limits.ok ? success({ kind: 'thread', limits: limits.value }) : limits;
  }
  const unified = UNIFIED.exec(trimmed);
  if (unified) {
    const limits = unifiedThread(unified[1]!, Number(unified[2]), unified[3]!.toUpperCase());
    return limits.ok ? success({ kind: 'thread', limits: limits.value }) : limits;
  }
  const size = SIZE.exec(trimmed);
  if (size) {
    const limits = isoLimits(number(size[1]!) / 1000, size[2]!, Number(size[3]));
    return limits.ok ? success({ kind: 'size', limits: limits.value }) : limits;
  }
  return failure(
    'fit-not-read',
    `“${trimmed}” is not a fit or thread that can be read.`,
    'Type a size such as 10H7 or 25g6, or a thread such as M6x1-6H or 1/4-20-2B.',
  );
}
