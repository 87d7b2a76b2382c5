import { FACE_KINDS, faceId, type FaceTable } from '../faces/face-table.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';

type NamedFaces = Pick<FaceTable, 'count' | 'kind' | 'size' | 'inward'>;

/**
 * What a face looks like, for someone who holds the part and not the model: its number alone can't be found there.
 * Throws RangeError for a row the table does not have.
 */
export function faceWords(faces: NamedFaces, row: number, metresPerUnit: number, system: UnitSystem): string {
  if (!(row >= 0 && row < faces.count)) throw new RangeError(`row: no face ${row} among ${faces.count}`);
  const inward = faces.inward[row] === 1;
  const size = (scale: number): string =>
    formatQuantity('length', faces.size[row]! * scale * metresPerUnit, system).text;
  switch (FACE_KINDS[faces.kind[row]!]) {
    case 'plane':
      return 'flat';
    case 'cylinder':
      return `${inward ? 'hole or inside round' : 'round'} ⌀ ${size(2)}`;
    case 'cone':
      return inward ? 'countersink or inside cone' : 'cone';
    case 'sphere':
      return `${inward ? 'hollow' : 'ball'} ⌀ ${size(2)}`;
    case 'torus':
      return `${inward ? 'inside' : 'outside'} curve, radius ${size(1)}`;
    default:
      return 'free curve';
  }
}

/** Faces that look alike in one line each, in the order of their lowest number: "round ⌀ 6.00 mm: f34, f37". */
export function describeFaces(
  faces: NamedFaces,
  rows: readonly number[],
  metresPerUnit: number,
  system: UnitSystem,
): string[] {
  const alike = new Map<string, string[]>();
  for (const row of rows) {
    const words = faceWords(faces, row, metresPerUnit, system);
    alike.set(words, [...(alike.get(words) ?? []), faceId(row)]);
  }
  return [...alike].map(([words, ids]) => `${words}: ${ids.join(', ')}`);
}
