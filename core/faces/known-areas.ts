import type { PartGeometry } from '../mesh/part-geometry.ts';
import { correctionOf, type FacetCorrection } from './facet-correction.ts';

/** What is known of a surface otherwise than by its facets. */
export interface KnownAreas {
  /** Per triangle the face that it belongs to; −1 where its turns are to tell. */
  readonly givenFace: Int32Array;
  /** Per triangle: a part of the surface whose area is known, −1 where it belongs to none. */
  readonly partOfTriangle: Int32Array;
  /** Model units squared. */
  readonly areaOfPart: Float64Array;
}

/** Per face row its area where it is made of whole parts that are known, else NaN; model units squared. */
export function knownFaceAreas(
  { faces: { count, faceOfTriangle } }: Pick<PartGeometry, 'faces'>,
  { partOfTriangle, areaOfPart }: KnownAreas,
): Float64Array {
  const area = new Float64Array(count);
  const faceOfPart = new Int32Array(areaOfPart.length).fill(-1);
  const isSplit = new Uint8Array(areaOfPart.length);
  partOfTriangle.forEach((part, t) => {
    const face = faceOfTriangle[t];
    if (part < 0) area[face] = NaN;
    else if (faceOfPart[part] === -1) {
      faceOfPart[part] = face;
      area[face] += areaOfPart[part];
    } else if (faceOfPart[part] !== face) isSplit[part] = 1;
  });
  partOfTriangle.forEach((part, t) => {
    if (part >= 0 && isSplit[part] === 1) area[faceOfTriangle[t]] = NaN;
  });
  return area;
}

/** A correction with the areas that are known in place of what facets say, without a range, and not asked about. */
export function withKnownAreas(
  correction: FacetCorrection,
  geometry: Pick<PartGeometry, 'faces'>,
  known: KnownAreas,
): FacetCorrection {
  const own = knownFaceAreas(geometry, known);
  const take = (values: Float64Array): Float64Array =>
    values.map((value, f) => (Number.isNaN(own[f]) ? value : own[f]));
  return correctionOf(
    geometry.faces.area,
    take(correction.correctedAreaOfFace),
    take(correction.low),
    take(correction.high),
    correction.ambiguous.filter(({ faces }) => faces.some((face) => Number.isNaN(own[face]))),
  );
}
