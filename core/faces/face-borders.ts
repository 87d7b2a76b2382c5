import type { FaceTable } from './face-table.ts';
import { turnAcross, type SurfaceGraph } from './surface-graph.ts';

/**
 * One row for each pair of faces that meet along edges with exactly two triangles: shared length and length-weighted
 * mean turn. Rows ascend by a, then by first meeting. Edges with more triangles have no other side and are left out.
 */
export function faceBorders(
  graph: SurfaceGraph,
  faceOfTriangle: Uint32Array,
  faceCount: number,
): FaceTable['borders'] {
  const { twin } = graph;
  const { vertices, triangles } = graph.indexed;
  // Half-edges on a border, sorted by their lower face with a counting sort.
  const start = new Uint32Array(faceCount + 1);
  let total = 0;
  for (let h = 0, t = 0, side = 0; h < twin.length; h++) {
    const other = twin[h];
    if (other > h) {
      const f = faceOfTriangle[t];
      const g = faceOfTriangle[(other / 3) | 0];
      if (f !== g) {
        start[(f < g ? f : g) + 1]++;
        total++;
      }
    }
    if (++side === 3) {
      side = 0;
      t++;
    }
  }
  for (let f = 0; f < faceCount; f++) start[f + 1] += start[f];
  const sorted = new Uint32Array(total);
  const fill = start.slice();
  if (total > 0) {
    for (let h = 0, t = 0, side = 0; h < twin.length; h++) {
      const other = twin[h];
      if (other > h) {
        const f = faceOfTriangle[t];
        const g = faceOfTriangle[(other / 3) | 0];
        if (f !== g) sorted[fill[f < g ? f : g]++] = h;
      }
      if (++side === 3) {
        side = 0;
        t++;
      }
    }
  }
  const a: number[] = [];
  const b: number[] = [];
  const length: number[] = [];
  const turn: number[] = [];
  const rowOf = new Int32Array(faceCount).fill(-1);
  for (let f = 0; f < faceCount; f++) {
    const first = a.length;
    for (let i = start[f]; i < start[f + 1]; i++) {
      const h = sorted[i];
      const t = Math.floor(h / 3);
      const own = faceOfTriangle[t];
      const other = own === f ? faceOfTriangle[Math.floor(twin[h] / 3)] : own;
      let row = rowOf[other];
      if (row < first) {
        row = rowOf[other] = a.length;
        a.push(f);
        b.push(other);
        length.push(0);
        turn.push(0);
      }
      const from = triangles[h] * 3;
      const to = triangles[h % 3 === 2 ? h - 2 : h + 1] * 3;
      const edge = Math.hypot(
        vertices[to] - vertices[from],
        vertices[to + 1] - vertices[from + 1],
        vertices[to + 2] - vertices[from + 2],
      );
      length[row] += edge;
      turn[row] += edge * turnAcross(graph, h);
    }
  }
  return {
    a: Uint32Array.from(a),
    b: Uint32Array.from(b),
    length: Float64Array.from(length),
    turnRad: Float64Array.from(turn, (sum, row) => (length[row] > 0 ? sum / length[row] : 0)),
  };
}
