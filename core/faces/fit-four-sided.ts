/** Pull towards 0 of what the slopes leave open, as a share of what they say. */
const RIDGE = 1e-3;

/**
 * A four-sided facet whose corners lie on the surface: the surface's height over it vanishes in them, so as a quadratic
 * it is α L₁ L₃ + β L₂ L₄, with L the distances from the four sides in order. The rises inward at the middles of the sides
 * tell α and β, by least squares.
 *
 * @param lines 5 a side: its distance inward as a + b x + c y, and its middle x, y
 * @param rises 2 a side: rise inward at its middle, and weight (0 where it is not known); the ninth is set to the mean
 *   square of the rises
 * @param out six numbers from `at` on: c0 + c1 x + c2 y + c3 x²/2 + c4 x y + c5 y²/2
 * @returns 1 where the rises agree with one another, 0 where they contradict
 */
export function fitFourSidedInto(
  out: Float64Array,
  at: number,
  lines: Float64Array,
  rises: Float64Array,
): number {
  const l0 = lines[0];
  const l1 = lines[1];
  const l2 = lines[2];
  const l5 = lines[5];
  const l6 = lines[6];
  const l7 = lines[7];
  const l10 = lines[10];
  const l11 = lines[11];
  const l12 = lines[12];
  const l15 = lines[15];
  const l16 = lines[16];
  const l17 = lines[17];
  let aa = 1e-12;
  let ab = 0;
  let bb = 1e-12;
  let ag = 0;
  let bg = 0;
  let gg = 0;
  let weights = 0;
  let scale = 0;
  for (let i = 0; i < 4; i++) {
    const weight = rises[2 * i + 1];
    if (weight === 0) continue;
    const g = rises[2 * i];
    const nx = lines[5 * i + 1];
    const ny = lines[5 * i + 2];
    const x = lines[5 * i + 3];
    const y = lines[5 * i + 4];
    // Rise inward at the middle of the side of the product of the distances from two sides.
    const alpha =
      (l0 + l1 * x + l2 * y) * (l11 * nx + l12 * ny) + (l10 + l11 * x + l12 * y) * (l1 * nx + l2 * ny);
    const beta =
      (l5 + l6 * x + l7 * y) * (l16 * nx + l17 * ny) + (l15 + l16 * x + l17 * y) * (l6 * nx + l7 * ny);
    aa += weight * alpha * alpha;
    ab += weight * alpha * beta;
    bb += weight * beta * beta;
    ag += weight * alpha * g;
    bg += weight * beta * g;
    gg += weight * g * g;
    weights += weight;
    scale = Math.max(scale, Math.abs(alpha), Math.abs(beta));
  }
  const ridge = RIDGE * RIDGE * scale * scale;
  aa += ridge;
  bb += ridge;
  const determinant = aa * bb - ab * ab;
  const alpha = (ag * bb - bg * ab) / determinant;
  const beta = (bg * aa - ag * ab) / determinant;
  const missed =
    gg - 2 * (alpha * ag + beta * bg) + alpha * alpha * aa + 2 * alpha * beta * ab + beta * beta * bb;
  // Both products multiplied out.
  out[at] = 0 + alpha * l0 * l10 + beta * l5 * l15;
  out[at + 1] = 0 + alpha * (l0 * l11 + l1 * l10) + beta * (l5 * l16 + l6 * l15);
  out[at + 2] = 0 + alpha * (l0 * l12 + l2 * l10) + beta * (l5 * l17 + l7 * l15);
  out[at + 3] = 0 + 2 * alpha * l1 * l11 + 2 * beta * l6 * l16;
  out[at + 4] = 0 + alpha * (l1 * l12 + l2 * l11) + beta * (l6 * l17 + l7 * l16);
  out[at + 5] = 0 + 2 * alpha * l2 * l12 + 2 * beta * l7 * l17;
  rises[8] = weights > 0 ? gg / weights : 0;
  return gg > 0 ? Math.min(1, Math.max(0, 1 - missed / gg)) : 1;
}
