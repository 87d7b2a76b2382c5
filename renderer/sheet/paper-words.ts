import type { Figure } from '../../core/figure/figure.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import type { QuantityKind, UnitSystem } from '../../core/units/unit-table.ts';

/** "film 25.4 µm (= 1 mil, 0.97 to 1.03 mil)". */
export function line(figure: Figure, system: UnitSystem): string {
  const printed = printFigure(figure, system);
  const mark = figure.unconfirmed ? ` [${figure.unconfirmed}]` : '';
  const beside = [printed.also, printed.range].filter((text) => text !== '').join(', ');
  return `${printed.label.toLowerCase()} ${printed.value.text}${beside ? ` (${beside})` : ''}${mark}`;
}

export function withRange(figure: Figure, system: UnitSystem): string {
  const { value, range } = printFigure(figure, system);
  return range ? `${value.text} (${range})` : value.text;
}

/** A value in the reader's own unit, and in the other one behind it. */
export function both(
  kind: QuantityKind,
  valueSi: number,
  [metric, us]: readonly [string, string],
  system: UnitSystem,
  digits = 3,
): string {
  const [first, second] = system === 'metric' ? [metric, us] : [us, metric];
  return `${formatIn(kind, valueSi, first, digits).text} (= ${formatIn(kind, valueSi, second, digits).text})`;
}
