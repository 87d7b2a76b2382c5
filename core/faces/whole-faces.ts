import type { FaceTable } from './face-table.ts';

/** Per face row 1 where all of its triangles are in, as `isIn` says of each. */
export function wholeFaces(
  { count, faceOfTriangle }: Pick<FaceTable, 'count' | 'faceOfTriangle'>,
  isIn: (triangle: number) => boolean,
): Uint8Array {
  const whole = new Uint8Array(count).fill(1);
  for (let t = 0, left = count; t < faceOfTriangle.length && left > 0; t++) {
    const face = faceOfTriangle[t];
    if (whole[face] === 0 || isIn(t)) continue;
    whole[face] = 0;
    left--;
  }
  return whole;
}
