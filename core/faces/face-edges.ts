import { nextSide } from '../mesh/half-edges.ts';
import { CROWDED_EDGE, OPEN_EDGE } from '../mesh/edge-adjacency.ts';
import type { IndexedMesh } from '../mesh/mesh.ts';

/** Lines to draw between faces. */
export interface FaceEdges {
  /** 6 floats a segment: its two ends, model units. */
  readonly segments: Float32Array;
  /** 2 numbers a segment: the triangles on its two sides; NO_TRIANGLE second where it is an edge of the open surface. */
  readonly triangles: Uint32Array;
  /** True when there were more than the limit and none was kept. */
  readonly tooMany: boolean;
}

export const NO_TRIANGLE = 0xffffffff;

/** More segments than this cost more to draw than they show: only scanned or noisy meshes have them. */
export const MAX_EDGE_SEGMENTS = 400_000;

/**
 * The sides of triangles where two faces meet, once each, and those where the surface ends or where more than two
 * triangles meet.
 *
 * @param twin per half-edge, see mesh/edge-adjacency.ts
 * @param faceOfTriangle per triangle: any number that tells faces apart
 */
export function faceEdges(
  mesh: IndexedMesh,
  twin: Int32Array,
  faceOfTriangle: ArrayLike<number>,
  maxSegments = MAX_EDGE_SEGMENTS,
): FaceEdges {
  const { vertices, triangles } = mesh;
  if (twin.length !== triangles.length) {
    throw new RangeError(`twin: ${twin.length} half-edges for ${triangles.length} sides of triangles`);
  }
  if (faceOfTriangle.length !== triangles.length / 3) {
    throw new RangeError(
      `faceOfTriangle: ${faceOfTriangle.length} entries for ${triangles.length / 3} triangles`,
    );
  }
  let count = 0;
  for (let h = 0; h < twin.length; h++) if (isDrawn(h, twin, faceOfTriangle)) count++;
  if (count > maxSegments) {
    return { segments: new Float32Array(0), triangles: new Uint32Array(0), tooMany: true };
  }
  const segments = new Float32Array(count * 6);
  const beside = new Uint32Array(count * 2);
  let row = 0;
  for (let h = 0; h < twin.length; h++) {
    if (!isDrawn(h, twin, faceOfTriangle)) continue;
    const from = triangles[h]! * 3;
    const to = triangles[nextSide(h)]! * 3;
    for (let k = 0; k < 3; k++) {
      segments[row * 6 + k] = vertices[from + k]!;
      segments[row * 6 + 3 + k] = vertices[to + k]!;
    }
    beside[row * 2] = Math.floor(h / 3);
    beside[row * 2 + 1] = twin[h]! >= 0 ? Math.floor(twin[h]! / 3) : NO_TRIANGLE;
    row++;
  }
  return { segments, triangles: beside, tooMany: false };
}

function isDrawn(h: number, twin: Int32Array, faceOfTriangle: ArrayLike<number>): boolean {
  const other = twin[h]!;
  if (other === OPEN_EDGE || other === CROWDED_EDGE) return true;
  return other > h && faceOfTriangle[Math.floor(h / 3)] !== faceOfTriangle[Math.floor(other / 3)];
}
