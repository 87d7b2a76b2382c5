import { formatIn, readableUnit, type FormattedQuantity } from '../units/format-quantity.ts';
import { inReaderUnits } from '../units/reader-units.ts';
import { timerText, timerUnit } from '../units/timer-text.ts';
import type { QuantityKind, UnitSystem } from '../units/unit-table.ts';
import type { Figure, Source } from './figure.ts';

/** A figure as text, the same for the window, the sheet and the terminal. */
export interface PrintedFigure {
  readonly label: string;
  readonly value: FormattedQuantity;
  /** The same value in the other unit system, or minutes as a timer is set to them; '' where that says no more. */
  readonly also: string;
  /** "0.97 to 1.03 mil", or '' where no range is known. */
  readonly range: string;
  readonly formula: string;
  readonly inputs: readonly { readonly symbol: string; readonly label: string; readonly text: string }[];
  readonly source: string;
}

const OTHER: Readonly<Record<UnitSystem, UnitSystem>> = { metric: 'us', us: 'metric' };

/** 62.50 min says no more than 62.5 min; zeros before the point stay. */
function withoutEndZeros(printed: FormattedQuantity): FormattedQuantity {
  if (!printed.number.includes('.')) return printed;
  const number = printed.number.replace(/\.?0+$/, '');
  return { ...printed, number, text: printed.text.replace(printed.number, number) };
}

const usualDigits = (kind: QuantityKind): number => (kind === 'count' ? 1 : kind === 'current' ? 3 : 4);

/** No more digits than the range bears out: the last one shown is worth about a tenth of half the range, two at least. */
function bornOutDigits({ kind, valueSi, lowSi, highSi, digits }: Figure): number {
  const asked = digits ?? usualDigits(kind);
  // Kelvins have no share of a temperature to say.
  if (lowSi === undefined || highSi === undefined || kind === 'temperature') return asked;
  const share = (highSi - lowSi) / 2 / Math.abs(valueSi);
  if (!(share > 0 && share < Infinity)) return asked;
  return Math.min(asked, Math.max(2, Math.round(-Math.log10(share)) + 2));
}

function print(kind: QuantityKind, valueSi: number, unit: string, asked?: number): FormattedQuantity {
  return withoutEndZeros(formatIn(kind, valueSi, unit, asked ?? usualDigits(kind)));
}

export function printSource(source: Source): string {
  return source.text === '' ? source.standing : `${source.text} (${source.standing})`;
}

/** Prints in the unit system asked for; film thicknesses in µm or mil. */
export function printFigure(figure: Figure, system: UnitSystem): PrintedFigure {
  const digits = bornOutDigits(figure);
  const unit = readableUnit(figure.kind, figure.valueSi, system, figure.unit);
  const value = print(figure.kind, figure.valueSi, unit, digits);
  const otherUnit = readableUnit(figure.kind, figure.valueSi, OTHER[system], figure.unit);
  const other = print(figure.kind, figure.valueSi, otherUnit, digits);
  // The ends of a range in the unit of the figure between them.
  const end = (si: number): FormattedQuantity => print(figure.kind, si, unit, digits);
  const low = figure.lowSi === undefined ? undefined : end(figure.lowSi);
  const high = figure.highSi === undefined ? undefined : end(figure.highSi);
  // A range narrower than the digits shown says nothing.
  const range = low && high && low.text !== high.text ? `${low.number} to ${high.text}` : '';
  return {
    label: inReaderUnits(figure.label, system),
    value,
    also:
      other.text !== value.text && unit !== otherUnit
        ? `= ${other.text}`
        : value.unit === 'min' && range === '' && value.number.includes('.')
          ? `= ${timerText(figure.valueSi)} ${timerUnit(figure.valueSi)}`
          : '',
    range,
    formula: figure.formula,
    inputs: figure.inputs.map((input) => ({
      symbol: input.symbol,
      label: input.label,
      text: print(
        input.kind,
        input.valueSi,
        readableUnit(input.kind, input.valueSi, system, input.unit),
        input.digits,
      ).text,
    })),
    source: inReaderUnits(printSource(figure.source), system),
  };
}
