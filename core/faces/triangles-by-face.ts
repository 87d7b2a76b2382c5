/** The triangles of some faces, ascending. */
export function trianglesByFace(faceOfTriangle: Uint32Array, rows: Iterable<number>): Map<number, number[]> {
  const found = new Map<number, number[]>();
  for (const row of rows) found.set(row, []);
  if (found.size === 0) return found;
  for (let t = 0; t < faceOfTriangle.length; t++) found.get(faceOfTriangle[t])?.push(t);
  return found;
}
