import { FACE_KINDS } from '../faces/face-table.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { failure, success, type Result } from '../result.ts';
import type { ThreadedCylinder } from './thread-area.ts';

/**
 * What a thread needs to know about a face. Fails with `thread-not-a-cylinder` for any face that is not one.
 *
 * @param areaOfFace in model units squared, facets corrected; the face's own by default
 * @throws RangeError when there is no such face
 */
export function threadedFace(
  geometry: Pick<PartGeometry, 'positions' | 'faces'>,
  face: number,
  metresPerUnit: number,
  areaOfFace: ArrayLike<number> = geometry.faces.area,
): Result<ThreadedCylinder> {
  const { faces, positions } = geometry;
  if (!(Number.isInteger(face) && face >= 0 && face < faces.count)) {
    throw new RangeError(`face: no face in row ${face}, there are ${faces.count}`);
  }
  if (FACE_KINDS[faces.kind[face]] !== 'cylinder') {
    return failure(
      'thread-not-a-cylinder',
      'Only a cylinder can carry a thread, and this face is none.',
      'Pick the plain cylinder the model shows for the thread; if a round face was cut into pieces, raise the angle at which faces part.',
    );
  }
  const [ax, ay, az] = faces.axis.subarray(3 * face, 3 * face + 3);
  let low = Infinity;
  let high = -Infinity;
  for (let t = 0; t < faces.faceOfTriangle.length; t++) {
    if (faces.faceOfTriangle[t] !== face) continue;
    for (let i = 9 * t; i < 9 * t + 9; i += 3) {
      const along = positions[i] * ax + positions[i + 1] * ay + positions[i + 2] * az;
      if (along < low) low = along;
      if (along > high) high = along;
    }
  }
  return success({
    diameterM: 2 * faces.size[face] * metresPerUnit,
    lengthM: (high - low) * metresPerUnit,
    areaM2: areaOfFace[face] * metresPerUnit * metresPerUnit,
    kind: faces.inward[face] ? 'internal' : 'external',
  });
}
