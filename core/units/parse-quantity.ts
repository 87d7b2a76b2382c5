import { failure, success, type Result } from '../result.ts';
import { findUnit, fromUnit, unitBySymbol } from './find-unit.ts';
import { UNITS, type QuantityKind } from './unit-table.ts';
import { wireGaugeM } from './wire-gauge.ts';

const NUMBER = /^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?)\s*(.*)$/;
const FRACTION = /^(\d+)\s*\/\s*(\d+)\s*(.*)$/;
const MIXED = /^(\d+)\s+(\d+)\s*\/\s*(\d+)\s*(.*)$/;

function splitNumber(text: string): { value: number; rest: string } | undefined {
  const mixed = MIXED.exec(text);
  if (mixed) return { value: Number(mixed[1]) + Number(mixed[2]) / Number(mixed[3]), rest: mixed[4]! };
  const fraction = FRACTION.exec(text);
  if (fraction) return { value: Number(fraction[1]) / Number(fraction[2]), rest: fraction[3]! };
  const plain = NUMBER.exec(text);
  if (plain) return { value: Number(plain[1]!.replace(',', '.')), rest: plain[2]! };
  return undefined;
}

const CLOCK = /^(\d{1,4}):([0-5]\d)(?::([0-5]\d))?$/;

/** "1:02:30" is h:min:s; "5:00" is min:s where minutes or seconds are asked for, h:min where hours are, and else not certain. */
function clockTimeS(text: string, bareUnit: string | undefined): number | null {
  const match = CLOCK.exec(text);
  if (!match) return null;
  const [first, second] = [Number(match[1]), Number(match[2])];
  if (match[3] !== undefined) return 3600 * first + 60 * second + Number(match[3]);
  if (bareUnit === 'min' || bareUnit === 's') return 60 * first + second;
  return bareUnit === 'h' ? 3600 * first + 60 * second : null;
}

/**
 * Reads "1 mil", "25 µm", "1/8 in", "88in2" or "6 A/ft2" as SI, and "12 AWG" as the length that a wire of it measures across.
 * A number without a unit takes `bareUnit` (a symbol of the table); without `bareUnit` it is refused, so that no
 * unit is ever guessed. Times may be typed as a clock shows them. A decimal comma is accepted; a number with both comma and point is refused.
 */
export function parseQuantity(kind: QuantityKind, text: string, bareUnit?: string): Result<number> {
  const trimmed = text.trim();
  const examples = UNITS[kind]
    .map((unit) => unit.symbol)
    .filter((symbol) => symbol !== '')
    .join(', ');
  if (trimmed === '') {
    return failure('quantity-empty', 'Nothing is typed here.', `Type a number with its unit (${examples}).`);
  }
  const gaugeM = kind === 'length' ? wireGaugeM(trimmed) : null;
  if (gaugeM !== null) return success(gaugeM);
  const clockS = kind === 'time' ? clockTimeS(trimmed, bareUnit) : null;
  if (clockS !== null) return success(clockS);
  const split = splitNumber(trimmed);
  if (!split || !Number.isFinite(split.value)) {
    return failure(
      'quantity-not-a-number',
      `“${trimmed}” does not start with a number.`,
      'Type a number such as 12.5.',
    );
  }
  const unitText = split.rest.trim();
  if (/^[.,]\d/.test(unitText)) {
    return failure(
      'quantity-two-points',
      `“${trimmed}” has two decimal marks.`,
      'Leave out thousands separators.',
    );
  }
  if (unitText === '') {
    const bare = bareUnit ?? (UNITS[kind].length === 1 ? UNITS[kind][0]!.symbol : undefined);
    if (bare === undefined) {
      return failure('quantity-no-unit', `“${trimmed}” has no unit.`, `Add one of ${examples}.`);
    }
    return success(fromUnit(split.value, unitBySymbol(kind, bare)));
  }
  const unit = findUnit(kind, unitText);
  if (!unit) {
    return failure(
      'quantity-unknown-unit',
      `“${unitText}” is not a unit that fits here.`,
      `Use one of ${examples}.`,
    );
  }
  return success(fromUnit(split.value, unit));
}
