import { failure, success, type Result } from '../result.ts';
import { formatNumber } from '../units/format-quantity.ts';

/** Free acid a bath is planned with, kg/m³ (equal to g/L); below and above nothing published holds. */
export const PLANNED_ACID = { lowKgPerM3: 50, highKgPerM3: 400 } as const;

/**
 * A strength that was mixed or measured, to a tenth of a gram per litre, as the plan takes it. Fails with
 * `not-a-bath` outside 50-400 g/L: no other number is put in its place.
 */
export function takenStrength(acidKgPerM3: number): Result<number> {
  const { lowKgPerM3, highKgPerM3 } = PLANNED_ACID;
  const rounded = Math.round(acidKgPerM3 * 10) / 10;
  if (rounded >= lowKgPerM3 && rounded <= highKgPerM3) return success(rounded);
  return failure(
    'not-a-bath',
    `With ${formatNumber(acidKgPerM3)} g/L this is no anodizing bath; the plan takes ${lowKgPerM3} to ${highKgPerM3} g/L.`,
    acidKgPerM3 < lowKgPerM3 ? 'Add acid, or check the reading.' : 'Thin it, or check the reading.',
  );
}
