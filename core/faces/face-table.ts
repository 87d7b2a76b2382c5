/** What a face was recognised as. `free` is any other surface. */
export const FACE_KINDS = ['plane', 'cylinder', 'cone', 'sphere', 'torus', 'free'] as const;
export type FaceKind = (typeof FACE_KINDS)[number];

/**
 * The faces of one part, one row a face, in order of their lowest triangle number. A face's id is `f` and its row
 * number from 1 (`f1`, `f2`, …): the same file split at the same angle always gives the same ids.
 */
export interface FaceTable {
  readonly count: number;
  /** Per triangle: the row of its face. */
  readonly faceOfTriangle: Uint32Array;
  /** Per row: lowest triangle number, which also anchors the face in a saved job. */
  readonly firstTriangle: Uint32Array;
  readonly triangleCount: Uint32Array;
  /** Per row: area in model units squared, float64. */
  readonly area: Float64Array;
  /** Per row: index into FACE_KINDS. */
  readonly kind: Uint8Array;
  /** Per row: radius of cylinder or sphere, tube radius of a torus in model units, half-angle of a cone in rad, 0 otherwise. */
  readonly size: Float64Array;
  /** Per row: 1 where a curved face faces its own axis or centre (a bore, an inside fillet), 0 otherwise. */
  readonly inward: Uint8Array;
  /** 3 a row: normal of a plane, axis of a cylinder, cone or torus (unit length, either way round), 0 0 0 otherwise. */
  readonly axis: Float64Array;
  /** 3 a row, model units: a point on the plane or axis, the centre of a sphere or torus, the middle of any other face. */
  readonly point: Float64Array;
  /** Borders between two faces, one row a pair: rows a < b, shared length (model units), length-weighted mean turn (rad, 0 flat, positive convex, negative concave). */
  readonly borders: {
    readonly a: Uint32Array;
    readonly b: Uint32Array;
    readonly length: Float64Array;
    readonly turnRad: Float64Array;
  };
}

export function faceId(row: number): string {
  return `f${row + 1}`;
}

/** Row of a face id, or undefined when `id` is not of the form f1, f2, … */
export function faceRow(id: string): number | undefined {
  const match = /^f([1-9]\d*)$/.exec(id.trim());
  return match ? Number(match[1]) - 1 : undefined;
}
