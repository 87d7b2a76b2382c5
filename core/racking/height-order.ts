/**
 * Heights of all vertices along one direction, and the vertices from the highest down. Heights are held as whole
 * numbers on a scale of 2³¹ steps, so that corners that are level in the file are exactly level here and the order,
 * the cuts and the rays all agree; a step is a hundred times finer than single precision.
 */
export interface HeightOrder {
  /** Per vertex: 0 at the lowest. */
  readonly key: Uint32Array;
  /** Length of one step, model units. */
  readonly step: number;
  /** Height of key 0, model units. */
  readonly base: number;
  /** Per vertex: coordinates square to the direction, model units. */
  readonly acrossX: Float64Array;
  readonly acrossY: Float64Array;
  /** Vertices from the highest to the lowest; level ones in the order of their numbers. */
  readonly order: Uint32Array;
}

const STEPS = 2 ** 31 - 1;

/**
 * @param vertices three coordinates a vertex
 * @param rotation nine numbers by row; the third row is the direction
 */
export function orderByHeight(vertices: Float64Array, rotation: readonly number[]): HeightOrder {
  const count = vertices.length / 3;
  const [a, b, c, d, e, f, g, h, i] = rotation as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const acrossX = new Float64Array(count);
  const acrossY = new Float64Array(count);
  const height = new Float64Array(count);
  let low = Infinity;
  let high = -Infinity;
  for (let v = 0; v < count; v++) {
    const x = vertices[3 * v]!;
    const y = vertices[3 * v + 1]!;
    const z = vertices[3 * v + 2]!;
    acrossX[v] = a * x + b * y + c * z;
    acrossY[v] = d * x + e * y + f * z;
    const up = g * x + h * y + i * z;
    height[v] = up;
    if (up < low) low = up;
    if (up > high) high = up;
  }
  const step = high > low ? (high - low) / STEPS : 1;
  const key = new Uint32Array(count);
  for (let v = 0; v < count; v++) key[v] = Math.round((height[v]! - low) / step);
  return { key, step, base: low, acrossX, acrossY, order: sortDown(key) };
}

/** Radix sort, two passes of 16 bits, largest first, stable. */
function sortDown(key: Uint32Array): Uint32Array {
  const count = key.length;
  let from = new Uint32Array(count);
  let to = new Uint32Array(count);
  for (let v = 0; v < count; v++) from[v] = v;
  for (const shift of [0, 16]) {
    const start = new Uint32Array(65_537);
    for (let v = 0; v < count; v++) start[65_536 - ((key[v]! >>> shift) & 0xffff)]!++;
    for (let bucket = 0; bucket < 65_536; bucket++) start[bucket + 1]! += start[bucket]!;
    for (let k = 0; k < count; k++) {
      const v = from[k]!;
      const bucket = 65_535 - ((key[v]! >>> shift) & 0xffff);
      to[start[bucket]!++] = v;
    }
    [from, to] = [to, from];
  }
  return from;
}
