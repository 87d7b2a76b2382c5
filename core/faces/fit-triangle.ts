/**
 * A triangle whose corners lie on the surface, with the slopes known at some of its sides: with sides e₀ e₁ e₂, heights
 * h and curvature matrix H the rise inward at side k is eᵢᵀ H eⱼ / (2 hₖ). Among all H that agree the least bent is
 * taken; a plain least-squares fit loses it to rounding in a triangle a hundred times as long as wide.
 *
 * @param corners in the triangle's own plane, counter-clockwise
 * @param slopes rise inward at the middle of each side, NaN where it is not known
 * @param out six numbers from `at` on: c0 + c1 x + c2 y + c3 x²/2 + c4 x y + c5 y²/2
 */
export function fitTriangleInto(
  out: Float64Array,
  at: number,
  corners: readonly (readonly [number, number])[],
  slopes: readonly number[],
): void {
  const side = [0, 1, 2].map((k) => [
    corners[(k + 1) % 3][0] - corners[k][0],
    corners[(k + 1) % 3][1] - corners[k][1],
  ]);
  const twiceArea = side[0][0] * side[1][1] - side[0][1] * side[1][0];
  if (!(twiceArea > 0)) return;
  // Rows of the constraints on (Hxx, √2 Hxy, Hyy), each made unit length.
  const rows: number[][] = [];
  const values: number[] = [];
  for (let k = 0; k < 3; k++) {
    if (Number.isNaN(slopes[k])) continue;
    const [a, b] = [side[(k + 1) % 3], side[(k + 2) % 3]];
    const row = [a[0] * b[0], (a[0] * b[1] + a[1] * b[0]) / Math.SQRT2, a[1] * b[1]];
    const size = Math.hypot(row[0], row[1], row[2]);
    rows.push(row.map((x) => x / size));
    values.push((2 * twiceArea * slopes[k]) / Math.hypot(side[k][0], side[k][1]) / size);
  }
  // Gram–Schmidt: the least H is a sum of the rows.
  const basis: number[][] = [];
  const amounts: number[] = [];
  rows.forEach((row, i) => {
    const rest = row.slice();
    let value = values[i];
    basis.forEach((known, j) => {
      const dot = row[0] * known[0] + row[1] * known[1] + row[2] * known[2];
      for (let k = 0; k < 3; k++) rest[k] -= dot * known[k];
      value -= dot * amounts[j];
    });
    const size = Math.hypot(rest[0], rest[1], rest[2]);
    if (size < 1e-6) return;
    basis.push(rest.map((x) => x / size));
    amounts.push(value / size);
  });
  const bent = [0, 1, 2].map((k) => basis.reduce((sum, row, i) => sum + row[k] * amounts[i], 0));
  const [hxx, hxy, hyy] = [bent[0], bent[1] / Math.SQRT2, bent[2]];
  // The plane that brings the three corners back to 0.
  const w = corners.map(([x, y]) => -((hxx * x * x) / 2 + hxy * x * y + (hyy * y * y) / 2));
  const gx = -(w[0] * side[1][1] + w[1] * side[2][1] + w[2] * side[0][1]) / twiceArea;
  const gy = (w[0] * side[1][0] + w[1] * side[2][0] + w[2] * side[0][0]) / twiceArea;
  out.set([w[0] - gx * corners[0][0] - gy * corners[0][1], gx, gy, hxx, hxy, hyy], at);
}
