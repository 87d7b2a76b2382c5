import { surfaceArea } from '../mesh/surface-area.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { PartMeasure } from './measure-part.ts';

/**
 * Coated area as the mesh draws it, over the true one that current and time are planned with: facets cut round faces short, and a
 * thread is drawn as a plain bore. The solver works on the mesh; with the planned current times this share its
 * densities are the planned ones in the mean.
 * @param shareOfTriangle what of each triangle is under the level; all of it where left out
 */
export function drawnShare(
  { positions, faces, triangleCount }: Pick<PartGeometry, 'positions' | 'faces' | 'triangleCount'>,
  { flags, areaOfFaceM2 }: Pick<PartMeasure, 'flags' | 'areaOfFaceM2'>,
  metresPerUnit: number,
  shareOfTriangle?: Float64Array,
): number {
  const drawn = new Float64Array(triangleCount);
  const drawnOfFace = new Float64Array(faces.count);
  for (let t = 0; t < triangleCount; t++) {
    drawn[t] = surfaceArea(positions.subarray(9 * t, 9 * t + 9)) * metresPerUnit ** 2;
    drawnOfFace[faces.faceOfTriangle[t]!]! += drawn[t]!;
  }
  let coated = 0;
  let true2 = 0;
  for (let t = 0; t < triangleCount; t++) {
    if ((flags[t]! & 3) !== 0) continue;
    const face = faces.faceOfTriangle[t]!;
    const wetted = drawn[t]! * (shareOfTriangle?.[t] ?? 1);
    coated += wetted;
    true2 += drawnOfFace[face]! > 0 ? (wetted * areaOfFaceM2[face]!) / drawnOfFace[face]! : 0;
  }
  return true2 > 0 ? coated / true2 : 1;
}
