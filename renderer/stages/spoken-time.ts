import { timerText } from '../../core/units/timer-text.ts';

/** 1:05:09, 12:30, −0:45. */
export function clockText(ms: number): string {
  return `${ms < -500 ? '−' : ''}${timerText(Math.abs(ms) / 1000)}`;
}

/** A step's time beside its word: what is left, or over, bare; what has gone by where nothing says how long, with a plus. */
export const stepTimeText = (leftMs: number | null, goneMs: number): string =>
  leftMs === null ? `+${clockText(goneMs)}` : clockText(Math.abs(leftMs));

/** 14:05, in the user's own way of writing it; with AM and PM no nought stands before the hour. */
export function timeOfDay(ms: number, locale?: string): string {
  return new Date(ms).toLocaleTimeString(locale, { hour: hourDigits(locale), minute: '2-digit' });
}

/** As timeOfDay; of another day than the one it is seen from, with that day's name. */
export function timeSeenFrom(ms: number, fromMs: number, locale?: string): string {
  const isSameDay = new Date(ms).toDateString() === new Date(fromMs).toDateString();
  const day = isSameDay ? '' : `${new Date(ms).toLocaleDateString(locale, { weekday: 'short' })} `;
  return `${day}${timeOfDay(ms, locale)}`;
}

function hourDigits(locale?: string): 'numeric' | '2-digit' {
  const { hour12 } = new Intl.DateTimeFormat(locale, { hour: 'numeric' }).resolvedOptions();
  return hour12 === true ? 'numeric' : '2-digit';
}

/** 3 May 2026, 14:05. */
export function dayAndTime(ms: number): string {
  return new Date(ms).toLocaleString(undefined, {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: hourDigits(),
    minute: '2-digit',
  });
}
