import { formatIn } from '../units/format-quantity.ts';
import type { QuantityKind } from '../units/unit-table.ts';

/** "the current density is 0.3 A/dm² (2.79 A/ft²), outside 0.65 to 2.6 A/dm² (6 to 24 A/ft²)", or null. */
export function beyond(
  what: string,
  kind: QuantityKind,
  valueSi: number,
  { low, high }: { readonly low: number; readonly high: number },
  metric: string,
  us: string,
): string | null {
  if (valueSi >= low && valueSi <= high) return null;
  const say = (si: number, unit: string) => formatIn(kind, si, unit, 2);
  const both = (first: string, second: string) => (metric === us ? first : `${first} (${second})`);
  return `${what} is ${both(say(valueSi, metric).text, say(valueSi, us).text)}, outside ${both(
    `${say(low, metric).number} to ${say(high, metric).text}`,
    `${say(low, us).number} to ${say(high, us).text}`,
  )}`;
}
