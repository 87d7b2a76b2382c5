import { membersOf } from '../mesh/members-of.ts';
import { faceBorders } from './face-borders.ts';
import { edgesBetween, faceRows } from './face-rows.ts';
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
  const { faceOfTriangle, rowOf } = faceRows(label);
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
    borders: faceBorders(graph, edgesBetween(graph, faceOfTriangle), faceOfTriangle, count),
  };
}
