import type { FaceTable } from './face-table.ts';
import { runsWhere } from './triangle-runs.ts';

/** Triangles of the given faces, as runs to keep in the job. */
export function runsOfFaces(
  faces: Pick<FaceTable, 'count' | 'faceOfTriangle'>,
  rows: Iterable<number>,
): number[] {
  const wanted = new Uint8Array(faces.count);
  for (const row of rows) {
    if (!(Number.isInteger(row) && row >= 0 && row < faces.count)) {
      throw new RangeError(`rows: no face in row ${row}, there are ${faces.count}`);
    }
    wanted[row] = 1;
  }
  return runsWhere(faces.faceOfTriangle.length, (t) => wanted[faces.faceOfTriangle[t]] === 1);
}
