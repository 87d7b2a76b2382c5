import { nextSide } from '../mesh/half-edges.ts';
import { edgeTurns } from './edge-turns.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';
import { triangleChains } from './triangle-chains.ts';

/** Turns below this change no area by more than 1e-4 where a facet is taken for round over them. */
const LONE_RAD = (2 * Math.PI) / 180;
/** An edge is a crease when it turns by more than this many times what its neighbours' parallel edges do together. */
const LONELY = 1.4;
/** Squared cosine between two edges from which on they count as parallel … */
const PARALLEL = 0.7;
/** … and up to which one says nothing about the other: the spokes of a cone of eight facets lie at 67° to its rim. */
const ACROSS = 0.16;
/** … and up to which the other sides of a triangle are the spokes of a fan. */
const FAN = 0.08;
/** A facet of more triangles is a plane, whatever its edges do. */
const MOST = 64;
/** … and so is one that runs on into more facets than a strip of a curved surface has beside it: a disc in a ring of bevels. */
const MOST_BESIDE = 8;

/**
 * Creases that turn by less than faces are split at: a slender point on a rod, the wall of a slot that meets a bore at a slant. Taken
 * for a bend of the surface they would add ten times what the facets cut off.
 *
 * Across a bend of constant curvature facets of extents e turn by curvature · (e₁ + e₂) / 2. The next edges parallel to
 * one, on both sides, turn by at least as much together, however uneven the facets are. An edge that turns by clearly more than
 * both stands alone. Only where the facets are strips or fans, so that the edges of each run along or across:
 * in other meshes it cannot be told, and a turn is the surface's own.
 *
 * @param root per triangle the lowest triangle of its flat facet
 * @param smooth per half-edge, cleared where the edge is a crease
 * @param ends per triangle, set on both sides of a crease
 * @param known per half-edge: not 0 where it is known what an edge is
 */
export function breakLoneTurnsInto(
  smooth: Uint8Array,
  ends: Uint8Array,
  graph: SurfaceGraph,
  root: Int32Array,
  known?: Uint8Array,
): void {
  const { twin } = graph;
  const turns = edgeTurns(graph);
  let strips: Strips | undefined;
  const lone: number[] = [];
  for (let h = 0; h < twin.length; h++) {
    const turn = turns[h];
    const size = Math.abs(turn);
    if (!(size >= LONE_RAD) || twin[h] < h || smooth[h] === 0 || (known?.[h] ?? 0) !== 0) continue;
    if (root[(h / 3) | 0] === root[(twin[h] / 3) | 0]) continue;
    strips ??= new Strips(graph, root, smooth);
    const most = size / LONELY;
    const here = strips.turnBeyond(h, turn);
    // NaN where it cannot be told, which is never less.
    if (here < most && here + strips.turnBeyond(twin[h], turn) < most) lone.push(h);
  }
  for (const h of lone) {
    smooth[h] = smooth[twin[h]] = 0;
    ends[(h / 3) | 0] = ends[(twin[h] / 3) | 0] = 1;
  }
}

/** Sides of a disc in a ring of bevels turn by this much more or less, as a share. */
const ALIKE = 0.15;

const NO_DISC = 1;
const IS_DISC = 2;

/** Looks across facets, from one edge to those parallel to it. */
class Strips {
  /** See NO_GRAPH. */
  static readonly KEPT = new Strips(NO_GRAPH, new Int32Array(), new Uint8Array());

  private readonly graph: SurfaceGraph;
  private readonly root: Int32Array;
  private readonly smooth: Uint8Array;
  /** See triangle-chains.ts; sets are the facets. */
  private readonly head: Int32Array;
  private readonly next: Int32Array;
  private readonly turns: Float32Array;
  /** Per facet: 0 until asked, then whether it is a disc. */
  private readonly discs: Uint8Array;

  constructor(graph: SurfaceGraph, root: Int32Array, smooth: Uint8Array) {
    this.graph = graph;
    this.root = root;
    this.smooth = smooth;
    ({ head: this.head, next: this.next } = triangleChains(root));
    this.turns = edgeTurns(graph);
    this.discs = new Uint8Array(root.length);
  }

  /** Whether a facet lies beside more others than a piece of a curved surface would. */
  private isDisc(own: number): boolean {
    if (this.discs[own] !== 0) return this.discs[own] === IS_DISC;
    this.discs[own] = NO_DISC;
    const { graph, root, smooth, head, next } = this;
    // A polygon takes as many triangles as it has sides, less two.
    let triangles = 0;
    for (let t = head[own]; t >= 0 && triangles < MOST_BESIDE - 2; t = next[t]) triangles++;
    if (triangles < MOST_BESIDE - 2) return false;
    const beside = new Set<number>();
    const smoothly = new Set<number>();
    let least = Infinity;
    let most = -Infinity;
    for (let t = head[own]; t >= 0 && smoothly.size <= MOST_BESIDE; t = next[t]) {
      for (let g = 3 * t; g < 3 * t + 3; g++) {
        const there = graph.twin[g] < 0 ? -1 : root[(graph.twin[g] / 3) | 0];
        if (there === own) continue;
        beside.add(there);
        if (there >= 0 && smooth[g] !== 0) smoothly.add(there);
        least = Math.min(least, this.turns[g]);
        most = Math.max(most, this.turns[g]);
      }
    }
    // Or all its sides turn alike, be they creases or not quite.
    const isAlike = least * most > 0 && Math.abs(most - least) < ALIKE * Math.abs(most + least);
    if (smoothly.size > MOST_BESIDE || (beside.size >= MOST_BESIDE && isAlike)) this.discs[own] = IS_DISC;
    return this.discs[own] === IS_DISC;
  }

  /** Turn of the facet's other smooth edges along `h`; NaN where they run slanted or bend the other way. */
  turnBeyond(h: number, turn: number): number {
    const { graph, root, smooth, head, next } = this;
    const { twin } = graph;
    const { vertices, triangles } = graph.indexed;
    const own = root[(h / 3) | 0];
    const across = root[(twin[h] / 3) | 0];
    const from = 3 * triangles[h];
    const to = 3 * triangles[nextSide(h)];
    const dx = vertices[to] - vertices[from];
    const dy = vertices[to + 1] - vertices[from + 1];
    const dz = vertices[to + 2] - vertices[from + 2];
    const length2 = dx * dx + dy * dy + dz * dz;
    if (this.isDisc(own)) return 0;
    // Beside a disc the spokes of its ring of strips say nothing, however much they slant.
    const besideDisc = this.isDisc(across);
    let beyond = 0;
    let looked = 0;
    let isStrip = false;
    let isFan = true;
    for (let t = head[own]; t >= 0; t = next[t]) {
      if (++looked > MOST) return 0;
      for (let g = 3 * t; g < 3 * t + 3; g++) {
        if (twin[g] < 0 || smooth[g] === 0) {
          isStrip = true;
          continue;
        }
        const there = root[(twin[g] / 3) | 0];
        if (there === own || there === across) continue;
        if (besideDisc && meetsAt(triangles, g, h)) continue;
        const a = 3 * triangles[g];
        const b = 3 * triangles[nextSide(g)];
        const ex = vertices[b] - vertices[a];
        const ey = vertices[b + 1] - vertices[a + 1];
        const ez = vertices[b + 2] - vertices[a + 2];
        const otherLength2 = ex * ex + ey * ey + ez * ez;
        const along = dx * ex + dy * ey + dz * ez;
        const cosine2 = (along * along) / (length2 * otherLength2 || 1);
        if (cosine2 > FAN) isFan = false;
        if (cosine2 < ACROSS) continue;
        const turnThere = this.turns[g];
        const meets = triangles[g] === triangles[nextSide(h)] || triangles[nextSide(g)] === triangles[h];
        if (cosine2 < PARALLEL || (turnThere * turn < 0 && meets)) {
          if (Math.abs(turnThere) > LONE_RAD / 2) return NaN;
          continue;
        }
        isStrip = true;
        if (turnThere * turn > 0)
          beyond += Math.abs(turnThere) * Math.min(1, Math.sqrt(otherLength2 / length2));
      }
    }
    return isStrip || isFan ? beyond : NaN;
  }
}

/** Whether two half-edges have a corner in common. */
function meetsAt(triangles: Uint32Array, g: number, h: number): boolean {
  const a = triangles[g];
  const b = triangles[nextSide(g)];
  const c = triangles[h];
  const d = triangles[nextSide(h)];
  return a === c || a === d || b === c || b === d;
}
