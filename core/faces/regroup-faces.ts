import { membersOf } from '../mesh/members-of.ts';
import { faceBorders } from './face-borders.ts';
import { copyShapeInto, faceShapes } from './face-shapes.ts';
import type { FaceTable } from './face-table.ts';
import { measureFaces } from './measure-faces.ts';
import { recogniseInto } from './recognise-face.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import { SAMPLE_LIMIT, sampleRoom, someOf } from './take-sample.ts';

/**
 * The table of the same surface with its triangles in other faces, rows again in order of their lowest triangle.
 *
 * @param label per triangle the face it belongs to: below `faces.count` a row, whose kind is kept, from there on a face that is recognised anew
 */
export function regrouped(graph: SurfaceGraph, faces: FaceTable, label: Uint32Array): FaceTable {
  const rowOf = new Map<number, number>();
  const faceOfTriangle = new Uint32Array(label.length);
  for (let t = 0; t < label.length; t++) {
    let row = rowOf.get(label[t]);
    if (row === undefined) rowOf.set(label[t], (row = rowOf.size));
    faceOfTriangle[t] = row;
  }
  const count = rowOf.size;
  const table = faceShapes(count);
  const room = sampleRoom(SAMPLE_LIMIT);
  const trianglesOf = [...rowOf.keys()].some((of) => of >= faces.count)
    ? membersOf(faceOfTriangle, count)
    : [];
  for (const [of, row] of rowOf) {
    if (of >= faces.count) {
      recogniseInto(table, row, graph, someOf(trianglesOf[row], SAMPLE_LIMIT), room);
      continue;
    }
    copyShapeInto(table, row, faces, of);
  }
  return {
    count,
    faceOfTriangle,
    ...measureFaces(graph, faceOfTriangle, count),
    ...table,
    borders: faceBorders(graph, between(graph, faceOfTriangle), faceOfTriangle, count),
  };
}

/** Half-edges between two faces, the lower of each pair. */
function between({ twin }: SurfaceGraph, faceOfTriangle: Uint32Array): Int32Array {
  const apart: number[] = [];
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] > h && faceOfTriangle[(h / 3) | 0] !== faceOfTriangle[(twin[h] / 3) | 0]) apart.push(h);
  }
  return Int32Array.from(apart);
}
