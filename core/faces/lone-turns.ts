import { edgeTurns } from './edge-turns.ts';
import type { FlatFacets } from './flat-facets.ts';
import { LONE_RAD, StripLooks, type Beyond } from './strip-looks.ts';
import { MOST_UNEVEN } from './ring-kinds.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/** An edge is a crease when it turns by more than this many times what its neighbours' parallel edges do together. */
const LONELY = 1.4;
/** Share by which a turn may differ from that of a bend to be taken for a part of it: coarse chords are less than their arcs. */
const LIKE = 0.08;
/** Two neighbours in a bend are together at most this many times as wide as one of them. */
const MOST_UNEVEN_SUM = 5;
/** A flat facet that a bend runs out into is at least this much as wide as its neighbour there: else the two turns are hardly different. */
const LEAST_FLAT = 0.3;

/**
 * Creases that turn by less than faces are split at: a slender point on a rod, the wall of a slot that meets a bore at a slant. Taken
 * for a bend of the surface they would add ten times what the facets cut off.
 *
 * Across a bend of constant curvature facets of extents e turn by curvature · (e₁ + e₂) / 2. The next edges parallel to
 * one, on both sides, turn by at least as much together, however uneven the facets are. An edge that turns by clearly more than
 * both stands alone, unless it turns as much as the bend beyond would where an arc of few facets ends. Only where the facets are
 * strips or fans, so that the edges of each run along or across: in other meshes it cannot be told, and a turn is the surface's own.
 *
 * A flat facet between two bends, too narrow to be split off by its width, is known by its two edges: each turns by half of
 * what the bend beside it does from facet to facet.
 *
 * @param facets see flat-facets.ts: `smooth` is cleared where the edge is a crease, `ends` set on both sides of it
 * @param known per half-edge: not 0 where it is known what an edge is
 */
export function breakLoneTurnsInto(
  facets: Pick<FlatFacets, 'root' | 'next' | 'smooth' | 'ends'>,
  graph: SurfaceGraph,
  known?: Uint8Array,
): void {
  const { root, smooth, ends } = facets;
  const { twin } = graph;
  const turns = edgeTurns(graph);
  let strips: StripLooks | undefined;
  const creases: number[] = [];
  /** Edges beside which a facet looks flat, the half-edge on its side. */
  const besideFlats: number[] = [];
  for (let h = 0; h < twin.length; h++) {
    const turn = turns[h];
    const size = Math.abs(turn);
    if (!(size >= LONE_RAD)) continue;
    const other = twin[h];
    if (other < h || smooth[h] === 0 || (known !== undefined && known[h] !== 0)) continue;
    if (root[(h / 3) | 0] === root[(other / 3) | 0]) continue;
    strips ??= new StripLooks(graph, facets);
    if (strips.goesOn(h, turn) && strips.goesOn(other, turn)) continue;
    const here = strips.turnBeyond(h, turn);
    const there = strips.turnBeyond(other, turn);
    // NaN where it cannot be told, which is never less.
    const isLone = here + there < size / LONELY;
    const isOut = mayRunOut(size, here) || mayRunOut(size, there);
    const mayBeChamfer =
      !isLone && Math.min(here, there) < LONE_RAD / 2 && strips.unevenness(h) > MOST_UNEVEN;
    if (!isLone && !mayBeChamfer && !isOut) continue;
    const one = strips.beyond(h, here);
    const two = strips.beyond(other, there);
    if (isLone) {
      if (!isBend(size, one, two) && !isBend(size, two, one)) creases.push(h);
    } else if (mayBeChamfer && (isChamfer(one, two) || isChamfer(two, one))) creases.push(h);
    else if (isOut && isBesideFlat(size, one, two)) besideFlats.push(h);
    else if (isOut && isBesideFlat(size, two, one)) besideFlats.push(other);
  }
  if (strips && besideFlats.length > 0) {
    const sides = new Set(besideFlats);
    for (const h of besideFlats) if (strips.parallels(h).every((g) => sides.has(g))) creases.push(h);
  }
  for (const h of creases) {
    smooth[h] = smooth[twin[h]] = 0;
    ends[(h / 3) | 0] = ends[(twin[h] / 3) | 0] = 1;
  }
}

/** Whether an edge turns as the bend does that goes on beyond facet `q`. */
function isBend(turn: number, q: Beyond, p: Beyond): boolean {
  const bend = (q.turn * (p.extent + q.extent)) / (q.extent + q.extentBeyond);
  return Math.abs(turn - bend) < LIKE * turn;
}

/**
 * Whether facet `q`, beyond which the surface ends, is a chamfer of a wall `p` that has one at its other end too: they turn alike, as
 * the zones of a barrel would, but no round is drawn as unevenly.
 */
function isChamfer(q: Beyond, p: Beyond): boolean {
  return q.turn < LONE_RAD / 2 && p.extent > MOST_UNEVEN * Math.max(q.extent, p.extentBeyond);
}

/** Whether an edge that turns like this may lie where a bend of facets not too uneven runs out that turns like that from one to the next. */
function mayRunOut(turn: number, bend: number): boolean {
  return turn > bend / MOST_UNEVEN_SUM && turn < bend - bend / MOST_UNEVEN_SUM;
}

/** Whether an edge turns as that bend does where it runs out into a flat facet `p`. */
function isBesideFlat(turn: number, p: Beyond, q: Beyond): boolean {
  if (!(p.extent > LEAST_FLAT * q.extent)) return false;
  const half = (q.turn * q.extent) / (q.extent + q.extentBeyond);
  return Math.abs(turn - half) < LIKE * turn;
}
