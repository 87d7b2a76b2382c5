import { metresPerUnit } from '../mesh/part-extents.ts';
import { formatIn } from '../units/format-quantity.ts';
import type { ModelUnit } from './job.ts';
import type { Repair } from './job-repairs.ts';

/** Lengths below this are told in µm. */
const FINE_M = 1e-5;

/**
 * What an accepted repair does, as the window and the terminal list it.
 *
 * @param trianglesAdded by it; undefined where that is not known, or not asked
 */
export function repairWords(repair: Repair, unit: ModelUnit, trianglesAdded?: number): string {
  const mm = (length: number, digits = 2): string => {
    const lengthM = length * metresPerUnit(unit);
    return formatIn('length', lengthM, lengthM < FINE_M ? 'µm' : 'mm', digits).text;
  };
  switch (repair.kind) {
    case 'weld':
      return `Edges up to ${mm(repair.distance)} apart joined`;
    case 'turn':
      return 'Triangles turned outwards';
    case 'drop-doubles':
      return 'Doubled surface counted once';
    case 'drop-lines':
      return 'Lines left out';
    case 'drop':
      return 'Stray bodies left out';
    case 'fill':
      return `Gaps up to ${mm(repair.size)} closed flat`;
    case 'thicken':
      return trianglesAdded === 0
        ? `Sheet made ${mm(repair.thickness, 3)} thick did nothing: nothing is open here, or its two sides cannot be told apart`
        : `Sheet made ${mm(repair.thickness, 3)} thick, both sides counted`;
  }
}
