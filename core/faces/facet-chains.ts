import { nextSide } from '../mesh/half-edges.ts';
import { facetExtent } from './facet-extent.ts';
import type { FlatFacets } from './flat-facets.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';

/** Where a side of a facet leads. */
export const INSIDE = 0;
export const SMOOTH = 1;
export const END = 2;

/** Triangles of a facet that are looked at for its extent from an edge. */
export const MOST_LOOKED_AT = 200;

/** The flat facets of a mesh with their triangles, and where their sides lead. */
export class FacetChains {
  /** See NO_GRAPH. */
  static readonly KEPT = new FacetChains(NO_GRAPH, {
    root: new Int32Array(),
    next: new Int32Array(),
    size: new Uint8Array(),
    smooth: new Uint8Array(),
    ends: new Uint8Array(),
  });

  readonly graph: SurfaceGraph;
  readonly facets: FlatFacets;
  /** See triangle-chains.ts; sets are the facets. */
  readonly next: Int32Array;

  constructor(graph: SurfaceGraph, facets: FlatFacets) {
    this.graph = graph;
    this.facets = facets;
    this.next = facets.next;
  }

  sideOf(h: number): typeof INSIDE | typeof SMOOTH | typeof END {
    const { root, smooth } = this.facets;
    const other = this.graph.twin[h];
    if (other < 0) return END;
    if (root[(other / 3) | 0] === root[(h / 3) | 0]) return INSIDE;
    return smooth[h] !== 0 ? SMOOTH : END;
  }

  edgeLength2(h: number): number {
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const x = vertices[b] - vertices[a];
    const y = vertices[b + 1] - vertices[a + 1];
    const z = vertices[b + 2] - vertices[a + 2];
    return x * x + y * y + z * z;
  }

  /** How far the facet reaches from the line of one of its edges. */
  extent(root: number, h: number): number {
    return facetExtent(this.graph.indexed, this.next, root, h, MOST_LOOKED_AT);
  }
}
