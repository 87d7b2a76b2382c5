import type { ContactSpot } from './bath-bodies.ts';

/** Sub-triangles at a spot's rim are halved until their longest side is this share of its radius. */
const RIM_SHARE = 0.15;

/**
 * A triangle less what lies within the spots, as smaller triangles (9 numbers each); the triangle itself where no spot
 * touches it. Only the rim is cut fine, so a small contact on a large flat triangle costs a few hundred pieces. Area right to
 * about RIM_SHARE/4 of the spot's.
 */
export function outsideSpots(triangle: readonly number[], spots: readonly ContactSpot[]): number[] {
  let left = [...triangle];
  for (const spot of spots) left = outsideSpot(left, spot);
  return left;
}

function outsideSpot(triangles: readonly number[], { atM, radiusM }: ContactSpot): number[] {
  const out: number[] = [];
  const stack: number[][] = [];
  const finest = (RIM_SHARE * radiusM) ** 2;
  for (let o = 0; o < triangles.length; o += 9) stack.push(triangles.slice(o, o + 9));
  while (stack.length > 0) {
    const p = stack.pop()!;
    let inside = 0;
    let side = 0;
    let longest = -1;
    for (let c = 0; c < 3; c++) {
      if (squared(p, c * 3, atM) < radiusM ** 2) inside++;
      const to = ((c + 1) % 3) * 3;
      const length = squared(p, c * 3, [p[to], p[to + 1], p[to + 2]]);
      if (length > longest) {
        longest = length;
        side = c;
      }
    }
    // A ball is convex: all corners inside means all of it.
    if (inside === 3) continue;
    const middle = [0, 1, 2].map((n) => (p[n] + p[3 + n] + p[6 + n]) / 3);
    const reach = radiusM + Math.sqrt(longest);
    if (inside === 0 && squared(middle, 0, atM) > reach ** 2) {
      out.push(...p);
      continue;
    }
    if (longest <= finest) {
      if (squared(middle, 0, atM) >= radiusM ** 2) out.push(...p);
      continue;
    }
    const a = p.slice(side * 3, side * 3 + 3);
    const b = p.slice(((side + 1) % 3) * 3, ((side + 1) % 3) * 3 + 3);
    const c = p.slice(((side + 2) % 3) * 3, ((side + 2) % 3) * 3 + 3);
    const half = a.map((x, n) => (x + b[n]) / 2);
    stack.push([...a, ...half, ...c], [...half, ...b, ...c]);
  }
  return out;
}

function squared(p: readonly number[], o: number, q: readonly number[]): number {
  return (p[o] - q[0]) ** 2 + (p[o + 1] - q[1]) ** 2 + (p[o + 2] - q[2]) ** 2;
}
