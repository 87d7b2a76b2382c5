export interface Bounds {
  readonly min: readonly [number, number, number];
  readonly max: readonly [number, number, number];
}

/** Smallest box along the axes that holds every corner; `positions` holds at least one point of 3 floats. */
export function boundsOf(positions: Float32Array): Bounds {
  if (positions.length < 3 || positions.length % 3 !== 0) {
    throw new RangeError(`positions: need whole points, at least one; got length ${positions.length}`);
  }
  let minX = positions[0];
  let minY = positions[1];
  let minZ = positions[2];
  let maxX = minX;
  let maxY = minY;
  let maxZ = minZ;
  for (let i = 3; i < positions.length; i += 3) {
    const x = positions[i];
    const y = positions[i + 1];
    const z = positions[i + 2];
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
    if (z < minZ) minZ = z;
    if (z > maxZ) maxZ = z;
  }
  return { min: [minX, minY, minZ], max: [maxX, maxY, maxZ] };
}

/**
 * How far a corner can be from where its author meant it, from being kept as float32: one step of the largest
 * coordinate. Anything thinner than a few of these has no direction.
 */
export function coordinateNoise({ min, max }: Bounds): number {
  return 2 ** -23 * Math.max(...min.map(Math.abs), ...max.map(Math.abs));
}
