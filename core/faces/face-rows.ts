import type { SurfaceGraph } from './surface-graph.ts';

/** Rows for faces known by any label, in order of their lowest triangle. */
export function faceRows(label: ArrayLike<number>): {
  readonly faceOfTriangle: Uint32Array;
  /** By label; in order of the rows. */
  readonly rowOf: ReadonlyMap<number, number>;
} {
  const rowOf = new Map<number, number>();
  const faceOfTriangle = new Uint32Array(label.length);
  for (let t = 0; t < label.length; t++) {
    let row = rowOf.get(label[t]);
    if (row === undefined) rowOf.set(label[t], (row = rowOf.size));
    faceOfTriangle[t] = row;
  }
  return { faceOfTriangle, rowOf };
}

/** Half-edges between two faces, the lower of each pair, ascending. */
export function edgesBetween(
  { twin }: Pick<SurfaceGraph, 'twin'>,
  faceOfTriangle: Uint32Array,
): Int32Array<ArrayBuffer> {
  const apart: number[] = [];
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] > h && faceOfTriangle[(h / 3) | 0] !== faceOfTriangle[(twin[h] / 3) | 0]) apart.push(h);
  }
  return Int32Array.from(apart);
}
