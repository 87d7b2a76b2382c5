/** What a heading says of times with colons. */
export type HeadingForm = 'min:s' | 'h:min' | 'h:min:s';

const MINUTES_SECONDS = /(^|[^a-zäöü:])(m{1,2}|min)\]?\s?:\s?(s{1,2}|sec|sek)/i;
const HOURS_MINUTES = /(^|[^a-zäöü])(h{1,2}|std|hour|hours)\]?\s?:\s?(m{1,2}|min)\b/i;
const WITH_SECONDS = /:\s?(s{1,2}|sec|sek)/i;

/** “time (mm:ss)”, “Min:s”, “[h]:mm:ss”; undefined where it says nothing of the kind. */
export function headingForm(heading: string): HeadingForm | undefined {
  if (HOURS_MINUTES.test(heading)) return WITH_SECONDS.test(heading) ? 'h:min:s' : 'h:min';
  return MINUTES_SECONDS.test(heading) ? 'min:s' : undefined;
}

/** The time column of a log, and what else there is to tell by. */
export interface TimeColumn {
  readonly cells: readonly string[];
  readonly heading: string;
  /** The unit that the heading names, lower case; empty where it names none. */
  readonly unit: string;
  /** Current beside each cell, A; NaN where there is none. */
  readonly currentA: readonly number[];
  /** Charge for the wanted film, C; null where not known. */
  readonly wantedC: number | null;
}

const HOUR_S = 3600;
/** No run that begins at 0:00 lasts so long. */
const LONGEST_RUN_S = 12 * HOUR_S;
/** So many times the wanted charge no run has. */
const MOST_OF_WANTED = 4;
/** A clock's log over midnight is read at least so often, and goes over it between these hours. */
const AROUND_MIDNIGHT = { everyS: HOUR_S, fromH: 22, toH: 1 } as const;

/**
 * Times of two numbers and a colon are minutes and seconds, or hours and minutes: which, only where it is certain. By the heading; by
 * what hours and minutes can't be (24 and more, tenths of a second, a run of a day, a multiple of the wanted charge); by which of both goes back.
 * `clock` too where there are no such times, but dates, hours, minutes and seconds.
 */
export function timeForm(column: TimeColumn): 'min:s' | 'clock' | 'unsure' {
  const { cells, heading, unit, currentA, wantedC } = column;
  const said = headingForm(heading);
  if (said === 'min:s' || unit === 'min') return 'min:s';
  const times = cells.map(colonTime);
  if (said === 'h:min' || unit === 'h' || /clock|uhrzeit|time of day|date/i.test(heading)) return 'clock';
  const pairs = times.filter((time) => time?.isPair === true);
  // Days, morning and afternoon are a clock's.
  if (pairs.length === 0 || cells.some((cell) => /\d[-/.]\d+[-/.]\d|[ap]\.?m/i.test(cell))) return 'clock';
  if (pairs.some((time) => time!.first >= 24 || time!.hasTenths)) return 'min:s';
  const asMinutes = seconds(times, 'min:s');
  const asHours = seconds(times, 'clock');
  const [minutesBack, hoursBack] = [goesBack(asMinutes), goesBack(asHours)];
  if (hoursBack && !minutesBack) return 'min:s';
  if (minutesBack && !hoursBack) return 'clock';
  if (minutesBack) return passesMidnight(asHours) ? 'clock' : 'unsure';
  const first = asHours[0]!;
  // Three quarters of an hour in the afternoon are as well three quarters of a minute, late on a stopwatch.
  if (first >= HOUR_S) return 'unsure';
  const isTooLong = asHours.at(-1)! - first > LONGEST_RUN_S;
  const isTooMuch = wantedC !== null && chargeC(times, asHours, currentA) > MOST_OF_WANTED * wantedC;
  return isTooLong || isTooMuch ? 'min:s' : 'unsure';
}

interface ColonTime {
  /** Two numbers; else three. */
  readonly isPair: boolean;
  readonly first: number;
  readonly second: number;
  readonly third: number;
  readonly hasTenths: boolean;
}

function colonTime(text: string): ColonTime | undefined {
  const match = /^\s*(\d{1,4}):(\d{2}(?:[.,]\d+)?)(?::(\d{2}(?:[.,]\d+)?))?\s*$/.exec(text);
  if (!match) return undefined;
  const [, first, second, third] = match;
  return {
    isPair: third === undefined,
    first: Number(first),
    second: Number(second!.replace(',', '.')),
    third: Number((third ?? '0').replace(',', '.')),
    hasTenths: third === undefined && /[.,]/.test(second!),
  };
}

/**
 * Minutes and seconds, or hours, minutes and seconds, as a stopwatch shows them; undefined for anything else.
 */
export function stopwatchSeconds(text: string): number | undefined {
  const time = colonTime(text);
  if (!time || time.second >= 60 || time.third >= 60) return undefined;
  return time.isPair ? time.first * 60 + time.second : time.first * HOUR_S + time.second * 60 + time.third;
}

function seconds(times: readonly (ColonTime | undefined)[], form: 'min:s' | 'clock'): number[] {
  return times.flatMap((time) => {
    if (!time) return [];
    const { isPair, first, second, third } = time;
    return isPair && form === 'min:s' ? first * 60 + second : first * HOUR_S + second * 60 + third;
  });
}

const goesBack = (tS: readonly number[]): boolean => tS.some((each, i) => i > 0 && each < tS[i - 1]!);

/** Back once, from late in the evening to early in the morning, and read often. */
function passesMidnight(tS: readonly number[]): boolean {
  const backAt = tS.flatMap((each, i) => (i > 0 && each < tS[i - 1]! ? i : []));
  const steps = tS.slice(1).map((each, i) => (each - tS[i]! + 24 * HOUR_S) % (24 * HOUR_S));
  const [at] = backAt;
  return (
    backAt.length === 1 &&
    at !== undefined &&
    tS[at - 1]! >= AROUND_MIDNIGHT.fromH * HOUR_S &&
    tS[at]! < AROUND_MIDNIGHT.toH * HOUR_S &&
    steps.every((step) => step <= AROUND_MIDNIGHT.everyS) &&
    steps.reduce((sum, step) => sum + step, 0) <= LONGEST_RUN_S
  );
}

/** Charge of the rows with a time and a current. */
function chargeC(
  times: readonly (ColonTime | undefined)[],
  tS: readonly number[],
  currentA: readonly number[],
): number {
  const amps = currentA.filter((_, i) => times[i] !== undefined);
  let sumC = 0;
  let last = -1;
  tS.forEach((each, i) => {
    if (!Number.isFinite(amps[i])) return;
    if (last >= 0) sumC += ((amps[last]! + amps[i]!) / 2) * Math.max(0, each - tS[last]!);
    last = i;
  });
  return sumC;
}
