/**
 * Area that a polygon and a disc about the origin have in common, in closed form: Green's theorem side by side, a
 * triangle where the side runs inside the circle and a sector where it runs outside.
 *
 * @param polygon x y x y …, any number of corners; counter-clockwise counts positive
 * @param radius 0 or more
 */
export function discArea(polygon: readonly number[], radius: number): number {
  let area = 0;
  const n = polygon.length;
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 < n ? i + 2 : 0;
    area += sideArea(polygon[i], polygon[i + 1], polygon[j], polygon[j + 1], radius);
  }
  return area;
}

const SHORTEST2 = 1e-32;

/** Signed area of the triangle origin, a, b within the disc. */
function sideArea(ax: number, ay: number, bx: number, by: number, radius: number): number {
  const dx = bx - ax;
  const dy = by - ay;
  const length2 = dx * dx + dy * dy;
  const r2 = radius * radius;
  // So short a side adds less than the disc's area is known to; its squares could run out of digits.
  if (length2 <= SHORTEST2 * r2 || length2 === 0) return 0;
  // Where the side's line meets the circle, as shares of the way from a to b.
  const middle = -(ax * dx + ay * dy) / length2;
  const cross = ax * by - ay * bx;
  const half2 = r2 / length2 - (cross / length2) ** 2;
  if (half2 <= 0) return sector(ax, ay, bx, by, r2);
  const half = Math.sqrt(half2);
  const enter = Math.min(1, Math.max(0, middle - half));
  const leave = Math.min(1, Math.max(0, middle + half));
  if (leave <= enter) return sector(ax, ay, bx, by, r2);
  const px = ax + enter * dx;
  const py = ay + enter * dy;
  const qx = ax + leave * dx;
  const qy = ay + leave * dy;
  let area = (px * qy - py * qx) / 2;
  if (enter > 0) area += sector(ax, ay, px, py, r2);
  if (leave < 1) area += sector(qx, qy, bx, by, r2);
  return area;
}

function sector(ax: number, ay: number, bx: number, by: number, r2: number): number {
  return (r2 / 2) * Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}

/**
 * The part of a polygon where a·x + b·y ≤ c (Sutherland and Hodgman, CACM 17, 1974). Convex in, convex out.
 *
 * @param polygon x y x y …
 */
export function clipHalfPlane(polygon: readonly number[], a: number, b: number, c: number): number[] {
  const kept: number[] = [];
  const n = polygon.length;
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 < n ? i + 2 : 0;
    const [x, y, u, v] = [polygon[i], polygon[i + 1], polygon[j], polygon[j + 1]];
    const here = a * x + b * y - c;
    const there = a * u + b * v - c;
    if (here <= 0) kept.push(x, y);
    if ((here < 0 && there > 0) || (here > 0 && there < 0)) {
      const share = here / (here - there);
      kept.push(x + share * (u - x), y + share * (v - y));
    }
  }
  return kept;
}
