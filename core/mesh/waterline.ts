/** A level in the part's own coordinates: what lies at or below it is wetted. */
export interface Waterline {
  /** Up, out of the bath; any length above 0. */
  readonly up: readonly [number, number, number];
  /** A point on the bath's surface, model units. */
  readonly point: readonly [number, number, number];
}

export interface Wetted {
  /** Per triangle: share of its area below the level, 0 to 1. */
  readonly shareOfTriangle: Float64Array;
  /** Per triangle, in the unit of the areas given: use it in place of them. */
  readonly areaOfTriangle: Float64Array;
  readonly area: number;
  /** Length of the line in which the level cuts the surface, model units. */
  readonly cutLength: number;
  /** Below the level, model units cubed; null unless the mesh is closed. */
  readonly volume: number | null;
}

/**
 * Cuts the surface at the bath's level. A triangle that the level crosses counts with the part of it below: the corner
 * cut off is similar to the triangle, so its share is the product of two ratios of depths, without making the cut mesh. The
 * volume comes from the divergence theorem seen from a point on the level: the lid that would close the cut body
 * stands at no height over that point and adds nothing.
 *
 * Triangles that lie in the level are wetted (the acid creeps over such a face). Where an edge lies in the level, it
 * belongs to the cut once for each triangle below it.
 *
 * @param positions 9 floats a triangle
 * @param triangleAreas one a triangle; may carry exact or corrected areas
 * @param closed whether the mesh bounds a body
 */
export function cutAtWaterline(
  positions: Float32Array,
  triangleAreas: Float64Array,
  closed: boolean,
  { up, point }: Waterline,
): Wetted {
  const count = triangleAreas.length;
  if (positions.length !== 9 * count) {
    throw new RangeError(`positions: ${9 * count} floats needed for ${count} areas, got ${positions.length}`);
  }
  const size = Math.hypot(up[0], up[1], up[2]);
  if (!(size > 0 && size < Infinity)) throw new RangeError(`up: needs a direction, got ${up.join(', ')}`);
  const [nx, ny, nz] = [up[0] / size, up[1] / size, up[2] / size];
  const [ox, oy, oz] = point;
  if (!Number.isFinite(ox + oy + oz)) throw new RangeError(`point: must be finite, got ${point.join(', ')}`);
  const shareOfTriangle = new Float64Array(count);
  const areaOfTriangle = new Float64Array(count);
  const p = new Float64Array(9);
  const height = new Float64Array(3);
  let area = 0;
  let cutLength = 0;
  let six = 0;
  for (let t = 0, i = 0; t < count; t++, i += 9) {
    for (let k = 0; k < 9; k += 3) {
      p[k] = positions[i + k] - ox;
      p[k + 1] = positions[i + k + 1] - oy;
      p[k + 2] = positions[i + k + 2] - oz;
    }
    const a = p[0] * nx + p[1] * ny + p[2] * nz;
    const b = p[3] * nx + p[4] * ny + p[5] * nz;
    const c = p[6] * nx + p[7] * ny + p[8] * nz;
    const above = (a > 0 ? 1 : 0) + (b > 0 ? 1 : 0) + (c > 0 ? 1 : 0);
    if (above === 3) continue;
    const whole =
      p[0] * (p[4] * p[8] - p[5] * p[7]) +
      p[1] * (p[5] * p[6] - p[3] * p[8]) +
      p[2] * (p[3] * p[7] - p[4] * p[6]);
    let share = 1;
    if (above === 0) {
      six += whole;
      if (a === 0 || b === 0 || c === 0) cutLength += levelEdge(p, a, b, c);
    } else {
      height[0] = a;
      height[1] = b;
      height[2] = c;
      // The corner alone on its side, and the other two in order.
      const alone = above === 1 ? (a > 0 ? 0 : b > 0 ? 1 : 2) : a <= 0 ? 0 : b <= 0 ? 1 : 2;
      const next = (alone + 1) % 3;
      const last = (alone + 2) % 3;
      const s = height[alone] / (height[alone] - height[next]);
      const r = height[alone] / (height[alone] - height[last]);
      const corner = s * r;
      share = above === 1 ? 1 - corner : corner;
      const q = 3 * alone;
      // With both others in the level that side belongs to the triangle below it, not to this one.
      if (share > 0) {
        let length2 = 0;
        for (let k = 0; k < 3; k++) {
          const side = s * (p[3 * next + k] - p[q + k]) - r * (p[3 * last + k] - p[q + k]);
          length2 += side * side;
        }
        cutLength += Math.sqrt(length2);
      }
      // From a point on the level all pieces of one triangle have volumes as their areas.
      six += share * whole;
    }
    shareOfTriangle[t] = share;
    areaOfTriangle[t] = share * triangleAreas[t];
    area += areaOfTriangle[t];
  }
  return { shareOfTriangle, areaOfTriangle, area, cutLength, volume: closed ? six / 6 : null };
}

/** Length of the side that lies in the level, where the third corner is below it. */
function levelEdge(p: Float64Array, a: number, b: number, c: number): number {
  const side = (i: number, j: number): number =>
    Math.hypot(p[j] - p[i], p[j + 1] - p[i + 1], p[j + 2] - p[i + 2]);
  if (a === 0 && b === 0 && c < 0) return side(0, 3);
  if (b === 0 && c === 0 && a < 0) return side(3, 6);
  if (c === 0 && a === 0 && b < 0) return side(6, 0);
  return 0;
}
