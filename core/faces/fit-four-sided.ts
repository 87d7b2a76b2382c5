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
    const alpha = pairSlope(lines, 0, 10, 5 * i);
    const beta = pairSlope(lines, 5, 15, 5 * i);
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
  for (let k = at; k < at + 6; k++) out[k] = 0;
  addProductInto(out, at, alpha, lines, 0, 10);
  addProductInto(out, at, beta, lines, 5, 15);
  rises[8] = weights > 0 ? gg / weights : 0;
  return gg > 0 ? Math.min(1, Math.max(0, 1 - missed / gg)) : 1;
}

/** Rise inward at the middle of side `s` of the product of the distances from sides `i` and `j`. */
function pairSlope(lines: Float64Array, i: number, j: number, s: number): number {
  const x = lines[s + 3];
  const y = lines[s + 4];
  const first = lines[i] + lines[i + 1] * x + lines[i + 2] * y;
  const second = lines[j] + lines[j + 1] * x + lines[j + 2] * y;
  return (
    first * (lines[j + 1] * lines[s + 1] + lines[j + 2] * lines[s + 2]) +
    second * (lines[i + 1] * lines[s + 1] + lines[i + 2] * lines[s + 2])
  );
}

/** Adds a multiple of the product of two distances to a quadratic. */
function addProductInto(
  out: Float64Array,
  at: number,
  factor: number,
  lines: Float64Array,
  i: number,
  j: number,
): void {
  out[at] += factor * lines[i] * lines[j];
  out[at + 1] += factor * (lines[i] * lines[j + 1] + lines[i + 1] * lines[j]);
  out[at + 2] += factor * (lines[i] * lines[j + 2] + lines[i + 2] * lines[j]);
  out[at + 3] += 2 * factor * lines[i + 1] * lines[j + 1];
  out[at + 4] += factor * (lines[i + 1] * lines[j + 2] + lines[i + 2] * lines[j + 1]);
  out[at + 5] += 2 * factor * lines[i + 2] * lines[j + 2];
}
