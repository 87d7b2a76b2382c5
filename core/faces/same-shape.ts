import type { FaceTable } from './face-table.ts';

/**
 * All faces with the shape of one of the given ones: same kind, same side (a bore is no shaft), size and area within
 * `tolerance` (relative). The given faces are among them.
 *
 * @returns rows, ascending
 */
export function sameShape(
  faces: Pick<FaceTable, 'count' | 'kind' | 'size' | 'inward' | 'area'>,
  rows: Iterable<number>,
  tolerance = 0.01,
): number[] {
  const found = new Set<number>();
  for (const row of rows) {
    if (!(Number.isInteger(row) && row >= 0 && row < faces.count)) {
      throw new RangeError(`rows: no face in row ${row}, there are ${faces.count}`);
    }
    for (let other = 0; other < faces.count; other++) {
      if (
        faces.kind[other] === faces.kind[row] &&
        faces.inward[other] === faces.inward[row] &&
        near(faces.size[other], faces.size[row], tolerance) &&
        near(faces.area[other], faces.area[row], tolerance)
      ) {
        found.add(other);
      }
    }
  }
  return [...found].sort((x, y) => x - y);
}

function near(a: number, b: number, tolerance: number): boolean {
  return Math.abs(a - b) <= tolerance * Math.max(Math.abs(a), Math.abs(b));
}
