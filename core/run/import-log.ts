import { failure, success, type Result } from '../result.ts';
import { fromUnit, unitBySymbol } from '../units/find-unit.ts';
import { createLogClock } from './log-clock.ts';
import { guessLogColumns, type LogColumns, type TimeUnit } from './log-columns.ts';
import { extremes, logOutOfSense, readingOutOfSense, runsBackwards } from './log-sense.ts';
import { readLogTable, type LogFormat, type LogTable } from './log-table.ts';
import { plainNumber } from './plain-number.ts';
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
  /** What the times are in, where it is known; else the log itself must tell. */
  readonly timeUnit?: TimeUnit;
  /** Charge for the wanted film, C: what tells minutes and seconds from hours and minutes. */
  readonly wantedC?: number | null;
}

/** With more lines than this left out the columns are wrong, not the lines. */
const MOST_BAD_SHARE = 0.2;
const TIME_GOES_BACK = 'the time goes back';
const SIMULATED_MARK = /^\s*#\s*simulated\b/im;

/**
 * A logger's text as readings. Times stay as they are where they count from a start; clock times count from the
 * first reading, and over midnight; where they may be minutes and seconds as well it is never guessed (`log-time-unsure`). Lines that can't be read are left out and listed; too many of them, or no columns to be found, is a
 * failure that names the lines: `log-columns-unknown`, `log-bad-lines`, `log-no-readings`, or one of logOutOfSense's or
 * readLogTable's. Numbers of an epoch (seconds or milliseconds since 1970) count from the first reading too.
 */
export function importLog(text: string, options: ImportOptions = {}): Result<ImportedLog> {
  const table = readLogTable(text, options);
  if (!table.ok) return table;
  const guessed = options.columns ?? guessLogColumns(table.value, options.wantedC ?? null);
  const columns =
    guessed && options.timeUnit ? { ...guessed, time: { ...guessed.time, unit: options.timeUnit } } : guessed;
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
  const { unit: timeUnit } = columns.time;
  if (timeUnit === 'unsure') return timeUnsure(table.value, columns.time.column);
  const { list, problems } = readRows(table.value, columns, timeUnit);
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

/** The first time other than zero, both ways. */
function timeUnsure({ rows }: LogTable, column: number): Result<never> {
  const example = rows
    .map(({ cells }) => cells[column]!)
    .find((cell) => /[1-9]/.test(cell) && cell.includes(':'));
  const [first, second] = (example ?? '5:00').trim().split(':');
  return failure(
    'log-time-unsure',
    `The times can be min:s or h:min: “${first}:${second}” is ${Number(first)} min ${Number(second)} s or ${Number(first)} h ${Number(second)} min, and nothing in the log tells which.`,
    'Say which they are, or name the column time (mm:ss) or time (hh:mm).',
  );
}

function readRows(
  table: LogTable,
  columns: LogColumns,
  timeUnit: TimeUnit,
): { list: Reading[]; problems: LogProblem[] } {
  const problems: LogProblem[] = table.oddLines.map((line) => ({
    line,
    message: `not ${table.columns} columns`,
  }));
  const list: Reading[] = [];
  const lines: number[] = [];
  const clock = createLogClock(timeUnit);
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
