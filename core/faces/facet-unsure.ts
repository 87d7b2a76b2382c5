import type { PartGeometry } from '../mesh/part-geometry.ts';
import { FACE_KINDS } from './face-table.ts';
import type { FacetGains } from './facet-gains.ts';
import { dot, length3, type Vec3 } from './fit-vectors.ts';

/** Share of a correction that may be wrong: the worst found on drawn shapes is a tenth, see facet-correction.ts … */
const UNSURE = 0.1;
/** … at steps up to this. */
const USUAL_STEP_RAD = (32 * Math.PI) / 180;
/** … and of a face with fewer facets than these. */
const FEW = [
  { facets: 10, share: 0.3 },
  { facets: 12, share: 0.2 },
];
/** … and of a sphere of fewer than these: sooner a flat cone of uneven facets, whose rims lie on a sphere as well. */
const FEW_ON_SPHERE = { facets: 25, share: 0.3 };
/** … and of two round faces about different axes that cut each other: where they meet is drawn over the middles of facets. */
export const CROSSED = 0.45;
/** Faces that meet at less run into each other: a fillet, whatever its axis. */
const CROSSED_TURN_RAD = (20 * Math.PI) / 180;
/** Share of a face's size that lies between axes that are not the same. */
const OFF_AXIS = 0.02;
/** Agreement of neighbours above which differences are the surface's own … */
const AGREED = 0.8;
/** … and below which they are all noise or folds. */
const DISAGREED = 0.3;

const CONE = FACE_KINDS.indexOf('cone');
const SPHERE = FACE_KINDS.indexOf('sphere');
const HAS_AXIS = (['cylinder', 'cone', 'sphere', 'torus'] as const).map((kind) => FACE_KINDS.indexOf(kind));

/** Steps in which the span of a cone's widest facet is looked for. */
const SPAN_STEP_RAD = 0.01;

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
    if (faces.kind[f] === SPHERE && gains.facetCount[f] < FEW_ON_SPHERE.facets) {
      share[f] = Math.max(share[f], FEW_ON_SPHERE.share);
    }
  }
  const { a, b, turnRad } = faces.borders;
  for (let i = 0; i < a.length; i++) {
    const [f, g] = [a[i], b[i]];
    if (!HAS_AXIS.includes(faces.kind[f]) || !HAS_AXIS.includes(faces.kind[g])) continue;
    if (Math.abs(turnRad[i]) < CROSSED_TURN_RAD || isCoaxial(faces, f, g)) continue;
    share[f] = Math.max(share[f], CROSSED);
    share[g] = Math.max(share[g], CROSSED);
  }
  const own = share.slice();
  for (let i = 0; i < a.length; i++) {
    if (own[b[i]] > share[a[i]]) share[a[i]] = own[b[i]];
    if (own[a[i]] > share[b[i]]) share[b[i]] = own[a[i]];
  }
}

/** Whether two round faces lie about one axis; a sphere lies about all through its middle. */
function isCoaxial(faces: PartGeometry['faces'], f: number, g: number): boolean {
  const axisOf = (face: number): Vec3 => [
    faces.axis[3 * face],
    faces.axis[3 * face + 1],
    faces.axis[3 * face + 2],
  ];
  const [one, two] = faces.kind[f] === SPHERE ? [g, f] : [f, g];
  const axis = axisOf(one);
  const arm = [0, 1, 2].map((k) => faces.point[3 * two + k] - faces.point[3 * one + k]);
  const along = dot(arm, axis);
  const off = length3(arm[0] - along * axis[0], arm[1] - along * axis[1], arm[2] - along * axis[2]);
  if (off > OFF_AXIS * Math.sqrt(Math.min(faces.area[f], faces.area[g]))) return false;
  return faces.kind[two] === SPHERE || dot(axis, axisOf(two)) ** 2 > 1 - OFF_AXIS * OFF_AXIS;
}

/** About the widest angle that a facet of a round face spans about its axis, rad. */
function widestStep(faces: PartGeometry['faces'], gains: FacetGains, face: number): number {
  const turn = gains.edgeTurn[face] / gains.edgeLength[face];
  if (faces.kind[face] !== CONE) return turn;
  const uneven = (gains.mostFacet[face] * gains.facetCount[face]) / faces.area[face];
  // Width and slant height of a facet give its area: the wider, the lower it lies under the cone.
  const [sine, cosine] = [Math.sin(faces.size[face]), Math.cos(faces.size[face])];
  const areaAt = (span: number): number =>
    Math.sin(span / 2) * Math.sqrt(cosine * cosine + (sine * Math.cos(span / 2)) ** 2);
  let span = spanOnCone(faces, face, turn);
  const widest = uneven * areaAt(span);
  while (span < Math.PI / 2 && areaAt(span) < widest) span += SPAN_STEP_RAD;
  return Math.min(Math.PI / 2, span);
}

/** Angle about the axis that a facet of a cone spans, rad: more than its turn into the next. */
export function spanOnCone(
  { size }: Pick<PartGeometry['faces'], 'size'>,
  face: number,
  turnRad: number,
): number {
  return 2 * Math.asin(Math.min(1, Math.sin(turnRad / 2) / Math.max(0.05, Math.cos(size[face]))));
}

/**
 * Puts the doubt whether edges are to be taken the other way into the range of the faces; the other figure has its own
 * uncertainty. Changes `low` and `high`.
 */
export function widenForOtherInto(
  low: Float64Array,
  high: Float64Array,
  share: Float64Array,
  taken: FacetGains,
  other: FacetGains,
): void {
  for (let f = 0; f < low.length; f++) {
    const more = (1 + share[f]) * (other.own[f] + other.border[f] - taken.own[f] - taken.border[f]);
    low[f] = Math.max(0, low[f] + Math.min(0, more));
    high[f] += Math.max(0, more);
  }
}
