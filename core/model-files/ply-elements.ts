import { failure, type Failure } from '../result.ts';
import { MAX_TRIANGLES } from './loaded-model.ts';
import type { PlyElement, PlyHeader, PlyProperty } from './ply-header.ts';
import { tooManyTriangles } from './read-binary-stl.ts';

export type PlyFailure = { ok: false; error: Failure };

export const MOST_VERTICES = 3 * MAX_TRIANGLES;
const CORNER_LISTS = ['vertex_indices', 'vertex_index'];

/** The property that lists a face's corners. */
export const cornerList = ({ properties }: PlyElement): PlyProperty | undefined =>
  properties.find(({ name, countType }) => countType !== undefined && CORNER_LISTS.includes(name));

/** Refuses what has no surface, and counts that cannot fit into the file, before anything is allocated. */
export function checkElements(
  { encoding, elements, bodyStart }: PlyHeader,
  length: number,
): PlyFailure | null {
  const [vertex, second] = elements.filter(({ name }) => name === 'vertex');
  const face = elements.find(({ name }) => name === 'face');
  if (!vertex || second) {
    return failure(
      'ply-property-missing',
      `The PLY file lists its corners ${vertex ? 'twice' : 'nowhere'}.`,
      'Export the part again as a mesh of its surface.',
    );
  }
  const axes = ['x', 'y', 'z'].filter(
    (axis) => !vertex.properties.some(({ name, countType }) => name === axis && countType === undefined),
  );
  if (axes.length > 0) {
    return failure(
      'ply-property-missing',
      `The corners in the PLY file have no ${axes.join(', ')}.`,
      'Export the model again.',
    );
  }
  if (!face || face.count === 0) {
    if (elements.some(({ name, count }) => /strip/.test(name) && count > 0)) {
      return failure(
        'ply-strips',
        'The PLY file gives its surface as triangle strips, which are not read here.',
        'Export the part as separate triangles, as PLY or binary STL.',
      );
    }
    return failure(
      'ply-point-cloud',
      `The PLY file holds ${vertex.count} points and no faces, so it has no surface.`,
      'Make a closed mesh from the points in the scanning program, and export that.',
    );
  }
  if (!cornerList(face)) {
    return failure(
      'ply-property-missing',
      'The faces in the PLY file do not say which corners they join.',
      'Export the model again.',
    );
  }
  if (vertex.count > MOST_VERTICES || face.count > MAX_TRIANGLES) {
    return tooManyTriangles(
      face.count > MAX_TRIANGLES ? face.count : `corners for more than ${MAX_TRIANGLES}`,
    );
  }
  let least = 0;
  for (const { count, properties } of elements) {
    const each = properties.reduce(
      (sum, property) =>
        sum +
        (encoding === 'ascii' ? 2 : property.countType === undefined ? property.bytes : property.countBytes),
      0,
    );
    least += count * each;
  }
  // The last word of a text needs no blank after it.
  return least > length - bodyStart + 1 ? truncated(elements) : null;
}

export const truncated = (elements: readonly PlyElement[]): PlyFailure =>
  failure(
    'ply-truncated',
    `The PLY file says it has ${elements.map(({ name, count }) => `${count} of “${name}”`).join(', ')}, but it ends before.`,
    'The copy or download broke off, or the counts are wrong: export or copy the model again.',
  );
