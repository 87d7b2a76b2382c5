import { nextSide } from '../mesh/half-edges.ts';
import { ALIKE, DiscFacets } from './disc-facets.ts';
import { edgeTurns } from './edge-turns.ts';
import { FacetChains } from './facet-chains.ts';
import { facetExtent } from './facet-extent.ts';
import { length3 } from './fit-vectors.ts';
import type { FlatFacets } from './flat-facets.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';

/** Turns below this change no area by more than 1e-4 where a facet is taken for round over them. */
export const LONE_RAD = (2 * Math.PI) / 180;
/** Squared cosine between two edges from which on they count as parallel … */
const PARALLEL = 0.7;
/** … and up to which one says nothing about the other: the spokes of a cone of eight facets lie at 67° to its rim. */
const ACROSS = 0.16;
/** … and up to which the other sides of a triangle are the spokes of a fan. */
const FAN = 0.08;
/** A facet of more triangles is a plane, whatever its edges do. */
const MOST = 64;

/** What is found across a facet from one of its edges. */
export interface Beyond {
  /** Turn of the facet's other smooth edges along that edge, NaN where it cannot be told. */
  readonly turn: number;
  /** How far the facet reaches from the edge, and the facets beyond from theirs. */
  readonly extent: number;
  readonly extentBeyond: number;
}

/** Looks across facets, from one edge to those parallel to it. */
export class StripLooks {
  /** See NO_GRAPH. */
  static readonly KEPT = new StripLooks(NO_GRAPH, FacetChains.KEPT.facets);

  private readonly graph: SurfaceGraph;
  private readonly root: Int32Array;
  private readonly smooth: Uint8Array;
  /** See triangle-chains.ts; sets are the facets. */
  readonly next: Int32Array;
  private readonly turns: Float32Array;
  private readonly discs: DiscFacets;
  /** Sides of the facet at hand that run across. */
  private readonly slanted = new Int32Array(3 * MOST);

  constructor(graph: SurfaceGraph, { root, next, smooth }: Pick<FlatFacets, 'root' | 'next' | 'smooth'>) {
    this.graph = graph;
    this.root = root;
    this.smooth = smooth;
    this.next = next;
    this.turns = edgeTurns(graph);
    this.discs = new DiscFacets(graph, root, smooth, next);
  }

  /** Whether a facet of two triangles turns alike at `h` and at its side across. */
  goesOn(h: number, turn: number): boolean {
    const { next, root, smooth } = this;
    const { triangles } = this.graph.indexed;
    const t = (h / 3) | 0;
    const first = root[t];
    const second = next[first];
    if (second < 0 || next[second] >= 0) return false;
    const u = 3 * (first === t ? second : first);
    const from = triangles[h];
    const to = triangles[nextSide(h)];
    const a = triangles[u];
    const b = triangles[u + 1];
    const c = triangles[u + 2];
    const meetsA = a === from || a === to;
    const meetsB = b === from || b === to;
    const meetsC = c === from || c === to;
    // The first side that has no corner in common with the edge.
    const g = !meetsA && !meetsB ? u : !meetsB && !meetsC ? u + 1 : !meetsC && !meetsA ? u + 2 : -1;
    return g >= 0 && smooth[g] !== 0 && Math.abs(this.turns[g] - turn) < ALIKE * Math.abs(turn);
  }

  /** Turn of the facet's other smooth edges along `h`; NaN where they run slanted or bend the other way. */
  turnBeyond(h: number, turn: number): number {
    const { graph, root, smooth, next } = this;
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
    if (this.discs.isDisc(own)) return 0;
    // Beside a disc the spokes of its ring of strips say nothing, however much they slant.
    const besideDisc = this.discs.isDisc(across);
    // Length, and turn times length, of the sides across from `h`: a zone near the pole is shorter there than here.
    let farLength = 0;
    let turned = 0;
    let looked = 0;
    let isStrip = false;
    let isFan = true;
    const { slanted } = this;
    let slants = 0;
    for (let t = own; t >= 0; t = next[t]) {
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
        if (cosine2 < ACROSS) {
          slanted[slants++] = g;
          continue;
        }
        const turnThere = this.turns[g];
        const meets = triangles[g] === triangles[nextSide(h)] || triangles[nextSide(g)] === triangles[h];
        if (cosine2 < PARALLEL || (turnThere * turn < 0 && meets)) {
          if (Math.abs(turnThere) > LONE_RAD / 2) return NaN;
          continue;
        }
        isStrip = true;
        const length = Math.sqrt(otherLength2);
        farLength += length;
        if (turnThere * turn > 0) turned += Math.abs(turnThere) * length;
      }
    }
    if (!isStrip && !isFan) return NaN;
    // A triangle in a row of them that stand up and down by turns: the row's other rim is its neighbours'.
    if (!isStrip) {
      for (let i = 0; i < slants; i++) {
        for (const k of this.farRim(root[(twin[slanted[i]] / 3) | 0], h)) {
          const length = this.length(k);
          farLength += length;
          if (this.turns[k] * turn > 0) turned += Math.abs(this.turns[k]) * length;
        }
      }
    }
    return farLength > 0 ? turned / farLength : 0;
  }

  /** A facet's smooth half-edges along an edge of another that have no corner in common with it. */
  private farRim(own: number, h: number): number[] {
    const { twin, indexed } = this.graph;
    const found: number[] = [];
    for (let t = own; t >= 0; t = this.next[t]) {
      for (let g = 3 * t; g < 3 * t + 3; g++) {
        if (twin[g] < 0 || this.smooth[g] === 0 || this.root[(twin[g] / 3) | 0] === own) continue;
        if (!meetsAt(indexed.triangles, g, h) && this.cosine2(g, h) >= PARALLEL) found.push(g);
      }
    }
    return found;
  }

  /** How many times as far the one facet at an edge reaches from it as the other. */
  unevenness(h: number): number {
    const { root } = this;
    const { twin } = this.graph;
    const one = this.extent(root[(h / 3) | 0], h);
    const two = this.extent(root[(twin[h] / 3) | 0], twin[h]);
    return Math.max(one, two) / Math.min(one, two);
  }

  /** What is across a facet from one of its edges, beyond which it turns by `turn`. */
  beyond(h: number, turn: number): Beyond {
    const { root } = this;
    const { twin } = this.graph;
    const across = root[(twin[h] / 3) | 0];
    let farLength = 0;
    let reached = 0;
    let far = this.parallels(h).filter((g) => root[(twin[g] / 3) | 0] !== across);
    if (far.length === 0) far = this.slantedOf(h).flatMap((g) => this.farRim(root[(twin[g] / 3) | 0], h));
    for (const g of far) {
      const there = root[(twin[g] / 3) | 0];
      const length = this.length(g);
      farLength += length;
      reached += this.extent(there, twin[g]) * length;
    }
    return { turn, extent: this.extent(root[(h / 3) | 0], h), extentBeyond: reached / farLength };
  }

  /** The other smooth sides of a triangle that is a facet by itself. */
  private slantedOf(h: number): number[] {
    const { next, root, smooth } = this;
    const t = root[(h / 3) | 0];
    if (next[t] >= 0) return [];
    return [3 * t, 3 * t + 1, 3 * t + 2].filter((g) => g !== h && this.graph.twin[g] >= 0 && smooth[g] !== 0);
  }

  /** The facet's half-edges along `h` on which the surface runs on, with `h` itself. */
  parallels(h: number): number[] {
    const { graph, root, smooth, next } = this;
    const { twin } = graph;
    const own = root[(h / 3) | 0];
    const found: number[] = [];
    for (let t = own; t >= 0; t = next[t]) {
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
    const [a, b] = [3 * triangles[g], 3 * triangles[nextSide(g)]];
    const [c, d] = [3 * triangles[h], 3 * triangles[nextSide(h)]];
    const gx = vertices[b] - vertices[a];
    const gy = vertices[b + 1] - vertices[a + 1];
    const gz = vertices[b + 2] - vertices[a + 2];
    const hx = vertices[d] - vertices[c];
    const hy = vertices[d + 1] - vertices[c + 1];
    const hz = vertices[d + 2] - vertices[c + 2];
    const along = gx * hx + gy * hy + gz * hz;
    return along ** 2 / ((gx * gx + gy * gy + gz * gz) * (hx * hx + hy * hy + hz * hz) || 1);
  }

  private length(h: number): number {
    const { vertices, triangles } = this.graph.indexed;
    const [a, b] = [3 * triangles[h], 3 * triangles[nextSide(h)]];
    return length3(
      vertices[b] - vertices[a],
      vertices[b + 1] - vertices[a + 1],
      vertices[b + 2] - vertices[a + 2],
    );
  }

  private extent(own: number, h: number): number {
    return facetExtent(this.graph.indexed, this.next, own, h, MOST);
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
