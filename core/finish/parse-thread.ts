import { unifiedThread } from '../reference/asme-b1-1.ts';
import { isoThread } from '../reference/iso-965.ts';
import type { ThreadLimits } from '../reference/thread-limits.ts';
import { failure, type Result } from '../result.ts';
import { sideOfClass, splitThread, usualClass, type WrittenThread } from './split-thread.ts';

/** Limits of a written thread in a class of its tables. Fails with `thread-not-held`. */
export function limitsOf(thread: WrittenThread, toleranceClass: string): Result<ThreadLimits> {
  return thread.system === 'metric'
    ? isoThread(thread.diameterMm, thread.pitchMm, toleranceClass)
    : unifiedThread(thread.size, thread.perInch, toleranceClass);
}

/**
 * A thread whose surface is wanted, class or not: M6, M6x1, M8x1-6H, 1/4-20, 1/4-20 UNC, 1/4 UNC, #10-32 UNF-2B. `kind` is
 * the face's side and gives the class, 6H and 2B inside, 6g and 2A outside: another one of the same side has the same surface
 * within its range. A class of the other side is kept, so that it is seen not to fit. Fails with `thread-not-read`, or as
 * the tables do.
 */
export function parseThread(text: string, kind: 'internal' | 'external'): Result<ThreadLimits> {
  const thread = splitThread(text);
  if (thread) return limitsOf(thread, usualClass(thread.system, sideOfClass(thread) ?? kind));
  return failure(
    'thread-not-read',
    `“${text.trim()}” is not a thread that can be read.`,
    'Type a thread such as M6, M6x1, 1/4-20 UNC or #10-32, or give its diameter and pitch.',
  );
}
