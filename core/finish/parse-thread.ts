import { unifiedThread, UNIFIED_SIZES } from '../reference/asme-b1-1.ts';
import { isoThread } from '../reference/iso-965.ts';
import type { ThreadLimits } from '../reference/thread-limits.ts';
import { failure, type Result } from '../result.ts';

const METRIC = /^M\s*(\d+(?:[.,]\d+)?)(?:\s*[x×*]\s*(\d+(?:[.,]\d+)?))?(?:\s*[-\s]\s*(6H|6g))?$/i;
const UNIFIED =
  /^(?:#|no\.?\s*)?\s*(\d+(?:\/\d+)?)(?:\s*(?:in|"))?\s*(?:-\s*(\d+))?\s*(UNC|UNF)?(?:\s*[-\s]\s*([23]?[AB]))?$/i;

/**
 * A thread as people write it, class or not: M6, M6x1, M8x1-6H, 1/4-20, 1/4-20 UNC, 1/4 UNC, #10-32 UNF-2B. `kind` gives the
 * class where none is written: 6H and 2B inside, 6g and 2A outside. Fails with `thread-not-read`, or as the
 * tables do.
 */
export function parseThread(text: string, kind: 'internal' | 'external'): Result<ThreadLimits> {
  const trimmed = text.trim();
  const metric = METRIC.exec(trimmed);
  if (metric) {
    const number = (part: string): number => Number(part.replace(',', '.'));
    const pitch = metric[2] === undefined ? null : number(metric[2]);
    return isoThread(number(metric[1]!), pitch, kind === 'internal' ? '6H' : '6g');
  }
  const unified = UNIFIED.exec(trimmed);
  if (unified && (unified[2] !== undefined || unified[3] !== undefined)) {
    const row = UNIFIED_SIZES.find(([size]) => size === unified[1]);
    const series = unified[3]?.toUpperCase();
    const perInch = unified[2] === undefined ? row?.[series === 'UNF' ? 3 : 2] : Number(unified[2]);
    const clash =
      row !== undefined &&
      ((series === 'UNC' && perInch !== row[2]) || (series === 'UNF' && perInch !== row[3]));
    if (perInch !== undefined && !clash) {
      return unifiedThread(unified[1]!, perInch, kind === 'internal' ? '2B' : '2A');
    }
  }
  return failure(
    'thread-not-read',
    `“${trimmed}” is not a thread that can be read.`,
    'Type a thread such as M6, M6x1, 1/4-20 UNC or #10-32, or give its diameter and pitch.',
  );
}
