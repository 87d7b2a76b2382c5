import type { CadFacePrints } from './job-cad-faces.ts';

/** Share by which the CAD kernel's own area of one face may differ from version to version. */
const SAME_AREA = 1e-4;
/** The middle of a face's triangles lies within so many chord tolerances of where other triangles put it. */
const TOLERANCES = 4;

/** Whether the same faces come in the same order, each drawn with as many triangles: then nothing has moved. */
export function drawnAlike(before: CadFacePrints, now: CadFacePrints): boolean {
  return (
    before.triangles.length === now.triangles.length &&
    before.triangles.every((count, face) => count === now.triangles[face] && isSame(before, face, now, face))
  );
}

/**
 * The face that a face of an earlier reading is now: that of the same number if it is alike, else the only one alike.
 * Undefined where there is none, or more than one.
 */
export function faceNow(before: CadFacePrints, face: number, now: CadFacePrints): number | undefined {
  const count = now.triangles.length;
  if (face < count && isSame(before, face, now, face)) return face;
  let found: number | undefined;
  for (let other = 0; other < count; other++) {
    if (!isSame(before, face, now, other)) continue;
    if (found !== undefined) return undefined;
    found = other;
  }
  return found;
}

function isSame(before: CadFacePrints, face: number, now: CadFacePrints, other: number): boolean {
  if (before.kinds[face] !== now.kinds[other]) return false;
  const area = before.areas[face];
  if (Math.abs(area - now.areas[other]) > SAME_AREA * area) return false;
  const reach = TOLERANCES * (before.tolerance + now.tolerance) + SAME_AREA * Math.sqrt(area);
  const off = [0, 1, 2].map((k) => before.centres[3 * face + k] - now.centres[3 * other + k]);
  return Math.hypot(off[0], off[1], off[2]) <= reach;
}

/** First triangle of every face, and the end of the last. */
export function faceStarts({ triangles }: CadFacePrints): Uint32Array {
  const starts = new Uint32Array(triangles.length + 1);
  triangles.forEach((count, face) => (starts[face + 1] = starts[face] + count));
  return starts;
}

/** The face that a triangle belongs to, or undefined beyond the last. */
export function faceAt(starts: Uint32Array, triangle: number): number | undefined {
  if (triangle >= starts[starts.length - 1]) return undefined;
  let low = 0;
  let high = starts.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (starts[middle] <= triangle) low = middle;
    else high = middle;
  }
  return low;
}
