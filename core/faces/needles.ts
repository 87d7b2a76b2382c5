import type { SurfaceGraph } from './surface-graph.ts';

/** Triangles whose area is less than half of this share of the square of their longest side. */
const SLENDER = 0.1;

/** Whether a triangle, or some triangles together, are needles. */
export function areNeedles(area: number, longestSides2: number): boolean {
  return 2 * area < SLENDER * longestSides2;
}

/** Square of a triangle's longest side. */
export function longestSide2({ indexed }: Pick<SurfaceGraph, 'indexed'>, t: number): number {
  const { vertices, triangles } = indexed;
  let longest = 0;
  for (let k = 0; k < 3; k++) {
    const [a, b] = [3 * triangles[3 * t + k], 3 * triangles[3 * t + ((k + 1) % 3)]];
    let length2 = 0;
    for (let i = 0; i < 3; i++) length2 += (vertices[b + i] - vertices[a + i]) ** 2;
    longest = Math.max(longest, length2);
  }
  return longest;
}
