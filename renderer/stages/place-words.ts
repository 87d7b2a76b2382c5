import type { ModelUnit } from '../../core/job/job.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { toUnit, unitBySymbol } from '../../core/units/find-unit.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';

/** A place of the model as a ruler shows it: "15, 0, 9.25 mm", "0.5906, 0, 0.3642 in". */
export function placeWords(at: readonly number[], modelUnit: ModelUnit, system: UnitSystem): string {
  const [unit, decimals] = system === 'us' ? (['in', 4] as const) : (['mm', 2] as const);
  const numbers = at.map((value) => {
    const shown = toUnit(value * metresPerUnit(modelUnit), unitBySymbol('length', unit));
    return String(Number(shown.toFixed(decimals)) + 0);
  });
  return `${numbers.join(', ')} ${unit}`;
}
