import { edgeTurns } from './edge-turns.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';

/** A facet that runs on into more others than a strip of a curved surface has beside it is a plane: a disc in a ring of bevels. */
const MOST_BESIDE = 8;
/** Sides of such a disc turn by this much more or less, as a share. */
export const ALIKE = 0.15;
const NO_DISC = 1;
const IS_DISC = 2;

/** The facets that are discs, looked at when they are asked for. */
export class DiscFacets {
  /** See NO_GRAPH. */
  static readonly KEPT = new DiscFacets(NO_GRAPH, new Int32Array(), new Uint8Array(), new Int32Array());

  private readonly graph: SurfaceGraph;
  private readonly root: Int32Array;
  private readonly smooth: Uint8Array;
  /** See triangle-chains.ts; sets are the facets. */
  private readonly next: Int32Array;
  private readonly turns: Float32Array;
  /** Per facet: 0 until asked. */
  private readonly known: Uint8Array;

  constructor(graph: SurfaceGraph, root: Int32Array, smooth: Uint8Array, next: Int32Array) {
    this.graph = graph;
    this.root = root;
    this.smooth = smooth;
    this.next = next;
    this.turns = edgeTurns(graph);
    this.known = new Uint8Array(root.length);
  }

  /** Whether a facet lies beside more others than a piece of a curved surface would. */
  isDisc(own: number): boolean {
    if (this.known[own] === 0) this.known[own] = this.workedOut(own) ? IS_DISC : NO_DISC;
    return this.known[own] === IS_DISC;
  }

  private workedOut(own: number): boolean {
    const { graph, root, smooth, next } = this;
    // A polygon takes as many triangles as it has sides, less two.
    let triangles = 0;
    for (let t = own; t >= 0 && triangles < MOST_BESIDE - 2; t = next[t]) triangles++;
    if (triangles < MOST_BESIDE - 2) return false;
    const beside = new Set<number>();
    const smoothly = new Set<number>();
    let least = Infinity;
    let most = -Infinity;
    for (let t = own; t >= 0 && smoothly.size <= MOST_BESIDE; t = next[t]) {
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
    return smoothly.size > MOST_BESIDE || (beside.size >= MOST_BESIDE && isAlike);
  }
}
