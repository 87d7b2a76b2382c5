import { timerText } from '../../core/units/timer-text.ts';

/** 1:05:09, 12:30, −0:45. */
export function clockText(ms: number): string {
  return `${ms < -500 ? '−' : ''}${timerText(Math.abs(ms) / 1000)}`;
}

/** A step's time beside its word: what is left, or over, bare; what has gone by where nothing says how long, with a plus. */
export const stepTimeText = (leftMs: number | null, goneMs: number): string =>
  leftMs === null ? `+${clockText(goneMs)}` : clockText(Math.abs(leftMs));

/** 14:05, in the user's own way of writing it. */
export function timeOfDay(ms: number): string {
  return new Date(ms).toLocaleTimeString(undefined, { hour: '2-digit', minute: '2-digit' });
}

/** 3 May 2026, 14:05. */
export function dayAndTime(ms: number): string {
  return new Date(ms).toLocaleString(undefined, {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
  });
}
