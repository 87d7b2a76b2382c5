import type { SplitTriangles } from './split-triangles.ts';

/**
 * Cuts the triangles that a level crosses along it, so that none is partly in the liquid. Both triangles at a side cut it in the
 * same point: a closed surface stays closed.
 * @param up unit vector out of the liquid
 * @param level height of it along `up`, the unit of the positions
 */
export function cutAtLevel(
  { positions: p, source }: SplitTriangles,
  up: readonly [number, number, number],
  level: number,
): SplitTriangles {
  const over = (o: number): number => p[o]! * up[0] + p[o + 1]! * up[1] + p[o + 2]! * up[2] - level;
  const made: number[] = [];
  const madeOf: number[] = [];
  let crossed = false;
  for (let t = 0; t < source.length; t++) {
    const corners = [9 * t, 9 * t + 3, 9 * t + 6];
    const heights = corners.map(over);
    if (heights.every((h) => h >= 0) || heights.every((h) => h <= 0)) {
      for (let n = 0; n < 9; n++) made.push(p[9 * t + n]!);
      madeOf.push(source[t]!);
      continue;
    }
    crossed = true;
    const [below, above]: [number[][], number[][]] = [[], []];
    corners.forEach((a, k) => {
      const b = corners[(k + 1) % 3]!;
      const [h, next] = [heights[k]!, heights[(k + 1) % 3]!];
      const corner = [p[a]!, p[a + 1]!, p[a + 2]!];
      if (h <= 0) below.push(corner);
      if (h >= 0) above.push(corner);
      if (h * next < 0) {
        const [low, high, share] = h < 0 ? [a, b, h / (h - next)] : [b, a, next / (next - h)];
        const at = [0, 1, 2].map((n) => p[low + n]! + share * (p[high + n]! - p[low + n]!));
        below.push(at);
        above.push(at);
      }
    });
    for (const outline of [below, above]) {
      for (let k = 1; k + 1 < outline.length; k++) {
        made.push(...outline[0]!, ...outline[k]!, ...outline[k + 1]!);
        madeOf.push(source[t]!);
      }
    }
  }
  return crossed
    ? { positions: Float64Array.from(made), source: Uint32Array.from(madeOf) }
    : { positions: p, source };
}
