import type { ConeSpans } from './cone-spans.ts';
import { edgeTurns } from './edge-turns.ts';
import type { FlatFacets } from './flat-facets.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/**
 * What triangles on cones that stand up and down by turns cut off, in place of what heights gave: see cone-spans.ts.
 *
 * @param own per face, changed; model units squared
 */
export function settleConesInto(
  own: Float64Array,
  graph: SurfaceGraph,
  { root, ends }: FlatFacets,
  spans: ConeSpans,
  faceOfTriangle: Uint32Array,
): void {
  const { twin, triangleAreas } = graph;
  const { vertices, triangles } = graph.indexed;
  const turns = edgeTurns(graph);
  for (const t of spans.onCones) {
    if (ends[root[t]] !== 0 || !(triangleAreas[t] > 0)) continue;
    const area = triangleAreas[t];
    const lengths = [0, 0, 0];
    const byHeight = [0, 0, 0];
    const rises = [0, 0, 0];
    for (let k = 0; k < 3; k++) {
      const h = 3 * t + k;
      const a = 3 * triangles[h];
      const b = 3 * triangles[3 * t + ((k + 1) % 3)];
      lengths[k] = Math.hypot(
        vertices[b] - vertices[a],
        vertices[b + 1] - vertices[a + 1],
        vertices[b + 2] - vertices[a + 2],
      );
      const u = (twin[h] / 3) | 0;
      byHeight[k] = (turns[h] * area) / (area + triangleAreas[u]);
      const share = spans.parts[t] / (spans.parts[t] + spans.parts[u]);
      rises[k] = Number.isNaN(share) ? byHeight[k] : turns[h] * share;
    }
    const rim = spans.rimOf(t);
    const settled = spans.tips.has(t)
      ? // Towards the tip the surface rises by the same all along: as over facets from rim to tip, see ruled-facets.ts.
        (area * byHeight.reduce((sum, rise, k) => (k === rim ? sum : sum + rise * rise), 0)) / 12
      : gainOf(area, rises, lengths);
    own[faceOfTriangle[t]] += settled - gainOf(area, byHeight, lengths);
  }
}

/** What a triangle cuts off, from its rises inward and the lengths of its sides: see facet-correction.ts. */
function gainOf(area: number, g: readonly number[], l: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const j = (k + 1) % 3;
    sum += g[k] * g[k] + 2 * g[k] * g[j] * (l[k] / l[j] + l[j] / l[k]);
  }
  return (area / 6) * sum;
}
