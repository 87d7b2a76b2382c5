import type { FacetSide, FacetSides } from './facet-sides.ts';
import { dot, unit, type Vec3 } from './fit-vectors.ts';

/** A ring with more facets is fine enough to need no help. */
const MOST_FACETS = 400;
/** A side of a ring turns by less: four facets round turn by 90°. */
export const MOST_RULING_TURN_RAD = (85 * Math.PI) / 180;
const LEAST_TURN_RAD = 2e-3;
/** Squared cosine between the two sides of a facet that are rulings: those of a flat cone of five facets lie at 72°. */
const RULED = 0.05;

/** Facets in a row: `between[i]` lies between side i and side i + 1; of a closed row the last one before side 0. */
export interface FacetRow {
  readonly sides: readonly FacetSide[];
  readonly between: readonly number[];
  readonly closed: boolean;
}

/**
 * The row of facets that leads from `facet` over its side `start`, and back the other way, as long as it bends to the same hand.
 *
 * @param tip vertex in which all sides meet, of a row of triangles round one
 * @param gone facets of the row are added to it
 */
export function rowThrough(
  mesh: FacetSides,
  facet: number,
  start: FacetSide,
  tip: number | undefined,
  gone?: Set<number>,
): FacetRow | undefined {
  const onward = walk(mesh, facet, start, tip, gone);
  if (!onward) return undefined;
  if (onward.closed) {
    const [own, ...others] = onward.facets;
    return { sides: onward.sides, between: [...others, own], closed: true };
  }
  const own = exitOf(mesh, facet, start, tip);
  const back = own && isRuling(own, start.turnRad) ? walk(mesh, facet, own, tip, gone) : undefined;
  if (back?.closed) return undefined;
  const before = back ? [...back.sides].reverse() : [];
  const first = back ? back.end : own;
  const facets = [...(back ? back.facets.slice(1).reverse() : []), ...onward.facets];
  if (new Set(facets).size !== facets.length) return undefined;
  const sides = [...(first ? [first] : []), ...before, ...onward.sides, ...(onward.end ? [onward.end] : [])];
  // Without a side to end at, an outermost facet lies between no two.
  const between = facets.slice(first ? 0 : 1, onward.end ? undefined : -1);
  return { sides, between, closed: false };
}

interface Walk {
  readonly facets: readonly number[];
  readonly sides: readonly FacetSide[];
  readonly closed: boolean;
  /** Where it came to no further ruling: the side there, if there is one. */
  readonly end: FacetSide | undefined;
}

/** From facet to facet, away over `start`, as long as the way bends on to the same hand. */
function walk(
  mesh: FacetSides,
  facet: number,
  start: FacetSide,
  tip: number | undefined,
  gone?: Set<number>,
): Walk | undefined {
  const facets = [facet];
  const sides: FacetSide[] = [];
  let side: FacetSide | undefined = start;
  while (side && isRuling(side, start.turnRad)) {
    sides.push(side);
    if (side.beyond === facet) return { facets, sides, closed: true, end: undefined };
    if (facets.length >= MOST_FACETS) return undefined;
    facets.push(side.beyond);
    gone?.add(side.beyond);
    side = exitOf(mesh, side.beyond, side, tip);
  }
  return sides.length > 0 ? { facets, sides, closed: false, end: side } : undefined;
}

function isRuling({ turnRad }: FacetSide, likeRad: number): boolean {
  const turn = turnRad * Math.sign(likeRad);
  return turn > LEAST_TURN_RAD && turn < MOST_RULING_TURN_RAD;
}

/** The side of a facet across from the one it was entered by, or its other side to the tip. */
function exitOf(
  mesh: FacetSides,
  facet: number,
  entered: FacetSide,
  tip: number | undefined,
): FacetSide | undefined {
  let best: FacetSide | undefined;
  let longest = 0;
  for (const side of mesh.sides(facet) ?? []) {
    const isSame = side.from === entered.to && side.to === entered.from;
    if (isSame || (side.from === entered.from && side.to === entered.to)) continue;
    if (tip !== undefined) {
      if (side.from === tip || side.to === tip) return side;
      continue;
    }
    const meets = [side.from, side.to].some((v) => v === entered.from || v === entered.to);
    if (meets) continue;
    const cosine = dot(direction(mesh, side), direction(mesh, entered));
    // The sides of a hole in the facet run along as well, but not as far.
    const reach = Math.abs(cosine) * mesh.length(side);
    if (cosine * cosine > RULED && reach > longest) {
      best = side;
      longest = reach;
    }
  }
  return best;
}

/** Unit vector along a side. */
export function direction({ graph }: FacetSides, { from, to }: FacetSide): Vec3 {
  const { vertices } = graph.indexed;
  return unit([0, 1, 2].map((k) => vertices[3 * to + k] - vertices[3 * from + k]));
}
