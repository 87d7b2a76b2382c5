import type { FaceTable } from './face-table.ts';

/** What faces are: the rows of a table that say so. */
export type FaceShapes = Pick<FaceTable, 'kind' | 'size' | 'inward' | 'axis' | 'point'>;

/** Rows for so many faces, nothing said yet. */
export function faceShapes(count: number): FaceShapes {
  return {
    kind: new Uint8Array(count),
    size: new Float64Array(count),
    inward: new Uint8Array(count),
    axis: new Float64Array(3 * count),
    point: new Float64Array(3 * count),
  };
}

/** Changes row `to` of `into`. */
export function copyShapeInto(into: FaceShapes, to: number, from: FaceShapes, row: number): void {
  into.kind[to] = from.kind[row];
  into.size[to] = from.size[row];
  into.inward[to] = from.inward[row];
  into.axis.set(from.axis.subarray(3 * row, 3 * row + 3), 3 * to);
  into.point.set(from.point.subarray(3 * row, 3 * row + 3), 3 * to);
}

/** The table with rows of its own that say what its faces are, to be changed. */
export function withOwnShapes(faces: FaceTable): FaceTable {
  return {
    ...faces,
    kind: faces.kind.slice(),
    size: faces.size.slice(),
    inward: faces.inward.slice(),
    axis: faces.axis.slice(),
    point: faces.point.slice(),
  };
}
