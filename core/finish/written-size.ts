import { failure, success, type Result } from '../result.ts';

export type SizeUnit = 'mm' | 'in';

/** A size as a drawing writes it without a tolerance class. Metres. */
export interface WrittenSize {
  readonly lowM: number;
  readonly highM: number;
  /** "shaft .8745/.8740" says it; null where nobody does. */
  readonly side: 'internal' | 'external' | null;
  /** The unit is written, or can only be inches. */
  readonly unitSaid: boolean;
}

const UNIT_M: Readonly<Record<SizeUnit, number>> = { mm: 1e-3, in: 25.4e-3 };

/** 0.257, .257, 6,5, 1/4, 1 1/4 */
export const SIZE_NUMBER = String.raw`(?:\d+[ -])?\d+\/\d+|\d+(?:[.,]\d+)?|[.,]\d+`;
export const SIZE_UNIT = String.raw`mm|inch(?:es)?|in\.?|"|″`;
const DECIMAL = String.raw`\d+(?:[.,]\d*)?|[.,]\d+`;

const SIDE = /^(hole|bore|shaft|boss)\s+/i;
const LIMITS = new RegExp(
  String.raw`^(${DECIMAL})\s*(${SIZE_UNIT})?\s*(?:\/|–|—|\bto\b|\s-\s)\s*(${DECIMAL})\s*(${SIZE_UNIT})?$`,
  'i',
);
const EQUAL = new RegExp(
  String.raw`^(${SIZE_NUMBER})\s*(${SIZE_UNIT})?\s*(?:±|\+\s*\/?\s*[-−])\s*(${DECIMAL})\s*(${SIZE_UNIT})?$`,
  'i',
);
const DEVIATIONS = new RegExp(
  String.raw`^(${SIZE_NUMBER})\s*(${SIZE_UNIT})?\s*(?:([+−-])\s*(${DECIMAL})|\s(0))\s*(${SIZE_UNIT})?\s*(?:\/|\s)?\s*(?:([+−-])\s*(${DECIMAL})|(0))\s*(${SIZE_UNIT})?$`,
  'i',
);

/** A decimal or a fraction, as typed; a comma is a decimal one. */
export function sizeNumber(text: string): number {
  const fraction = /^(?:(\d+)[ -])?(\d+)\/(\d+)$/.exec(text);
  if (fraction) return Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]);
  return Number(text.replace(',', '.'));
}

export function sizeUnit(text: string | undefined): SizeUnit | null {
  return text === undefined ? null : text.toLowerCase() === 'mm' ? 'mm' : 'in';
}

/**
 * Fractions are inches; so is a size without its zero: ASME Y14.5-2018, 4.3, leaves the zero off inches below one and asks for
 * it in front of millimetres.
 */
export function inchesByLook(size: string): boolean {
  return size.includes('/') || /^[.,]/.test(size);
}

/**
 * Reads limits (.2575/.2565, 6.50 to 6.52 mm) and a size with its deviations (0.2570 +0.0005 -0.0000, 6.5 ±0.05 mm),
 * "hole" or "shaft" before it or not. null for anything else.
 * @param bareUnit what a number without a unit is in; without it such a number is refused
 * Fails with `fit-no-unit`, `fit-limits` (limits that are no tolerance).
 */
export function readWrittenSize(text: string, bareUnit?: SizeUnit): Result<WrittenSize> | null {
  const whole = text.trim();
  const word = SIDE.exec(whole)?.[1]?.toLowerCase();
  const side = word === undefined ? null : word === 'hole' || word === 'bore' ? 'internal' : 'external';
  const bare = whole.replace(SIDE, '').replace(/^[⌀øØ]\s*/, '');
  const read = ends(bare);
  if (!read) return null;
  const said = read.units.map(sizeUnit).filter((unit) => unit !== null);
  if (said.some((unit) => unit !== said[0])) {
    return failure('fit-limits', `“${whole}” is in two units.`, 'Write the limits in one unit.');
  }
  const known = said[0] ?? (inchesByLook(read.size) ? 'in' : undefined);
  const unit = known ?? bareUnit;
  if (unit === undefined) {
    return failure(
      'fit-no-unit',
      `“${whole}” does not say its unit.`,
      'Write mm or in behind it: 0.8745/0.8740in, or 22.20/22.18mm.',
    );
  }
  const [lowM, highM] = [Math.min(...read.ends) * UNIT_M[unit], Math.max(...read.ends) * UNIT_M[unit]];
  if (!(lowM > 0 && highM > lowM && highM <= 10 && highM < 1.5 * lowM)) {
    return failure(
      'fit-limits',
      `“${whole}” does not give a smallest and a largest size.`,
      'Type both limits in full (.2575/.2565), or the size and its deviations (0.2570 +0.0005 -0.0000).',
    );
  }
  return success({ lowM, highM, side, unitSaid: known !== undefined });
}

interface Ends {
  readonly size: string;
  /** Both limits, either first. */
  readonly ends: readonly [number, number];
  readonly units: readonly (string | undefined)[];
}

function ends(text: string): Ends | null {
  const limits = LIMITS.exec(text);
  // Two whole numbers are a fraction, no limits.
  if (limits && !/^\d+\/\d+\D*$/.test(text)) {
    const [, low, unit, high, last] = limits;
    return { size: low!, ends: [sizeNumber(low!), sizeNumber(high!)], units: [unit, last] };
  }
  const equal = EQUAL.exec(text);
  if (equal) {
    const [, size, unit, by, last] = equal;
    const middle = sizeNumber(size!);
    return { size: size!, ends: [middle - sizeNumber(by!), middle + sizeNumber(by!)], units: [unit, last] };
  }
  const deviations = DEVIATIONS.exec(text);
  if (!deviations) return null;
  const [, size, unit, sign, first, , unit2, sign2, second, , unit3] = deviations;
  const signed = (mark?: string, by?: string): number =>
    by === undefined ? 0 : mark === '+' ? sizeNumber(by) : -sizeNumber(by);
  const nominal = sizeNumber(size!);
  return {
    size: size!,
    ends: [nominal + signed(sign, first), nominal + signed(sign2, second)],
    units: [unit, unit2, unit3],
  };
}
