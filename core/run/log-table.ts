import { failure, success, type Result } from '../result.ts';

export interface LogRow {
  /** Line in the file, from 1. */
  readonly line: number;
  readonly cells: readonly string[];
}

export interface LogTable {
  readonly delimiter: string;
  readonly decimalComma: boolean;
  /** Column names, or null where the file has none. */
  readonly header: readonly string[] | null;
  readonly columns: number;
  readonly rows: readonly LogRow[];
  /** Lines with another number of cells than the rest. */
  readonly oddLines: readonly number[];
}

export interface LogFormat {
  readonly delimiter?: string;
  readonly decimalComma?: boolean;
}

/** In the order they win where a file reads equally well with two. */
const DELIMITERS = ['\t', ';', ',', '|', ' '] as const;
const LOOK_AT = 50;
const LONGEST_LINE = 10_000;
const MOST_LINES = 2_000_000;
const NUMBER = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?$/;

/**
 * Splits a logger's text file into rows and finds its delimiter, decimal mark and header by itself; `format` overrules it.
 * Lines of remarks (#, //) and a logger's preamble above the header are passed over. Failures: `log-empty`,
 * `log-no-columns`, `log-too-long`, `log-not-text`.
 */
export function readLogTable(text: string, format: LogFormat = {}): Result<LogTable> {
  if (text.includes('\0')) {
    return failure(
      'log-not-text',
      'This is not a text file, or one in UTF-16.',
      'Export or save the log as CSV in UTF-8.',
    );
  }
  const lines = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\n|\r/)
    .map((content, index) => ({ line: index + 1, content }))
    .filter(({ content }) => content.trim() !== '' && !/^\s*(#|\/\/)/.test(content));
  if (lines.length === 0) return failure('log-empty', 'The log is empty.', 'Export it again.');
  if (lines.length > MOST_LINES) {
    return failure(
      'log-too-long',
      'The log has more than two million lines.',
      'Export the time of this run only.',
    );
  }
  const long = lines.find(({ content }) => content.length > LONGEST_LINE);
  if (long) {
    return failure(
      'log-no-columns',
      `Line ${long.line} is far too long for a log.`,
      'Export the log as CSV.',
    );
  }
  const delimiter = format.delimiter ?? findDelimiter(lines.slice(0, LOOK_AT).map(({ content }) => content));
  if (delimiter === undefined) {
    return failure(
      'log-no-columns',
      'The lines of the log do not split into columns.',
      'Export it with commas, semicolons or tabs between the columns.',
    );
  }
  const split = lines.map(({ line, content }) => ({ line, cells: splitLine(content, delimiter) }));
  let columns = commonest(split.map(({ cells }) => cells.length));
  // A delimiter at every line's end, as some loggers write it, is no column of its own.
  const full = split.filter(({ cells }) => cells.length === columns);
  if (columns > 2 && full.every(({ cells }) => cells.at(-1) === '')) {
    for (const { cells } of full) cells.pop();
    columns--;
  }
  const first = split.findIndex(({ cells }) => cells.length === columns);
  const body = split.slice(first);
  const hasHeader =
    body[0]!.cells.filter((cell) => NUMBER.test(cell) || /^\d+:\d+/.test(cell)).length < columns / 2;
  const header = hasHeader ? body[0]!.cells : null;
  const data = hasHeader ? body.slice(1) : body;
  const rows = data.filter(({ cells }) => cells.length === columns);
  const decimalComma =
    format.decimalComma ??
    (delimiter !== ',' &&
      rows.some(({ cells }) => cells.some((cell) => /^[+-]?\d*,\d+([eE][+-]?\d+)?$/.test(cell))) &&
      !rows.some(({ cells }) => cells.some((cell) => /^[+-]?\d*\.\d+([eE][+-]?\d+)?$/.test(cell))));
  return success({
    delimiter,
    decimalComma,
    header,
    columns,
    rows,
    oddLines: data.filter(({ cells }) => cells.length !== columns).map(({ line }) => line),
  });
}

/** The delimiter that splits most lines into one and the same number of columns, two at least. */
function findDelimiter(lines: readonly string[]): string | undefined {
  let best: string | undefined;
  let bestScore = 0;
  for (const delimiter of DELIMITERS) {
    const counts = lines.map((line) => splitLine(line, delimiter).length);
    const usual = commonest(counts);
    if (usual < 2) continue;
    const score = counts.filter((count) => count === usual).length;
    if (score > bestScore) {
      best = delimiter;
      bestScore = score;
    }
  }
  return best;
}

function commonest(counts: readonly number[]): number {
  const tally = new Map<number, number>();
  for (const count of counts) tally.set(count, (tally.get(count) ?? 0) + 1);
  return [...tally].reduce((best, entry) => (entry[1] > best[1] ? entry : best))[0];
}

/** RFC 4180 quotes; runs of blanks count as one where blanks divide. */
function splitLine(line: string, delimiter: string): string[] {
  if (delimiter === ' ') return line.trim().split(/\s+/);
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < line.length; i++) {
    const letter = line[i]!;
    if (quoted) {
      if (letter !== '"') cell += letter;
      else if (line[i + 1] === '"') {
        cell += '"';
        i++;
      } else quoted = false;
    } else if (letter === '"' && cell.trim() === '') {
      quoted = true;
      cell = '';
    } else if (letter === delimiter) {
      cells.push(cell.trim());
      cell = '';
    } else cell += letter;
  }
  cells.push(cell.trim());
  return cells;
}
