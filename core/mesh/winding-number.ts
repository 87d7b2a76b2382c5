/**
 * How often the chosen triangles go round a point: about 1 inside a closed outward shell, 0 outside, by the solid
 * angle of every triangle (Van Oosterom and Strackee, IEEE Trans. Biomed. Eng. 30, 1983).
 *
 * @param positions 9 floats a triangle
 */
export function windingNumber(
  positions: Float32Array,
  triangles: Iterable<number>,
  px: number,
  py: number,
  pz: number,
): number {
  let angle = 0;
  for (const t of triangles) {
    const i = 9 * t;
    const ax = positions[i] - px;
    const ay = positions[i + 1] - py;
    const az = positions[i + 2] - pz;
    const bx = positions[i + 3] - px;
    const by = positions[i + 4] - py;
    const bz = positions[i + 5] - pz;
    const cx = positions[i + 6] - px;
    const cy = positions[i + 7] - py;
    const cz = positions[i + 8] - pz;
    const a = Math.sqrt(ax * ax + ay * ay + az * az);
    const b = Math.sqrt(bx * bx + by * by + bz * bz);
    const c = Math.sqrt(cx * cx + cy * cy + cz * cz);
    const numerator = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    const denominator =
      a * b * c +
      (ax * bx + ay * by + az * bz) * c +
      (bx * cx + by * cy + bz * cz) * a +
      (cx * ax + cy * ay + cz * az) * b;
    angle += 2 * Math.atan2(numerator, denominator);
  }
  return angle / (4 * Math.PI);
}
