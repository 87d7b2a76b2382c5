/**
 * Area of a triangle soup in its own units squared: half the length of the cross product of two sides, summed in
 * float64. Summing in float32 is wrong by 1e-3 at a million triangles.
 *
 * @param positions 9 floats a triangle
 */
export function surfaceArea(positions: Float32Array): number {
  if (positions.length % 9 !== 0) {
    throw new RangeError(`positions: length must be a multiple of 9, got ${positions.length}`);
  }
  let doubled = 0;
  for (let i = 0; i < positions.length; i += 9) {
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
    doubled += Math.sqrt(nx * nx + ny * ny + nz * nz);
  }
  return doubled / 2;
}
