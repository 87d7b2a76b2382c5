import type { CadFaces } from './cad-faces.ts';

/**
 * Areas of the triangles, made larger or smaller face by face so that each face sums to the CAD's exact area: masking
 * part of a face then counts its share of the true surface. Where all triangles of a face have collapsed, its area is
 * spread over them evenly.
 *
 * @param triangleAreas per triangle, model units squared, as measured on the facets
 */
export function exactAreas(triangleAreas: Float64Array, { faceOfTriangle, faces }: CadFaces): Float64Array {
  const drawn = new Float64Array(faces.length);
  const count = new Uint32Array(faces.length);
  for (let t = 0; t < triangleAreas.length; t++) {
    drawn[faceOfTriangle[t]] += triangleAreas[t];
    count[faceOfTriangle[t]]++;
  }
  return triangleAreas.map((area, t) => {
    const face = faceOfTriangle[t];
    const exact = faces[face].areaModelUnits2;
    return drawn[face] > 0 ? area * (exact / drawn[face]) : exact / count[face];
  });
}
