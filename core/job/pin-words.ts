import { faceId } from '../faces/face-table.ts';
import { pinsOn } from '../mesh/mesh-triangles.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { faceWords } from './face-words.ts';
import type { Part } from './job.ts';

/**
 * Where each pin clamps, for someone who holds the part: what the face looks like, its number, and the place by the model's
 * axes. By contact id; a pin that lies off the part has none.
 */
export function pinPlaces(
  part: Pick<Part, 'contacts' | 'unit'>,
  geometry: PartGeometry,
  system: UnitSystem,
): Map<string, string> {
  const scale = metresPerUnit(part.unit);
  const unit = system === 'us' ? 'in' : 'mm';
  const along = (value: number): string =>
    (
      Number(((scale * value) / (unit === 'in' ? 0.0254 : 1e-3)).toFixed(unit === 'in' ? 2 : 1)) + 0
    ).toString();
  const places = new Map<string, string>();
  for (const { id, at, triangle } of pinsOn(geometry, part.contacts)) {
    const row = geometry.faces.faceOfTriangle[triangle]!;
    const axes = at.map((value, axis) => `${'xyz'[axis]!} ${along(value)}`).join(', ');
    places.set(id, `${faceWords(geometry.faces, row, scale, system)} (${faceId(row)}) at ${axes} ${unit}`);
  }
  return places;
}
