import type { QuantityKind } from '../units/unit-table.ts';
import type { FigureInput } from './figure.ts';

/** One number that went into a figure; `unit` only where the kind's preferred one would read badly. */
export function figureInput(
  symbol: string,
  label: string,
  kind: QuantityKind,
  valueSi: number,
  unit?: string,
): FigureInput {
  return unit === undefined ? { symbol, label, kind, valueSi } : { symbol, label, kind, valueSi, unit };
}
