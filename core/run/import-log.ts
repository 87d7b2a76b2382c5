import { failure, success, type Result } from '../result.ts';
import { fromUnit, unitBySymbol } from '../units/find-unit.ts';
import { guessLogColumns, type LogColumns, type TimeUnit } from './log-columns.ts';
import { extremes, logOutOfSense, readingOutOfSense, runsBackwards } from './log-sense.ts';
import { readLogTable, type LogFormat, type LogTable } from './log-table.ts';
import { readingsFrom, type Reading, type Readings } from './readings.ts';

export interface LogProblem {
  readonly line: number;
  readonly message: string;
}

export interface ImportedLog {
  readonly readings: Readings;
  readonly table: LogTable;
  readonly columns: LogColumns;
  /** Lines left out, and why; each is a gap in the readings at most. */
  readonly problems: readonly LogProblem[];
}

export interface ImportOptions extends LogFormat {
  readonly columns?: LogColumns;
}

/** With more lines than this left out the columns are wrong, not the lines. */
const MOST_BAD_SHARE = 0.2;
const DAY_S = 86_400;
const TIME_GOES_BACK = 'the time goes back';
const SIMULATED_MARK = /^\s*#\s*simulated\b/im;

/**
 * A logger's text as readings. Times stay as they are where they count from a start; clock times count from the
 * first reading, and over midnight. Lines that can't be read are left out and listed; too many of them, or no columns to be found, is a
 * failure that names the lines: `log-columns-unknown`, `log-bad-lines`, `log-no-readings`, or one of logOutOfSense's or
 * readLogTable's. Numbers of an epoch (seconds or milliseconds since 1970) count from the first reading too.
 */
export function importLog(text: string, options: ImportOptions = {}): Result<ImportedLog> {
  const table = readLogTable(text, options);
  if (!table.ok) return table;
  const columns = options.columns ?? guessLogColumns(table.value);
  if (!columns) {
    const names = table.value.header ? `: ${table.value.header.join(', ')}` : '';
    return failure(
      'log-columns-unknown',
      `It can’t be told which columns are time, volts and amps${names}.`,
      'Choose the columns, or name them t_s, volt and amp in the first line.',
    );
  }
  const chosen = [
    columns.time,
    columns.voltage,
    columns.current,
    ...(columns.temperature ? [columns.temperature] : []),
  ];
  const beyond = chosen.find(({ column }) => !(column >= 0 && column < table.value.columns));
  if (beyond) {
    return failure(
      'log-columns-unknown',
      `The log has ${table.value.columns} columns; there is no column ${beyond.column + 1}.`,
      'Choose another column.',
    );
  }
  const { list, problems } = readRows(table.value, columns);
  const bad = problems.length;
  if (bad > 0 && bad > MOST_BAD_SHARE * (bad + list.length)) {
    const shown = problems
      .slice(0, 3)
      .map(({ line, message }) => `line ${line}: ${message}`)
      .join('; ');
    const back = problems.filter(({ message }) => message.startsWith(TIME_GOES_BACK)).length;
    return failure(
      'log-bad-lines',
      `${bad} of ${bad + list.length} lines can’t be read (${shown}).`,
      back > bad / 2
        ? 'Sort the log by its time, the oldest reading first; if it holds two runs, cut it in two.'
        : 'Check which columns are chosen, their units and the decimal mark.',
    );
  }
  if (list.length === 0) {
    return failure('log-no-readings', 'The log has no readings.', 'Export it again, with its numbers.');
  }
  const senseless = logOutOfSense(list);
  if (senseless) return senseless;
  const origin = SIMULATED_MARK.test(text) ? 'simulated' : 'log';
  return success({ readings: readingsFrom(list, origin), table: table.value, columns, problems });
}

function readRows(table: LogTable, columns: LogColumns): { list: Reading[]; problems: LogProblem[] } {
  const problems: LogProblem[] = table.oddLines.map((line) => ({
    line,
    message: `not ${table.columns} columns`,
  }));
  const list: Reading[] = [];
  const lines: number[] = [];
  const clock = createClock(columns.time.unit);
  for (const { line, cells } of table.rows) {
    const tS = clock(cells[columns.time.column]!, table.decimalComma);
    if (tS === undefined) {
      problems.push({ line, message: `“${short(cells[columns.time.column]!)}” is not a time` });
      continue;
    }
    const numbers = (['voltage', 'current'] as const).map((role) => ({
      role,
      text: cells[columns[role].column]!,
      value: quantity(role, cells[columns[role].column]!, columns[role].unit, table.decimalComma),
    }));
    const wrong = numbers.find(({ value }) => value === undefined);
    if (wrong) {
      problems.push({ line, message: `“${short(wrong.text)}” is not a ${wrong.role}` });
      continue;
    }
    const last = list.at(-1);
    if (last && tS < last.tS) {
      problems.push({ line, message: `${TIME_GOES_BACK}, from ${last.tS} s to ${tS} s` });
      continue;
    }
    const warm = columns.temperature
      ? quantity(
          'temperature',
          cells[columns.temperature.column]!,
          columns.temperature.unit,
          table.decimalComma,
        )
      : undefined;
    const reading: Reading = {
      tS,
      voltageV: numbers[0]!.value!,
      currentA: numbers[1]!.value!,
      ...(warm === undefined ? {} : { bathTemperatureK: warm }),
    };
    const senseless = readingOutOfSense(reading);
    if (senseless) problems.push({ line, message: senseless });
    else {
      list.push(reading);
      lines.push(line);
    }
  }
  // One reading against the run's direction is the meter's fault; a whole log of them is told as such.
  const { low, high } = extremes(list.map(({ currentA }) => currentA));
  const forward = list.filter(({ currentA }, i) => {
    const backwards = -low <= high && runsBackwards(currentA, high);
    if (backwards) problems.push({ line: lines[i]!, message: 'the current is negative' });
    return !backwards;
  });
  problems.sort((a, b) => a.line - b.line);
  return { list: forward, problems };
}

const short = (text: string): string => (text.length > 24 ? `${text.slice(0, 24)}…` : text);

function plainNumber(text: string, decimalComma: boolean): number | undefined {
  const point = decimalComma ? text.replace(',', '.') : text;
  if (!/^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?$/.test(point)) return undefined;
  const value = Number(point);
  return Number.isFinite(value) ? value : undefined;
}

/** A unit glued to the number, as some loggers write it, is passed over when it is the column's. */
function quantity(
  kind: 'voltage' | 'current' | 'temperature',
  text: string,
  unitSymbol: string,
  decimalComma: boolean,
): number | undefined {
  const unit = unitBySymbol(kind, unitSymbol);
  const bare = text.endsWith(unitSymbol) ? text.slice(0, -unitSymbol.length).trim() : text;
  const value = plainNumber(bare, decimalComma);
  // Back to the decimal number meant: 20.3 °C is 293.45 K, not 293.45000000000005.
  return value === undefined ? undefined : Number(fromUnit(value, unit).toPrecision(12));
}

/** Times so late count from 1970 and not from a run's start: 3 years and 3000 years. */
const EPOCH_S = 1e8;
const EPOCH_MS = 1e11;
const FACTOR = { ms: 0.001, s: 1, min: 60, h: 3600 } as const;

/** Turns the time column's cells into seconds, one after the other. */
function createClock(unit: TimeUnit): (text: string, decimalComma: boolean) => number | undefined {
  if (unit !== 'clock') {
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
