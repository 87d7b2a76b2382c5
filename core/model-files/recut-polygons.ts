import type { ModelNote } from './loaded-model.ts';
import type { ModelLoaders, PlanePoint } from './loader-parsers.ts';

/** A cut covers too much when its triangles sum to more than the polygon's own area by this fraction. */
const EXCESS = 1e-5;
/** From here on a warped or crossing polygon makes a difference worth telling. */
const WORTH_TELLING = 0.01;

/** Area of the polygon as the length of its area vector (Newell): exact for a flat polygon, convex or not. */
function areaVector(corners: Float64Array): [number, number, number] {
  // Measured from the first corner, so that a part far from the origin loses nothing.
  const [ox, oy, oz] = corners;
  let x = 0;
  let y = 0;
  let z = 0;
  for (let a = 3; a + 5 < corners.length; a += 3) {
    const ax = corners[a]! - ox!;
    const ay = corners[a + 1]! - oy!;
    const az = corners[a + 2]! - oz!;
    const bx = corners[a + 3]! - ox!;
    const by = corners[a + 4]! - oy!;
    const bz = corners[a + 5]! - oz!;
    x += (ay * bz - az * by) / 2;
    y += (az * bx - ax * bz) / 2;
    z += (ax * by - ay * bx) / 2;
  }
  return [x, y, z];
}

function triangleArea(corners: Float64Array, a: number, b: number, c: number): number {
  const ux = corners[b * 3]! - corners[a * 3]!;
  const uy = corners[b * 3 + 1]! - corners[a * 3 + 1]!;
  const uz = corners[b * 3 + 2]! - corners[a * 3 + 2]!;
  const vx = corners[c * 3]! - corners[a * 3]!;
  const vy = corners[c * 3 + 1]! - corners[a * 3 + 1]!;
  const vz = corners[c * 3 + 2]! - corners[a * 3 + 2]!;
  return Math.sqrt((uy * vz - uz * vy) ** 2 + (uz * vx - ux * vz) ** 2 + (ux * vy - uy * vx) ** 2) / 2;
}

function fanArea(corners: Float64Array): number {
  let area = 0;
  for (let k = 1; k + 1 < corners.length / 3; k++) area += triangleArea(corners, 0, k, k + 1);
  return area;
}

/** Seen against its largest direction, keeping the turn: counter-clockwise in the plane is counter-clockwise in space. */
function inPlane(corners: Float64Array, normal: readonly number[]): PlanePoint[] {
  const size = normal.map(Math.abs);
  const drop = size[0]! >= size[1]! && size[0]! >= size[2]! ? 0 : size[1]! >= size[2]! ? 1 : 2;
  const flip = normal[drop]! < 0;
  const x = (drop + (flip ? 2 : 1)) % 3;
  const y = (drop + (flip ? 1 : 2)) % 3;
  return Array.from({ length: corners.length / 3 }, (_, i) => ({
    x: corners[i * 3 + x]! - corners[x]!,
    y: corners[i * 3 + y]! - corners[y]!,
  }));
}

function turnsLeft(contour: readonly PlanePoint[], [a, b, c]: readonly number[]): boolean {
  const p = contour[a!]!;
  const q = contour[b!]!;
  const r = contour[c!]!;
  return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x) >= 0;
}

function hasReentrantCorner(contour: readonly PlanePoint[]): boolean {
  const { length } = contour;
  return contour.some((_, b) => !turnsLeft(contour, [(b + length - 1) % length, b, (b + 1) % length]));
}

/**
 * Looks again at every polygon of more than three corners, which the loader cut as a fan from its first corner. Where
 * the fan's triangles sum to more than the polygon's area, the polygon has a reentrant corner, and is cut
 * again in place, or it is not flat, which is only told. `polygons` holds flat pairs: first triangle, corners.
 */
export function recutPolygonsInto(
  positions: Float32Array,
  polygons: readonly number[],
  cutPolygon: ModelLoaders['cutPolygon'],
  format: 'obj' | 'ply' = 'obj',
): ModelNote[] {
  let recut = 0;
  let warped = 0;
  const quad = new Float64Array(12);
  for (let i = 0; i < polygons.length; i += 2) {
    const at = polygons[i]! * 9;
    const count = polygons[i + 1]!;
    const corners = count === 4 ? quad : new Float64Array(count * 3);
    for (let k = 0; k < 6; k++) corners[k] = positions[at + k]!;
    for (let t = 0; t < count - 2; t++) {
      for (let k = 0; k < 3; k++) corners[(t + 2) * 3 + k] = positions[at + t * 9 + 6 + k]!;
    }
    const normal = areaVector(corners);
    const area = Math.hypot(normal[0], normal[1], normal[2]);
    let covered = fanArea(corners);
    if (!(covered > area * (1 + EXCESS))) continue;
    const contour = inPlane(corners, normal);
    if (area > 0 && hasReentrantCorner(contour)) {
      const cut = cutPolygon(contour).map((triangle) =>
        turnsLeft(contour, triangle) ? triangle : [triangle[0]!, triangle[2]!, triangle[1]!],
      );
      const again =
        cut.length === count - 2
          ? cut.reduce((sum, [a, b, c]) => sum + triangleArea(corners, a!, b!, c!), 0)
          : Infinity;
      if (again < covered * (1 - EXCESS)) {
        covered = again;
        recut++;
        cut.flat().forEach((corner, k) => {
          positions.set(corners.subarray(corner * 3, corner * 3 + 3), at + k * 3);
        });
      }
    }
    if (covered > area * (1 + WORTH_TELLING)) warped++;
  }
  const notes: ModelNote[] = [];
  if (recut > 0) {
    notes.push({
      code: `${format}-polygons-recut`,
      level: 'note',
      message: `${recut} polygons with reentrant corners were cut into triangles here.`,
      remedy: 'Nothing to do if the part looks right.',
    });
  }
  if (warped > 0) {
    notes.push({
      code: `${format}-polygons-warped`,
      level: 'check',
      message: `${warped} polygons are not flat or cross themselves, so their area depends on how they are cut into triangles.`,
      remedy: 'Export the part as triangles, so that the exporter decides.',
    });
  }
  return notes;
}
