import type { FaceTable } from '../face-table.ts';

/** Triangles of faces that are looked at one by one, in all; and those of a mesh from which on it is fine enough without. */
const MOST_TRIANGLES = 60_000;
const MOST_IN_MESH = 300_000;

export function isFine({ faceOfTriangle }: Pick<FaceTable, 'faceOfTriangle'>): boolean {
  return faceOfTriangle.length > MOST_IN_MESH;
}

/** Of some faces the first, as many as there is time to look at. */
export function lookedAt(faces: FaceTable, rows: readonly number[]): number[] {
  if (isFine(faces)) return [];
  let left = MOST_TRIANGLES;
  return rows.filter((f) => (left -= faces.triangleCount[f]) >= 0);
}
