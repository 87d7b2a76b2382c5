import type { PartGeometry } from '../mesh/part-geometry.ts';
import { ringsThrough, type FacetRing } from './facet-rings.ts';
import { MOST_RULING_TURN_RAD } from './facet-rows.ts';
import { FacetSides, type FacetSide } from './facet-sides.ts';
import { isCoaxial, isCutInto, isDrawnTangent, isRound, LEAST_ZONES, usualStretches } from './ring-kinds.ts';
import { isEven } from './ring-spans.ts';
import { profileRuns } from './profile-runs.ts';
import { steepEdges } from './edge-turns.ts';
import { CREASE_RAD } from './flat-facets.ts';

/** Facets whose creases may be a round drawn with few or very uneven steps. */
export interface CoarseRound {
  /** Rows of the faces they belong to, ascending. */
  readonly faces: readonly number[];
  /** Half-edges that would be no creases: both of each pair. */
  readonly joined: readonly number[];
  /** Half-edges that would be creases however little they turn: both of each pair. */
  readonly creases: readonly number[];
  readonly facetCount: number;
  /** Mean turn from one to the next, rad, the way they are counted. */
  readonly stepRad: number;
  /** Widest angle about the axis that one facet spans, rad. */
  readonly widestRad: number;
  /** Another body cuts into its facets. */
  readonly isCut: boolean;
  /** As likely flats as a round: all of one size, and curved one way only. */
  readonly even: boolean;
}

/** Creases between two rings of a sphere or torus turn by less. */
const MOST_PROFILE_TURN_RAD = (60 * Math.PI) / 180;
/** Two rings that are no zones of one sphere or torus meet in a crease where they turn by more: a fillet of three chords turns by 30°. */
const RIM_TURN_RAD = (31 * Math.PI) / 180;
/** Creases that are looked at: beyond, a part is knurled or worse, and its time is worth more. */
const MOST_SEEDS = 200_000;

/**
 * Finds the rounds among the creases of a mesh. A crease of 35° and more counts as meant (see split-faces.ts), but a round
 * of 10 facets has creases of 36°, and of 12 uneven ones some turn by 45°. Such facets form rings: their sides all lie on
 * one cylinder or cone. Corners that do so by chance are those of bars and chamfers with equal steps (even: cannot be told)
 * and of squares with chamfers (left as they are).
 */
export function coarseRounds({ graph, faces }: PartGeometry): CoarseRound[] {
  const steep = steepEdges(graph);
  if (steep.length === 0) return [];
  const mesh = new FacetSides(graph);
  const { turns } = mesh;
  const { twin } = graph;
  const seen = new Set<number>();
  const see = (side: FacetSide): void => {
    for (const h of side.halfEdges) seen.add(h).add(twin[h]);
  };
  const rings: FacetRing[] = [];
  /** Rings on both sides of a crease along their rims. */
  const besideCreases: FacetRing[] = [];
  /** Facets of rings that were looked for along such a crease, whether or not there are any. */
  const known = new Set<number>();
  let seeds = 0;
  for (const h of steep) {
    const size = Math.abs(turns[h]);
    if (!(size >= CREASE_RAD && size <= MOST_RULING_TURN_RAD) || seen.has(h)) continue;
    if (++seeds > MOST_SEEDS) break;
    const facet = mesh.facet((h / 3) | 0);
    const start = sideWith(mesh.sides(facet), h);
    if (!start) continue;
    see(start);
    for (const ring of ringsThrough(mesh, facet, start)) {
      ring.sides.forEach(see);
      const whole = isRound(ring) ? [ring] : usualStretches(ring).filter(isRound);
      rings.push(...whole.filter(({ sides }) => sides.some(isCrease)));
    }
    if (Math.abs(start.turnRad) > MOST_PROFILE_TURN_RAD) continue;
    for (const own of [start, { ...start, beyond: facet }]) {
      if (known.has(own.beyond)) continue;
      known.add(own.beyond);
      const ring = ringAlong(mesh, own, known);
      if (ring) besideCreases.push(ring);
    }
  }
  const creased = new Set(rings);
  // Stretches found from the middle of an arc are parts of a longer one.
  const longestFirst = [...rings, ...besideCreases].sort((one, two) => two.facets.length - one.facets.length);
  return grouped(mesh, longestFirst)
    .filter((group) => group.across.length > 0 || group.rings.some((ring) => creased.has(ring)))
    .map((group) => asRound(mesh, faces, group));
}

/** A function of its own: with one in the loop that knows `h` every half-edge of the part would cost a place in memory. */
function sideWith(sides: readonly FacetSide[] | null, h: number): FacetSide | undefined {
  return sides?.find(({ halfEdges }) => halfEdges.includes(h));
}

function isCrease({ turnRad }: FacetSide): boolean {
  return Math.abs(turnRad) >= CREASE_RAD;
}

interface Group {
  readonly rings: FacetRing[];
  /** Sides between rings of one sphere or torus. */
  readonly across: FacetSide[];
  /** Sides between a wall and its point or chamfer. */
  readonly rims: FacetSide[];
  /** Some of those rings are of one width along the profile. */
  isSectionEven: boolean;
}

/** Rings about one axis that lie side by side, with those beside them that turn too little to be found by themselves. */
function grouped(mesh: FacetSides, found: readonly FacetRing[]): Group[] {
  const groups: Group[] = [];
  const ringOf = new Map<number, FacetRing>();
  for (const first of found) {
    if (first.facets.some((facet) => ringOf.has(facet))) continue;
    const group: Group = { rings: [first], across: [], rims: [], isSectionEven: false };
    groups.push(group);
    for (const facet of first.facets) ringOf.set(facet, first);
    const between: { readonly one: FacetRing; readonly two: FacetRing; readonly side: FacetSide }[] = [];
    for (let i = 0; i < group.rings.length; i++) {
      const ring = group.rings[i];
      const own = new Set(ring.facets);
      for (const facet of ring.facets) {
        for (const side of mesh.sides(facet) ?? []) {
          if (own.has(side.beyond) || Math.abs(side.turnRad) > MOST_PROFILE_TURN_RAD) continue;
          let beside = ringOf.get(side.beyond);
          if (!beside) {
            beside = ringBeside(mesh, ring, side);
            if (!beside || beside.facets.some((f) => ringOf.has(f))) continue;
            group.rings.push(beside);
            for (const f of beside.facets) ringOf.set(f, beside);
          }
          if (group.rings.includes(beside)) between.push({ one: ring, two: beside, side });
        }
      }
    }
    const runs = profileRuns(mesh, group.rings);
    group.isSectionEven = runs.some(({ even }) => even);
    for (const { one, two, side } of between) {
      if (runs.some(({ rings: on }) => on.has(one) && on.has(two))) group.across.push(side);
      else if (group.rings.length < LEAST_ZONES && Math.abs(side.turnRad) > RIM_TURN_RAD)
        group.rims.push(side);
    }
  }
  return groups;
}

/** The ring about the same axis across a side of a rim. */
function ringBeside(mesh: FacetSides, ring: FacetRing, rim: FacetSide): FacetRing | undefined {
  const beside = ringAlong(mesh, rim);
  return beside && beside.closed === ring.closed && isCoaxial(ring, beside) ? beside : undefined;
}

/**
 * The ring beyond a side that lies on its rim.
 *
 * @param known facets that were gone through are added to it
 */
function ringAlong(mesh: FacetSides, rim: FacetSide, known?: Set<number>): FacetRing | undefined {
  for (const side of mesh.sides(rim.beyond) ?? []) {
    const atRim = [side.from, side.to].filter((v) => v === rim.from || v === rim.to);
    if (atRim.length !== 1) continue;
    const found = ringsThrough(mesh, rim.beyond, side, known);
    const ring = found.find(({ facets }) => facets.includes(rim.beyond));
    if (ring && isRound(ring)) return ring;
  }
  return undefined;
}

function asRound(
  mesh: FacetSides,
  faces: PartGeometry['faces'],
  { rings, across, rims, isSectionEven }: Group,
): CoarseRound {
  const { twin } = mesh.graph;
  const rows = new Set<number>();
  for (const { facets } of rings) {
    for (const facet of facets) for (const t of mesh.triangles(facet)) rows.add(faces.faceOfTriangle[t]);
  }
  const sides = rings.flatMap((ring) => ring.sides);
  const pairsOf = (of: readonly FacetSide[]): number[] => [
    ...new Set(of.flatMap(({ halfEdges }) => halfEdges.flatMap((h) => [h, twin[h]]))),
  ];
  const stepRad = meanTurn(sides);
  // A ring turned with flats for its section is as likely as a torus, where it is fine the other way.
  const isSection = meanTurn(across) > 2 * stepRad;
  return {
    faces: [...rows].sort((a, b) => a - b),
    joined: pairsOf([...sides, ...across]),
    creases: pairsOf(rims),
    facetCount: isSection ? rings.length : rings[0].facets.length,
    stepRad: isSection ? meanTurn(across) : stepRad,
    isCut: rings.some(({ facets }) => facets.some((facet) => isCutInto(mesh, facet))),
    widestRad: Math.max(...rings.flatMap(({ spansRad }) => spansRad)),
    even:
      (across.length === 0 || (isSection && isSectionEven)) &&
      rings.every((ring) => isEven(ring.spansRad) && !isDrawnTangent(ring)),
  };
}

function meanTurn(sides: readonly FacetSide[]): number {
  if (sides.length === 0) return 0;
  return sides.reduce((sum, { turnRad }) => sum + Math.abs(turnRad), 0) / sides.length;
}
