import { nextSide } from './half-edges.ts';
import type { IndexedMesh } from './mesh.ts';

/** Length of a half-edge, model units. */
export function edgeLength({ vertices, triangles }: IndexedMesh, h: number): number {
  const a = 3 * triangles[h];
  const b = 3 * triangles[nextSide(h)];
  const x = vertices[b] - vertices[a];
  const y = vertices[b + 1] - vertices[a + 1];
  const z = vertices[b + 2] - vertices[a + 2];
  return Math.sqrt(x * x + y * y + z * z);
}
