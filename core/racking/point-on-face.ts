import type { PartGeometry } from '../mesh/part-geometry.ts';

type Point = [number, number, number];

/**
 * The point of a face nearest to the face's own centre of area: the middle of a plate's flat, a point on the wall of
 * a bore. Model units.
 *
 * @param row of the face table
 * @throws RangeError for a row that is not in the table
 */
export function pointOnFace(
  geometry: Pick<PartGeometry, 'positions' | 'triangleAreas' | 'faces'>,
  row: number,
): { triangle: number; at: Point } {
  const { positions, triangleAreas, faces } = geometry;
  if (!(Number.isInteger(row) && row >= 0 && row < faces.count)) {
    throw new RangeError(`pointOnFace: no face in row ${row}, there are ${faces.count}`);
  }
  const members: number[] = [];
  for (let triangle = 0; triangle < triangleAreas.length; triangle++) {
    if (faces.faceOfTriangle[triangle] === row) members.push(triangle);
  }
  const centre: Point = [0, 0, 0];
  for (const triangle of members) {
    const weight = triangleAreas[triangle]! / (3 * faces.area[row]! || 1);
    for (let k = 0; k < 9; k++) centre[k % 3]! += positions[triangle * 9 + k]! * weight;
  }
  let best = { triangle: members[0]!, at: corner(positions, members[0]!, 0) };
  let bestDistance = Infinity;
  for (const triangle of members) {
    const at = closestOnTriangle(
      centre,
      corner(positions, triangle, 0),
      corner(positions, triangle, 1),
      corner(positions, triangle, 2),
    );
    const distance = Math.hypot(at[0] - centre[0], at[1] - centre[1], at[2] - centre[2]);
    if (distance < bestDistance) [best, bestDistance] = [{ triangle, at }, distance];
  }
  return best;
}

function corner(positions: Float32Array, triangle: number, which: 0 | 1 | 2): Point {
  const at = triangle * 9 + which * 3;
  return [positions[at]!, positions[at + 1]!, positions[at + 2]!];
}

const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const along = (from: Point, to: Point, share: number): Point => [
  from[0] + (to[0] - from[0]) * share,
  from[1] + (to[1] - from[1]) * share,
  from[2] + (to[2] - from[2]) * share,
];

/** Nearest point of triangle abc to p, by the regions of its corners, sides and inside (Ericson 2005, 5.1.5). */
export function closestOnTriangle(p: Point, a: Point, b: Point, c: Point): Point {
  const ab = minus(b, a);
  const ac = minus(c, a);
  const d1 = dot(ab, minus(p, a));
  const d2 = dot(ac, minus(p, a));
  if (d1 <= 0 && d2 <= 0) return a;
  const d3 = dot(ab, minus(p, b));
  const d4 = dot(ac, minus(p, b));
  if (d3 >= 0 && d4 <= d3) return b;
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return along(a, b, d1 / (d1 - d3));
  const d5 = dot(ab, minus(p, c));
  const d6 = dot(ac, minus(p, c));
  if (d6 >= 0 && d5 <= d6) return c;
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return along(a, c, d2 / (d2 - d6));
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) return along(b, c, (d4 - d3) / (d4 - d3 + (d5 - d6)));
  const inside = 1 / (va + vb + vc);
  const v = vb * inside;
  const w = vc * inside;
  return [a[0] + ab[0] * v + ac[0] * w, a[1] + ab[1] * v + ac[1] * w, a[2] + ab[2] * v + ac[2] * w];
}
