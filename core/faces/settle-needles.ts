import { runSameWay } from '../mesh/edge-adjacency.ts';

/**
 * Gives needles (triangles without a direction of their own) the normal of the neighbour across their longest side,
 * so that a face runs on over them. Chains of needles are followed until nothing changes. Changes `normals`.
 *
 * @param needles triangle numbers
 * @param normals 3 floats a triangle
 */
export function settleNeedlesInto(
  normals: Float32Array,
  needles: Uint32Array,
  vertices: Float32Array,
  triangles: Uint32Array,
  twin: Int32Array,
): void {
  const waiting = new Set<number>(needles);
  let left = -1;
  while (waiting.size > 0 && waiting.size !== left) {
    left = waiting.size;
    for (const t of waiting) {
      // Longest side first; another side only when that one has no neighbour at all.
      const sides = [0, 1, 2]
        .map((k) => ({ halfEdge: 3 * t + k, length2: sideLength2(vertices, triangles, t, k) }))
        .filter(({ halfEdge }) => twin[halfEdge] >= 0)
        .sort((a, b) => b.length2 - a.length2);
      if (sides.length === 0) {
        waiting.delete(t);
        continue;
      }
      const { halfEdge } = sides[0];
      const across = Math.floor(twin[halfEdge] / 3);
      if (waiting.has(across)) {
        // Two needles that lie on each other's longest side: go round by the next side.
        const way = sides.slice(1).find((side) => !waiting.has(Math.floor(twin[side.halfEdge] / 3)));
        const backToBack = sidesPointAtEachOther(vertices, triangles, t, across, halfEdge, twin[halfEdge]);
        if (!backToBack || !way) continue;
        copyNormal(normals, t, way.halfEdge, triangles, twin);
      } else copyNormal(normals, t, halfEdge, triangles, twin);
      waiting.delete(t);
    }
  }
}

function copyNormal(
  normals: Float32Array,
  t: number,
  halfEdge: number,
  triangles: Uint32Array,
  twin: Int32Array,
): void {
  const other = twin[halfEdge];
  const from = Math.floor(other / 3) * 3;
  const sign = runSameWay(triangles, halfEdge, other) ? -1 : 1;
  for (let axis = 0; axis < 3; axis++) normals[3 * t + axis] = sign * normals[from + axis];
}

function sidesPointAtEachOther(
  vertices: Float32Array,
  triangles: Uint32Array,
  t: number,
  u: number,
  halfEdge: number,
  twinEdge: number,
): boolean {
  const longest = (triangle: number, side: number) =>
    [0, 1, 2].every(
      (k) =>
        sideLength2(vertices, triangles, triangle, k) <= sideLength2(vertices, triangles, triangle, side),
    );
  return longest(t, halfEdge - 3 * t) && longest(u, twinEdge - 3 * u);
}

function sideLength2(vertices: Float32Array, triangles: Uint32Array, t: number, k: number): number {
  const a = triangles[3 * t + k] * 3;
  const b = triangles[3 * t + ((k + 1) % 3)] * 3;
  return (
    (vertices[b] - vertices[a]) ** 2 +
    (vertices[b + 1] - vertices[a + 1]) ** 2 +
    (vertices[b + 2] - vertices[a + 2]) ** 2
  );
}
