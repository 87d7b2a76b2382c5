import type { TimeUnit } from './log-columns.ts';
import { plainNumber } from './plain-number.ts';
import { stopwatchSeconds } from './time-form.ts';

const DAY_S = 86_400;
/** Times so late count from 1970 and not from a run's start: 3 years and 3000 years. */
const EPOCH_S = 1e8;
const EPOCH_MS = 1e11;
const FACTOR = { ms: 0.001, s: 1, min: 60, h: 3600 } as const;

/** Turns the time column's cells into seconds, one after the other; undefined for what is no time in that unit. */
export function createLogClock(unit: TimeUnit): (text: string, decimalComma: boolean) => number | undefined {
  if (unit === 'min:s') return stopwatchSeconds;
  if (unit === 'clock') return createWallClock();
  let epoch: { readonly factor: number; readonly from: number } | undefined;
  return (text, decimalComma) => {
    const value = plainNumber(text, decimalComma);
    if (value === undefined) return undefined;
    epoch ??= {
      factor: unit === 's' && value >= EPOCH_MS ? FACTOR.ms : FACTOR[unit],
      from: value * FACTOR[unit] >= EPOCH_S ? value : 0,
    };
    return Number(((value - epoch.from) * epoch.factor).toPrecision(15));
  };
}

function createWallClock(): (text: string) => number | undefined {
  let first: number | undefined;
  let last = -Infinity;
  let days = 0;
  return (text) => {
    const moment = clockSeconds(text);
    if (moment === undefined) return undefined;
    if (!moment.dated && moment.seconds + days < last - DAY_S / 2) days += DAY_S;
    const seconds = moment.seconds + (moment.dated ? 0 : days);
    last = Math.max(last, seconds);
    // A first time within the first hour of no day is a stopwatch’s, not a clock’s.
    first ??= !moment.dated && seconds < 3600 ? 0 : seconds;
    return Number((seconds - first).toFixed(6));
  };
}

const TIME_OF_DAY =
  /(\d{1,3}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*([ap])?\.?m?\.?\s*(?:Z|[+-]\d{2}:?\d{2})?$/i;
const ISO_DATE = /^(\d{4})-(\d{2})-(\d{2})[T\s]/;

function clockSeconds(text: string): { seconds: number; dated: boolean } | undefined {
  const time = TIME_OF_DAY.exec(text.trim());
  if (!time) return undefined;
  const [, hours, minutes, seconds = '0', half] = time;
  if (Number(minutes) > 59 || Number(seconds.replace(',', '.')) >= 60) return undefined;
  let hour = Number(hours);
  if (half) {
    if (hour < 1 || hour > 12) return undefined;
    hour = (hour % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
  }
  const ofDay = hour * 3600 + Number(minutes) * 60 + Number(seconds.replace(',', '.'));
  const date = ISO_DATE.exec(text.trim());
  if (!date) return { seconds: ofDay, dated: false };
  const days = Date.UTC(Number(date[1]), Number(date[2]) - 1, Number(date[3])) / 1000;
  return Number.isFinite(days) ? { seconds: days + ofDay, dated: true } : undefined;
}
