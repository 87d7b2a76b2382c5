import type { PartGeometry } from '../mesh/part-geometry.ts';
import { FACE_KINDS } from './face-table.ts';
import type { FacetGains } from './facet-gains.ts';

/** Share of a correction that may be wrong: the worst found on drawn shapes is a tenth, see facet-correction.ts … */
const UNSURE = 0.1;
/** … at steps up to this. */
const USUAL_STEP_RAD = (32 * Math.PI) / 180;
/** … and of a face with fewer facets than these. */
const FEW = [
  { facets: 10, share: 0.3 },
  { facets: 12, share: 0.2 },
];
/** Agreement of neighbours above which differences are the surface's own … */
const AGREED = 0.8;
/** … and below which they are all noise or folds. */
const DISAGREED = 0.3;

const CONE = FACE_KINDS.indexOf('cone');

/** Share of a gain that is believed, from how far neighbouring facets agree: 1 all, 0 none. */
export function trustIn(agreement: number): number {
  return Math.min(1, Math.max(0, (agreement - DISAGREED) / (AGREED - DISAGREED)));
}

/** Share of a gain that may be wrong where facets span at most this about their axis: what the scheme leaves out grows with its square. */
export function unsureShare(widestRad: number): number {
  return UNSURE * Math.max(1, (widestRad / USUAL_STEP_RAD) ** 2);
}

/** Where the facets are few and wide, more may be wrong of a face and of what it borders. Changes `share`, one entry a face. */
export function widenShareInto(share: Float64Array, faces: PartGeometry['faces'], gains: FacetGains): void {
  for (let f = 0; f < faces.count; f++) {
    if (!(gains.edgeLength[f] > 0)) continue;
    share[f] = Math.max(share[f], unsureShare(widestStep(faces, gains, f)));
    const few = FEW.find(({ facets }) => gains.facetCount[f] < facets);
    if (few) share[f] = Math.max(share[f], few.share);
  }
  const { a, b } = faces.borders;
  const own = share.slice();
  for (let i = 0; i < a.length; i++) {
    if (own[b[i]] > share[a[i]]) share[a[i]] = own[b[i]];
    if (own[a[i]] > share[b[i]]) share[b[i]] = own[a[i]];
  }
}

/** About the widest angle that a facet of a round face spans about its axis, rad. */
function widestStep(faces: PartGeometry['faces'], gains: FacetGains, face: number): number {
  const turn = gains.edgeTurn[face] / gains.edgeLength[face];
  if (faces.kind[face] !== CONE) return turn;
  const uneven = (gains.mostFacet[face] * gains.facetCount[face]) / faces.area[face];
  return Math.min(Math.PI / 2, spanOnCone(faces, face, turn) * Math.max(1, uneven));
}

/** Angle about the axis that a facet of a cone spans, rad: more than its turn into the next. */
export function spanOnCone(
  { size }: Pick<PartGeometry['faces'], 'size'>,
  face: number,
  turnRad: number,
): number {
  return 2 * Math.asin(Math.min(1, Math.sin(turnRad / 2) / Math.max(0.05, Math.cos(size[face]))));
}
