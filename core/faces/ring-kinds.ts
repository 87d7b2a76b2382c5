import type { FacetRing } from './facet-rings.ts';
import type { FacetSide, FacetSides } from './facet-sides.ts';
import { isOneAxis } from './one-axis.ts';
import { isEven, isFeatured, usual } from './ring-spans.ts';

/** Octagons are asked about, hexagons (stock, nuts) never: facets span this on average at most. */
const WIDEST_MEAN_RAD = (2 * Math.PI) / 7.8;
const WIDEST_RAD = (85 * Math.PI) / 180;
/** Facets of one round differ in width by this at most. */
export const MOST_UNEVEN = 3.3;
/** Rings on one circle from which on they are a sphere or torus: three equal bevels may be meant. */
export const LEAST_ZONES = 4;

/** Whether a ring has so few facets that they are flats: a hexagon's. */
export function isFlats({ spansRad }: FacetRing): boolean {
  return meanOf(spansRad) > WIDEST_MEAN_RAD;
}

export function meanOf(spansRad: readonly number[]): number {
  return spansRad.reduce((sum, span) => sum + span, 0) / spansRad.length;
}

/** Whether a ring may be a round at all. */
export function isRound({
  spansRad,
  closed,
  tangent,
}: Pick<FacetRing, 'spansRad' | 'closed' | 'tangent'>): boolean {
  const count = spansRad.length;
  const widest = Math.max(...spansRad);
  const least = Math.min(...spansRad);
  if (meanOf(spansRad) > WIDEST_MEAN_RAD || widest > WIDEST_RAD || widest > MOST_UNEVEN * least) return false;
  const even = isEven(spansRad);
  // Of few facets only one way of drawing leaves as little to chance: equal ones, tangent at both ends.
  if (!closed && count < (tangent ? (even ? 2 : 3) : even ? 4 : 5)) return false;
  return even || tangent || !isFeatured(spansRad, closed);
}

/** What is left of an even ring beside its flats and keyways. */
export function usualStretches(ring: FacetRing): FacetRing[] {
  const { facets, spansRad, sides, closed } = ring;
  const { has } = usual(spansRad);
  const count = facets.length;
  // From a facet that is none of them on, so that no stretch is cut in two.
  const first = closed ? has.indexOf(false) : 0;
  if (first < 0) return [];
  const sideAfter = (i: number): FacetSide | undefined => sides[closed ? (i + 1) % count : i];
  const stretches: FacetRing[] = [];
  let own: number[] = [];
  for (let k = 0; k <= count; k++) {
    const i = (first + k) % count;
    if (k < count && has[i]) {
      own.push(i);
      continue;
    }
    if (own.length > 1) {
      stretches.push({
        ...ring,
        facets: own.map((j) => facets[j]),
        spansRad: own.map((j) => spansRad[j]),
        sides: own.slice(0, -1).map((j) => sideAfter(j)!),
        closed: false,
        tangent: false,
      });
    }
    own = [];
  }
  return stretches;
}

/** No row of chamfers runs into what is beside it with half a step at both ends. */
export function isDrawnTangent({ tangent, facets }: FacetRing): boolean {
  return tangent && facets.length > 2;
}

/** A strip of a round that nothing cuts has a neighbour at each of its two sides and two rims at most. */
export function isCutInto(mesh: FacetSides, facet: number): boolean {
  return (mesh.sides(facet)?.length ?? 0) > 4;
}

/** Whether two rings lie about one axis. */
export function isCoaxial(one: FacetRing, two: FacetRing): boolean {
  return isOneAxis(one, two, Math.max(one.rims[0].radius, one.rims[1].radius));
}
