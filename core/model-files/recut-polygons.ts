import type { ModelNote } from './loaded-model.ts';
import type { ModelLoaders, PlanePoint } from './loader-parsers.ts';

/** A cut covers too much when its triangles sum to more than the polygon's own area by this fraction. */
const EXCESS = 1e-5;
/** From here on a warped or crossing polygon makes a difference worth telling. */
const WORTH_TELLING = 0.01;

const DIRECTIONS = [0, 1, 2] as const;

/** Area of the polygon as the length of its area vector (Newell): exact for a flat polygon, convex or not. */
function areaVector(corners: Float64Array): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  const count = corners.length / 3;
  for (let i = 0; i < count; i++) {
    const a = i * 3;
    const b = ((i + 1) % count) * 3;
    // Measured from the first corner, so that a part far from the origin loses nothing.
    const [ax, ay, az] = DIRECTIONS.map((d) => corners[a + d]! - corners[d]!) as [number, number, number];
    const [bx, by, bz] = DIRECTIONS.map((d) => corners[b + d]! - corners[d]!) as [number, number, number];
    sum[0] += (ay * bz - az * by) / 2;
    sum[1] += (az * bx - ax * bz) / 2;
    sum[2] += (ax * by - ay * bx) / 2;
  }
  return sum;
}

function cutArea(corners: Float64Array, cut: readonly number[][]): number {
  let area = 0;
  for (const [a, b, c] of cut) {
    const [ux, uy, uz] = DIRECTIONS.map((d) => corners[b! * 3 + d]! - corners[a! * 3 + d]!);
    const [vx, vy, vz] = DIRECTIONS.map((d) => corners[c! * 3 + d]! - corners[a! * 3 + d]!);
    area += Math.hypot(uy! * vz! - uz! * vy!, uz! * vx! - ux! * vz!, ux! * vy! - uy! * vx!) / 2;
  }
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

/**
 * Looks again at every polygon of more than three corners, which the loader cut as a fan from its first corner. Where
 * the fan's triangles sum to more than the polygon's area, the polygon has a reentrant corner (or is not flat) and is
 * cut again with `cutPolygon`, in place, if that covers less. `polygons` holds flat pairs: first triangle, corners.
 */
export function recutPolygonsInto(
  positions: Float32Array,
  polygons: readonly number[],
  cutPolygon: ModelLoaders['cutPolygon'],
): ModelNote[] {
  let recut = 0;
  let warped = 0;
  for (let i = 0; i < polygons.length; i += 2) {
    const at = polygons[i]! * 9;
    const count = polygons[i + 1]!;
    const corners = new Float64Array(count * 3);
    corners.set(positions.subarray(at, at + 6));
    for (let t = 0; t < count - 2; t++) {
      corners.set(positions.subarray(at + t * 9 + 6, at + t * 9 + 9), (t + 2) * 3);
    }
    const normal = areaVector(corners);
    const area = Math.hypot(...normal);
    let covered = cutArea(
      corners,
      Array.from({ length: count - 2 }, (_, t) => [0, t + 1, t + 2]),
    );
    if (!(covered > area * (1 + EXCESS))) continue;
    if (area > 0) {
      const contour = inPlane(corners, normal);
      const cut = cutPolygon(contour).map((triangle) =>
        turnsLeft(contour, triangle) ? triangle : [triangle[0]!, triangle[2]!, triangle[1]!],
      );
      const again = cut.length === count - 2 ? cutArea(corners, cut) : Infinity;
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
      code: 'obj-polygons-recut',
      level: 'note',
      message: `${recut} polygons with reentrant corners were cut into triangles here.`,
      remedy: 'Nothing to do if the part looks right.',
    });
  }
  if (warped > 0) {
    notes.push({
      code: 'obj-polygons-warped',
      level: 'check',
      message: `${warped} polygons are not flat or cross themselves, so their area depends on how they are cut into triangles.`,
      remedy: 'Export the part as triangles, so that the exporter decides.',
    });
  }
  return notes;
}
