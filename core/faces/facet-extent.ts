import { nextSide } from '../mesh/half-edges.ts';
import type { IndexedMesh } from '../mesh/mesh.ts';
import type { TriangleChains } from './triangle-chains.ts';

/**
 * How far a facet reaches from the line of one of its edges, model units.
 * @param chains whose sets are the facets
 * @param root of the facet
 * @param h half-edge
 * @param most triangles that are looked at
 */
export function facetExtent(
  { vertices, triangles }: IndexedMesh,
  { head, next }: TriangleChains,
  root: number,
  h: number,
  most: number,
): number {
  const a = 3 * triangles[h];
  const b = 3 * triangles[nextSide(h)];
  const ex = vertices[b] - vertices[a];
  const ey = vertices[b + 1] - vertices[a + 1];
  const ez = vertices[b + 2] - vertices[a + 2];
  let most2 = 0;
  let looked = 0;
  for (let t = head[root]; t >= 0 && looked < most; t = next[t], looked++) {
    for (let i = 3 * t; i < 3 * t + 3; i++) {
      const p = 3 * triangles[i];
      const x = vertices[p] - vertices[a];
      const y = vertices[p + 1] - vertices[a + 1];
      const z = vertices[p + 2] - vertices[a + 2];
      const cx = y * ez - z * ey;
      const cy = z * ex - x * ez;
      const cz = x * ey - y * ex;
      const away2 = cx * cx + cy * cy + cz * cz;
      if (away2 > most2) most2 = away2;
    }
  }
  return Math.sqrt(most2 / (ex * ex + ey * ey + ez * ez || 1));
}
