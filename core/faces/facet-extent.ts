import { nextSide } from '../mesh/half-edges.ts';
import type { IndexedMesh } from '../mesh/mesh.ts';

/**
 * How far a facet reaches from the line of one of its edges, model units.
 * @param next see triangle-chains.ts; sets are the facets
 * @param root of the facet
 * @param h half-edge
 * @param most triangles that are looked at
 */
export function facetExtent(
  { vertices, triangles }: IndexedMesh,
  next: Int32Array,
  root: number,
  h: number,
  most: number,
): number {
  const a = 3 * triangles[h];
  const b = 3 * triangles[nextSide(h)];
  const ax = vertices[a];
  const ay = vertices[a + 1];
  const az = vertices[a + 2];
  const ex = vertices[b] - ax;
  const ey = vertices[b + 1] - ay;
  const ez = vertices[b + 2] - az;
  let most2 = 0;
  let looked = 0;
  let last = -1;
  for (let t = root; t >= 0 && looked < most; t = next[t], looked++) {
    for (let i = 3 * t; i < 3 * t + 3; i++) {
      const p = 3 * triangles[i];
      // On the line itself, or looked at just now.
      if (p === a || p === b || p === last) continue;
      last = p;
      const x = vertices[p] - ax;
      const y = vertices[p + 1] - ay;
      const z = vertices[p + 2] - az;
      const cx = y * ez - z * ey;
      const cy = z * ex - x * ez;
      const cz = x * ey - y * ex;
      const away2 = cx * cx + cy * cy + cz * cz;
      if (away2 > most2) most2 = away2;
    }
  }
  return Math.sqrt(most2 / (ex * ex + ey * ey + ez * ez || 1));
}
