import type { QuantityKind } from '../units/unit-table.ts';
import type { FigureInput } from './figure.ts';

/** One number that went into a figure; `unit` and `digits` only where the kind's usual ones would read badly. */
export function figureInput(
  symbol: string,
  label: string,
  kind: QuantityKind,
  valueSi: number,
  unit?: string,
  digits?: number,
): FigureInput {
  return {
    symbol,
    label,
    kind,
    valueSi,
    ...(unit === undefined ? {} : { unit }),
    ...(digits === undefined ? {} : { digits }),
  };
}
