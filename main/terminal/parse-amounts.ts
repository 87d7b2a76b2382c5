import { success, type Result } from '../../core/result.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import type { QuantityKind } from '../../core/units/unit-table.ts';
import { optionFailure } from './command-line.ts';

/** What the options of `watch` and `simulate` share: an amount with its unit, checked for its range. */
export interface AmountOption {
  readonly kind: QuantityKind;
  /** SI, both ends included. */
  readonly low: number;
  readonly high: number;
  /** As the message says it. */
  readonly range: string;
}

/** Reads each named option that is given; what is not given is absent from the answer. */
export function parseAmounts<Name extends string>(
  values: Readonly<Record<string, unknown>>,
  table: Readonly<Record<Name, AmountOption>>,
): Result<Partial<Record<Name, number>>> {
  const amounts: Partial<Record<Name, number>> = {};
  for (const name of Object.keys(table) as Name[]) {
    const text = values[name];
    if (typeof text !== 'string') continue;
    const { kind, low, high, range } = table[name];
    // Nothing is nothing in every unit.
    const amount = low === 0 && /^0+([.,]0*)?$/.test(text) ? success(0) : parseQuantity(kind, text);
    if (!amount.ok) return optionFailure(name, amount.error.message, amount.error.remedy);
    if (!(amount.value >= low && amount.value <= high)) {
      return optionFailure(name, `“${text}” is out of range.`, `Give ${range}.`);
    }
    amounts[name] = amount.value;
  }
  return success(amounts);
}
