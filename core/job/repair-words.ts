import { metresPerUnit } from '../mesh/part-extents.ts';
import { formatIn, preferredUnit } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { ModelUnit } from './job.ts';
import type { Repair } from './job-repairs.ts';

/** Lengths below this are told in µm and mil. */
const FINE_M = 1e-5;
const FINE_UNIT: Readonly<Record<UnitSystem, string>> = { metric: 'µm', us: 'mil' };

/**
 * What an accepted repair does, as the window and the terminal list it.
 *
 * @param trianglesAdded by it; undefined where that is not known, or not asked
 */
export function repairWords(
  repair: Repair,
  unit: ModelUnit,
  system: UnitSystem,
  trianglesAdded?: number,
): string {
  const text = (length: number, digits = 2): string => {
    const lengthM = length * metresPerUnit(unit);
    const inUnit = lengthM < FINE_M ? FINE_UNIT[system] : preferredUnit('length', system);
    return formatIn('length', lengthM, inUnit, digits).text;
  };
  switch (repair.kind) {
    case 'weld':
      return `Edges up to ${text(repair.distance)} apart joined`;
    case 'turn':
      return 'Triangles turned outwards';
    case 'drop-doubles':
      return 'Doubled surface counted once';
    case 'drop-lines':
      return 'Lines left out';
    case 'drop':
      return 'Stray bodies left out';
    case 'fill':
      return `Gaps up to ${text(repair.size)} closed flat`;
    case 'thicken':
      return trianglesAdded === 0
        ? `Sheet made ${text(repair.thickness, 3)} thick did nothing: nothing is open here, or its two sides cannot be told apart`
        : `Sheet made ${text(repair.thickness, 3)} thick, both sides counted`;
  }
}
