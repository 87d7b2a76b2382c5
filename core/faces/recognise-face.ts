import { classifyFace } from './classify-face.ts';
import type { FaceShapes } from './face-shapes.ts';
import { FACE_KINDS } from './face-table.ts';
import type { SurfaceGraph } from './surface-graph.ts';
import { takeSample, type SampleRoom } from './take-sample.ts';

/**
 * Writes what a face is into the rows of a table.
 *
 * @param of triangles of it, as many as there is room for
 */
export function recogniseInto(
  { kind, size, inward, axis, point }: FaceShapes,
  face: number,
  graph: SurfaceGraph,
  of: Uint32Array,
  room: SampleRoom,
): void {
  const { sample, centre, scale } = takeSample(graph, of, room);
  const shape = classifyFace(sample);
  kind[face] = FACE_KINDS.indexOf(shape.kind);
  size[face] = shape.kind === 'cone' ? shape.size : shape.size * scale;
  inward[face] = shape.inward ? 1 : 0;
  for (let k = 0; k < 3; k++) {
    axis[3 * face + k] = shape.axis[k];
    point[3 * face + k] = centre[k] + shape.point[k] * scale;
  }
}
