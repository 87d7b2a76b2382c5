export interface TriangleMeasures {
  /** Per triangle, model units squared. */
  readonly areas: Float64Array;
  /** 3 floats a triangle, unit length; 0 0 0 where the triangle has no area. */
  readonly normals: Float32Array;
  readonly area: number;
  /** Triangles lower than a few steps of their coordinates: their normals are noise. */
  readonly needles: Uint32Array;
}

/** A triangle's least height, in steps of its coordinates, below which its normal says nothing. */
const NEEDLE_STEPS = 4;

/**
 * Area and normal of every triangle in one pass, float64 throughout, normals kept as float32.
 *
 * @param positions 9 floats a triangle
 * @param noise one step of the coordinates, see coordinateNoise
 */
export function measureTriangles(positions: Float32Array, noise: number): TriangleMeasures {
  if (positions.length % 9 !== 0) {
    throw new RangeError(`positions: length must be a multiple of 9, got ${positions.length}`);
  }
  const count = positions.length / 9;
  const areas = new Float64Array(count);
  const normals = new Float32Array(count * 3);
  const needles: number[] = [];
  const area = measureInto(areas, normals, needles, positions, (NEEDLE_STEPS * noise) ** 2);
  return { areas, normals, area, needles: Uint32Array.from(needles) };
}

/**
 * On its own, since what V8 has compiled for a loop is dropped where the function goes on to what it has not seen yet.
 *
 * @param least2 square of the least height of a triangle that is no needle
 * @returns the area of all
 */
function measureInto(
  areas: Float64Array,
  normals: Float32Array,
  needles: number[],
  positions: Float32Array,
  least2: number,
): number {
  let area = 0;
  for (let t = 0, i = 0, n = 0; t < areas.length; t++, i += 9, n += 3) {
    const ax = positions[i];
    const ay = positions[i + 1];
    const az = positions[i + 2];
    const ux = positions[i + 3] - ax;
    const uy = positions[i + 4] - ay;
    const uz = positions[i + 5] - az;
    const vx = positions[i + 6] - ax;
    const vy = positions[i + 7] - ay;
    const vz = positions[i + 8] - az;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const length2 = nx * nx + ny * ny + nz * nz;
    const length = Math.sqrt(length2);
    areas[t] = length / 2;
    area += length;
    if (length > 0) {
      normals[n] = nx / length;
      normals[n + 1] = ny / length;
      normals[n + 2] = nz / length;
    }
    // Least height = twice the area over the longest side; u, v and v − u are the sides.
    const uu = ux * ux + uy * uy + uz * uz;
    const vv = vx * vx + vy * vy + vz * vz;
    const ww = uu + vv - 2 * (ux * vx + uy * vy + uz * vz);
    const longest2 = uu > vv ? (uu > ww ? uu : ww) : vv > ww ? vv : ww;
    if (!(length2 > least2 * longest2)) needles.push(t);
  }
  return area / 2;
}
