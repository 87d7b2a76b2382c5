import type { IndexedMesh } from '../mesh/mesh.ts';
import { isPlugEnd, wallOfEnd } from '../racking/plug-mesh.ts';

/** Triangles of a part as the bath sees it. */
export interface SceneSurface {
  /** 9 numbers a triangle, model units. */
  readonly positions: Float64Array;
  /** Per triangle the part's own, ascending; the end of a plug goes by the wall it stands in. */
  readonly source: Uint32Array;
}

/** @param triangleOf per triangle of `mesh` the part's, see racking/plug-mesh.ts; null where they are the same */
export function sceneSurface(
  { vertices, triangles }: IndexedMesh,
  triangleOf: Int32Array | null,
): SceneSurface {
  const own = Uint32Array.from({ length: triangles.length / 3 }, (_, t) => {
    const triangle = triangleOf ? triangleOf[t]! : t;
    return isPlugEnd(triangle) ? wallOfEnd(triangle) : triangle;
  });
  const order = Uint32Array.from(own.keys());
  if (triangleOf) order.sort((a, b) => own[a]! - own[b]!);
  const positions = new Float64Array(9 * order.length);
  order.forEach((t, place) => {
    for (let corner = 0; corner < 3; corner++) {
      for (let n = 0; n < 3; n++) {
        positions[9 * place + 3 * corner + n] = vertices[3 * triangles[3 * t + corner]! + n]!;
      }
    }
  });
  return { positions, source: order.map((t) => own[t]!) };
}
