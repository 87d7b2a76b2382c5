import { ringsThrough, type FacetRing } from './facet-rings.ts';
import type { FacetSide, FacetSides } from './facet-sides.ts';
import { CREASE_RAD } from './flat-facets.ts';
import { isCoaxial, isCutInto, isDrawnTangent, isFlats, isRound, LEAST_ZONES, meanOf } from './ring-kinds.ts';
import { isEven } from './ring-spans.ts';

/**
 * What the corners of a face's facets say: that it is a round, that it is as well a bar of equal flats, that it is flats, or
 * nothing.
 */
export interface RoundEvidence {
  readonly is: 'round' | 'equal' | 'flats' | 'untold';
  /** Angle about the axis that a facet spans where they are equal, rad; else 0. */
  readonly spanRad: number;
  /** Whether the corners would tell, were it a round: nothing cuts its facets, and they are strips. */
  readonly isTold: boolean;
}

/** Share of a face's facets that rings must account for. */
const MOSTLY = 0.9;
const MANY = 0.6;
/** Strips in a row that are sooner bevels than a round, unless they are a ring. */
const BEVELS = 3;

/**
 * Facets of a coarse round lie in rings: the sides between them on one cylinder or cone, see facet-rings.ts. Flats lie so only by
 * design, and then they are of one size.
 *
 * @param triangles of the face
 */
export function roundEvidence(mesh: FacetSides, triangles: readonly number[]): RoundEvidence {
  const facets = new Set(triangles.map((t) => mesh.facet(t)));
  const inner = (facet: number): FacetSide[] =>
    mesh
      .sides(facet)
      ?.filter(({ beyond, turnRad }) => facets.has(beyond) && Math.abs(turnRad) < CREASE_RAD) ?? [];
  const isTold = [...facets].every((facet) => !isCutInto(mesh, facet) && isStrip(inner(facet)));
  const rings: FacetRing[] = [];
  const seen = new Set<number>();
  for (const facet of facets) {
    for (const side of inner(facet)) {
      if (seen.has(side.halfEdges[0])) continue;
      for (const ring of ringsThrough(mesh, facet, side)) {
        // A fan about a corner where zones meet is no ring of theirs.
        if (isRound(ring)) {
          for (const { halfEdges } of ring.sides) {
            for (const h of halfEdges) seen.add(h).add(mesh.graph.twin[h]);
          }
        }
        rings.push(ring);
      }
    }
  }
  const inRound = new Set(
    rings
      .filter((ring) => isRound(ring) && (!isEven(ring.spansRad) || isDrawnTangent(ring)))
      .flatMap((ring) => ring.facets),
  );
  let explained = 0;
  for (const facet of facets) {
    // A flat that rounds run into at both sides is their doing.
    if (inRound.has(facet) || inner(facet).every(({ beyond }) => inRound.has(beyond))) explained++;
  }
  if (explained >= MOSTLY * facets.size) return { is: 'round', spanRad: 0, isTold };
  const equal = aboutOneAxis(rings.filter((ring) => isRound(ring) && isEven(ring.spansRad)));
  const covers = (some: readonly FacetRing[]): boolean =>
    facetsOf(some).filter((facet) => facets.has(facet)).length >= MANY * facets.size;
  if (covers(equal)) {
    const spanRad = Math.max(...equal.map((ring) => meanOf(ring.spansRad)));
    return { is: equal.length < LEAST_ZONES ? 'equal' : 'round', spanRad, isTold };
  }
  const areBevels = isTold && facets.size > BEVELS && longestBend(facets, inner) <= BEVELS;
  return {
    is: areBevels || covers(aboutOneAxis(rings.filter(isFlats))) ? 'flats' : 'untold',
    spanRad: 0,
    isTold,
  };
}

/** Whether a facet has one neighbour to the left and one to the right, and no corner that both have. */
function isStrip(inner: readonly FacetSide[]): boolean {
  if (inner.length < 2) return true;
  const [one, two] = inner;
  const meet = [one.from, one.to].some((vertex) => vertex === two.from || vertex === two.to);
  return inner.length === 2 && !meet;
}

function facetsOf(rings: readonly FacetRing[]): number[] {
  return [...new Set(rings.flatMap((ring) => ring.facets))];
}

/** The rings about the axis that most facets lie round: fans about the corners of a sphere are rings too. */
function aboutOneAxis(rings: readonly FacetRing[]): FacetRing[] {
  let most: FacetRing[] = [];
  const left = new Set(rings);
  for (const ring of left) {
    const own = [...left].filter((other) => isCoaxial(ring, other));
    for (const other of own) left.delete(other);
    if (facetsOf(own).length > facetsOf(most).length) most = own;
  }
  return most;
}

/** Facets in a row that bend to the same hand: a knurl has three at most. */
function longestBend(facets: ReadonlySet<number>, inner: (facet: number) => readonly FacetSide[]): number {
  let longest = 1;
  const gone = new Set<number>();
  for (const first of facets) {
    if (gone.has(first)) continue;
    for (const hand of [1, -1]) {
      const row = new Set([first]);
      for (const facet of row) {
        for (const { beyond, turnRad } of inner(facet)) if (turnRad * hand > 0) row.add(beyond);
      }
      for (const facet of row) gone.add(facet);
      longest = Math.max(longest, row.size);
    }
  }
  return longest;
}

/** Largest ratio of the bend at one side of a strip to that at its other side, up to which a row of strips bends steadily. */
const STEADY = 2;
/** Strips from which on that is no chance. */
const LEAST_STEADY = 6;

/** Whether a face is a row of strips that bend from one to the next as a drawn curve does, rather than as it comes. */
export function bendsSteadily(mesh: FacetSides, triangles: readonly number[]): boolean {
  const facets = new Set(triangles.map((t) => mesh.facet(t)));
  if (facets.size < LEAST_STEADY) return false;
  const inner = (facet: number): FacetSide[] =>
    mesh.sides(facet)?.filter(({ beyond }) => facets.has(beyond)) ?? [];
  /** From side to side; of an outermost strip unknown. */
  const width = (facet: number): number => {
    const sides = inner(facet);
    return sides.length === 2 ? mesh.apart(sides[0], sides[1]) : NaN;
  };
  for (const facet of facets) {
    const sides = inner(facet);
    if (sides.length > 2) return false;
    const bends = sides.map(({ turnRad, beyond }) => turnRad / (width(facet) + width(beyond)));
    if (bends.length < 2 || bends.some((bend) => Number.isNaN(bend))) continue;
    const ratio = bends[0] / bends[1];
    if (!(ratio < STEADY && ratio > 1 / STEADY)) return false;
  }
  return true;
}
