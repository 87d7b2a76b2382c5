import { nextSide } from '../mesh/half-edges.ts';
import type { FaceTable } from './face-table.ts';
import { edgeTurns } from './edge-turns.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/**
 * One row for each pair of faces that meet along edges with exactly two triangles: shared length and length-weighted
 * mean turn. Rows ascend by a, then by first meeting. Edges with more triangles have no other side and are left out.
 *
 * @param apart half-edges that may lie on a border, one of each pair, ascending
 */
export function faceBorders(
  graph: SurfaceGraph,
  apart: Int32Array,
  faceOfTriangle: Uint32Array,
  faceCount: number,
): FaceTable['borders'] {
  const { twin } = graph;
  const { vertices, triangles } = graph.indexed;
  const turns = edgeTurns(graph);
  // Half-edges sorted by their lower face with a counting sort.
  const lower = new Uint32Array(apart.length);
  const start = new Uint32Array(faceCount + 1);
  for (let i = 0; i < apart.length; i++) {
    const f = faceOfTriangle[(apart[i] / 3) | 0];
    const g = faceOfTriangle[(twin[apart[i]] / 3) | 0];
    lower[i] = f < g ? f : g;
    if (f !== g) start[lower[i] + 1]++;
    else lower[i] = faceCount;
  }
  for (let f = 0; f < faceCount; f++) start[f + 1] += start[f];
  const sorted = new Uint32Array(start[faceCount]);
  const fill = start.slice();
  for (let i = 0; i < apart.length; i++) if (lower[i] < faceCount) sorted[fill[lower[i]]++] = apart[i];
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
      const to = triangles[nextSide(h)] * 3;
      const ex = vertices[to] - vertices[from];
      const ey = vertices[to + 1] - vertices[from + 1];
      const ez = vertices[to + 2] - vertices[from + 2];
      const edge = Math.sqrt(ex * ex + ey * ey + ez * ez);
      length[row] += edge;
      turn[row] += edge * turns[h];
    }
  }
  return {
    a: Uint32Array.from(a),
    b: Uint32Array.from(b),
    length: Float64Array.from(length),
    turnRad: Float64Array.from(turn, (sum, row) => (length[row] > 0 ? sum / length[row] : 0)),
  };
}
