import { nextSide } from '../mesh/half-edges.ts';
import { edgeTurns } from './edge-turns.ts';
import { dot, type Vec3 } from './fit-vectors.ts';
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
/** Share by which a turn may differ from that of a bend to be taken for a part of it: coarse chords are less than their arcs. */
const LIKE = 0.08;
/** A flat facet that a bend runs out into is at least this much as wide as its neighbour there: else the two turns are hardly different. */
const LEAST_FLAT = 0.3;
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
 * both stands alone, unless it turns as much as the bend beyond would where an arc of few facets ends. Only where the facets are
 * strips or fans, so that the edges of each run along or across: in other meshes it cannot be told, and a turn is the surface's own.
 *
 * A flat facet between two bends, too narrow to be split off by its width, is known by its two edges: each turns by half of
 * what the bend beside it does from facet to facet.
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
  const creases: number[] = [];
  /** Edges beside which a facet looks flat, the half-edge on its side. */
  const besideFlats: number[] = [];
  for (let h = 0; h < twin.length; h++) {
    const turn = turns[h];
    const size = Math.abs(turn);
    if (!(size >= LONE_RAD) || twin[h] < h || smooth[h] === 0 || (known?.[h] ?? 0) !== 0) continue;
    if (root[(h / 3) | 0] === root[(twin[h] / 3) | 0]) continue;
    strips ??= new Strips(graph, root, smooth);
    const most = size / LONELY;
    const here = strips.beyond(h, turn);
    const there = strips.beyond(twin[h], turn);
    // NaN where it cannot be told, which is never less.
    if (here.turn + there.turn < most) {
      if (!isBend(size, here, there) && !isBend(size, there, here)) creases.push(h);
    } else if (isBesideFlat(size, here, there)) besideFlats.push(h);
    else if (isBesideFlat(size, there, here)) besideFlats.push(twin[h]);
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

/** What is found across a facet from one of its edges. */
interface Beyond {
  /** Turn of the facet's other smooth edges along that edge, NaN where it cannot be told. */
  readonly turn: number;
  /** How far the facet reaches from the edge, and the facets beyond from theirs. */
  readonly extent: number;
  readonly extentBeyond: number;
}

/** Whether an edge turns as the bend does that goes on beyond facet `q`. */
function isBend(turn: number, q: Beyond, p: Beyond): boolean {
  const bend = (q.turn * (p.extent + q.extent)) / (q.extent + q.extentBeyond);
  return Math.abs(turn - bend) < LIKE * turn;
}

/** Whether an edge turns as that bend does where it runs out into a flat facet `p`. */
function isBesideFlat(turn: number, p: Beyond, q: Beyond): boolean {
  if (!(p.extent > LEAST_FLAT * q.extent)) return false;
  const half = (q.turn * q.extent) / (q.extent + q.extentBeyond);
  return Math.abs(turn - half) < LIKE * turn;
}

/** Sides of a disc in a ring of bevels turn by this much more or less, as a share. */
const ALIKE = 0.15;

const NOTHING: Beyond = { turn: 0, extent: NaN, extentBeyond: NaN };
const UNTOLD: Beyond = { turn: NaN, extent: NaN, extentBeyond: NaN };

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

  /** NaN where the other edges run slanted or bend the other way. */
  beyond(h: number, turn: number): Beyond {
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
    if (this.isDisc(own)) return NOTHING;
    // Beside a disc the spokes of its ring of strips say nothing, however much they slant.
    const besideDisc = this.isDisc(across);
    // Length, and turn and extent times length, of the sides across from `h`: a zone near the pole is shorter there than here.
    let farLength = 0;
    let turned = 0;
    let reached = 0;
    let looked = 0;
    let isStrip = false;
    let isFan = true;
    for (let t = head[own]; t >= 0; t = next[t]) {
      if (++looked > MOST) return NOTHING;
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
          if (Math.abs(turnThere) > LONE_RAD / 2) return UNTOLD;
          continue;
        }
        isStrip = true;
        const length = Math.sqrt(otherLength2);
        farLength += length;
        if (turnThere * turn > 0) turned += Math.abs(turnThere) * length;
        reached += this.extent(there, twin[g]) * length;
      }
    }
    if (!isStrip && !isFan) return UNTOLD;
    const extent = this.extent(own, h);
    if (farLength === 0) return { turn: 0, extent, extentBeyond: NaN };
    return { turn: turned / farLength, extent, extentBeyond: reached / farLength };
  }

  /** The facet's half-edges along `h` on which the surface runs on, with `h` itself. */
  parallels(h: number): number[] {
    const { graph, root, smooth, head, next } = this;
    const { twin } = graph;
    const own = root[(h / 3) | 0];
    const found: number[] = [];
    for (let t = head[own]; t >= 0; t = next[t]) {
      for (let g = 3 * t; g < 3 * t + 3; g++) {
        if (twin[g] < 0 || smooth[g] === 0 || root[(twin[g] / 3) | 0] === own) continue;
        if (this.cosine2(g, h) >= PARALLEL) found.push(g);
      }
    }
    return found;
  }

  /** Squared cosine of the angle between two edges. */
  private cosine2(g: number, h: number): number {
    const { vertices, triangles } = this.graph.indexed;
    const [a, b, c, d] = [g, nextSide(g), h, nextSide(h)].map((side) => 3 * triangles[side]);
    const one = [0, 1, 2].map((k) => vertices[b + k] - vertices[a + k]) as unknown as Vec3;
    const two = [0, 1, 2].map((k) => vertices[d + k] - vertices[c + k]) as unknown as Vec3;
    return dot(one, two) ** 2 / (dot(one, one) * dot(two, two) || 1);
  }

  /** How far a facet reaches from the line of one of its edges. */
  private extent(own: number, h: number): number {
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const ex = vertices[b] - vertices[a];
    const ey = vertices[b + 1] - vertices[a + 1];
    const ez = vertices[b + 2] - vertices[a + 2];
    let most2 = 0;
    let looked = 0;
    for (let t = this.head[own]; t >= 0 && looked < MOST; t = this.next[t], looked++) {
      for (let i = 3 * t; i < 3 * t + 3; i++) {
        const p = 3 * triangles[i];
        const x = vertices[p] - vertices[a];
        const y = vertices[p + 1] - vertices[a + 1];
        const z = vertices[p + 2] - vertices[a + 2];
        const cx = y * ez - z * ey;
        const cy = z * ex - x * ez;
        const cz = x * ey - y * ex;
        most2 = Math.max(most2, cx * cx + cy * cy + cz * cz);
      }
    }
    return Math.sqrt(most2 / (ex * ex + ey * ey + ez * ez || 1));
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
