import type { SurfaceGraph } from '../surface-graph.ts';

/** The corner in which a half-edge starts. */
export function cornerInto(
  out: Float64Array,
  { indexed }: Pick<SurfaceGraph, 'indexed'>,
  h: number,
): Float64Array {
  const { vertices, triangles } = indexed;
  const from = 3 * triangles[h];
  out[0] = vertices[from];
  out[1] = vertices[from + 1];
  out[2] = vertices[from + 2];
  return out;
}

/** The middle of a triangle. */
export function middleInto(out: Float64Array, { indexed }: Pick<SurfaceGraph, 'indexed'>, t: number): void {
  const { vertices, triangles } = indexed;
  const a = 3 * triangles[3 * t];
  const b = 3 * triangles[3 * t + 1];
  const c = 3 * triangles[3 * t + 2];
  for (let k = 0; k < 3; k++) out[k] = vertices[a + k] / 3 + vertices[b + k] / 3 + vertices[c + k] / 3;
}

/** Copies the point that begins at `from`. */
export function pointInto(out: Float64Array, points: Float64Array, from: number): Float64Array {
  out[0] = points[from];
  out[1] = points[from + 1];
  out[2] = points[from + 2];
  return out;
}

/** The face's corners, once each, in order of first use; and three for each of its triangles: the places of its corners among them. */
export function cornersOfFace(
  { indexed }: SurfaceGraph,
  triangles: ArrayLike<number>,
): { readonly corners: Float64Array; readonly places: Uint32Array } {
  const { vertices, triangles: corners } = indexed;
  const placeOf = new Map<number, number>();
  const places = new Uint32Array(3 * triangles.length);
  for (let i = 0; i < triangles.length; i++) {
    for (let k = 0; k < 3; k++) {
      const v = corners[3 * triangles[i] + k];
      let place = placeOf.get(v);
      if (place === undefined) placeOf.set(v, (place = placeOf.size));
      places[3 * i + k] = place;
    }
  }
  const points = new Float64Array(3 * placeOf.size);
  let at = 0;
  for (const v of placeOf.keys()) for (let k = 0; k < 3; k++) points[at++] = vertices[3 * v + k];
  return { corners: points, places };
}
