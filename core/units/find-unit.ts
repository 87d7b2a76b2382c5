import { UNITS, type QuantityKind, type Unit } from './unit-table.ts';

const squeeze = (text: string): string => text.replace(/[\s·*^.]/g, '');

/**
 * The unit meant by `text` among the units of a kind, or undefined. An exact spelling wins over one that differs
 * only in case, so that `mA` and `MA`, `m` and `M` are never mixed up silently.
 */
export function findUnit(kind: QuantityKind, text: string): Unit | undefined {
  const wanted = squeeze(text);
  const spelt = (unit: Unit): string[] => [unit.symbol, ...unit.aliases].map(squeeze);
  const exact = UNITS[kind].find((unit) => spelt(unit).includes(wanted));
  if (exact) return exact;
  const folded = UNITS[kind].filter((unit) =>
    spelt(unit).some((s) => s.toLowerCase() === wanted.toLowerCase()),
  );
  return folded.length === 1 ? folded[0] : undefined;
}

/** The unit with this printed symbol. Throws RangeError for a symbol that is not in the table. */
export function unitBySymbol(kind: QuantityKind, symbol: string): Unit {
  const unit = UNITS[kind].find((candidate) => candidate.symbol === symbol);
  if (!unit) throw new RangeError(`unitBySymbol: no ${kind} unit "${symbol}"`);
  return unit;
}

/** SI value of `value` in `unit`. */
export function fromUnit(value: number, unit: Unit): number {
  return value * unit.toSi + (unit.zeroSi ?? 0);
}

/** Value in `unit` of an SI value. */
export function toUnit(valueSi: number, unit: Unit): number {
  return (valueSi - (unit.zeroSi ?? 0)) / unit.toSi;
}
