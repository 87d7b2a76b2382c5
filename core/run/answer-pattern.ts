import { failure, success, type Result } from '../result.ts';

/** How a supply's answer is read: the first group of the pattern is the number. */
export interface AnswerPattern {
  readonly pattern: string;
  /** Multiplies the number to volts, amps or kelvin (a supply that answers in hundredths: 0.01). */
  readonly factor: number;
}

/** A longer answer is garbage; the limit also bounds what any accepted pattern can cost. */
export const LONGEST_ANSWER = 120;
const LONGEST_PATTERN = 120;
/** Ways a pattern may be matched against the longest answer: some milliseconds at worst. */
const MOST_WAYS = 2e6;

/** SCPI numbers: NR1, NR2, NR3 (IEEE 488.2), with a unit behind as some supplies add it. */
export const SCPI_NUMBER: AnswerPattern = {
  pattern: '^\\s?([+-]?[0-9.]{1,20}(?:[eE][+-]?[0-9]{1,3})?)\\s?[A-Za-z]{0,3}$',
  factor: 1,
};

/**
 * Compiles a pattern the user typed. Refused are patterns that could take for ever on a bad answer: repeats inside repeats,
 * look-around, references back, many open-ended repeats. Failures: `pattern-too-long`, `pattern-invalid`, `pattern-risky`, `pattern-no-group`.
 */
export function compileAnswer(answer: AnswerPattern): Result<(line: string) => number | undefined> {
  const { pattern, factor } = answer;
  if (!(Number.isFinite(factor) && factor !== 0)) throw new RangeError(`compileAnswer: factor is ${factor}`);
  if (pattern.length > LONGEST_PATTERN) {
    return failure(
      'pattern-too-long',
      'The pattern is too long.',
      `Use at most ${LONGEST_PATTERN} characters.`,
    );
  }
  let expression: RegExp;
  try {
    expression = new RegExp(pattern);
  } catch {
    return failure('pattern-invalid', 'The pattern is not a regular expression.', 'Try ([+-]?\\d+\\.\\d+).');
  }
  const plain = pattern.replace(/\\./g, 'x').replace(/\[[^\]]*\]/g, 'x');
  const repeatedGroup = /\)(?:[*+]|\{)/.test(plain);
  if (
    waysToMatch(plain) > MOST_WAYS ||
    repeatedGroup ||
    /\(\?[=!<]/.test(plain) ||
    /\\[1-9k]/.test(pattern)
  ) {
    return failure(
      'pattern-risky',
      'The pattern could take very long on a garbled answer.',
      'Leave out repeated groups, look-around and references; begin with ^, use * and + at most twice and {1,9} sparingly.',
    );
  }
  if (!/\((?!\?)/.test(plain)) {
    return failure(
      'pattern-no-group',
      'The pattern has no group for the number.',
      'Put the number’s part in parentheses.',
    );
  }
  return success((line) => {
    if (line.length > LONGEST_ANSWER) return undefined;
    const text = expression.exec(line)?.[1]?.replace(',', '.');
    if (text === undefined || !/^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$/.test(text.trim()))
      return undefined;
    const value = Number(text) * factor;
    // 9.9E37 and above are SCPI's infinity and not-a-number.
    return Number.isFinite(value) && Math.abs(value) < 9e36 ? value : undefined;
  });
}

/** An upper bound: the product of what every repeat may take, and of the places to begin where it is not tied to the start. */
function waysToMatch(plain: string): number {
  let ways = plain.startsWith('^') ? 1 : LONGEST_ANSWER;
  for (const [repeat, from, comma, to] of plain.matchAll(/[*+]|\{(\d+)(,?)(\d*)\}|(?<!\()\?/g)) {
    if (repeat === '*' || repeat === '+') ways *= LONGEST_ANSWER;
    else if (repeat === '?') ways *= 2;
    else if (comma) ways *= to === '' ? LONGEST_ANSWER : Math.max(1, Number(to) - Number(from) + 1);
  }
  return ways;
}
