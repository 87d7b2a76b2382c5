import { nextSide } from '../mesh/half-edges.ts';
import { edgeTurns } from './edge-turns.ts';
import { dot, length3, unit } from './fit-vectors.ts';
import { FLAT_RAD, NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';

/** Facets of more triangles or sides are no strip of a coarse round, even where a hole goes through it. */
const MOST_TRIANGLES = 300;
const MOST_SIDES = 100;
/** Share of their distance by which parallel sides may draw together. */
const PARALLEL = 1e-3;
/** Cosine between edges of one straight line. */
const STRAIGHT = 1 - 1e-5;

/** A straight line in which two flat facets meet. */
export interface FacetSide {
  /** Number of the facet across. */
  readonly beyond: number;
  /** Vertices, the way the facet runs round. */
  readonly from: number;
  readonly to: number;
  /** rad, positive convex. */
  readonly turnRad: number;
  readonly halfEdges: readonly number[];
}

/**
 * The flat facets of a mesh and the sides in which they meet, whatever faces they belong to. Worked out one by one as they are asked
 * for: a part has few facets that may draw a coarse round, and often none.
 */
export class FacetSides {
  /** See NO_GRAPH. */
  static readonly KEPT = new FacetSides(NO_GRAPH);

  readonly graph: SurfaceGraph;
  readonly turns: Float32Array;
  private readonly facetOf: Int32Array;
  private readonly members: number[][] = [];
  private readonly found: (readonly FacetSide[] | null | undefined)[] = [];

  constructor(graph: SurfaceGraph) {
    this.graph = graph;
    this.turns = edgeTurns(graph);
    this.facetOf = new Int32Array(graph.twin.length / 3).fill(-1);
  }

  /** Number of the facet that a triangle belongs to. */
  facet(triangle: number): number {
    const known = this.facetOf[triangle];
    if (known >= 0) return known;
    const { twin } = this.graph;
    const number = this.members.length;
    const triangles = [triangle];
    this.facetOf[triangle] = number;
    for (let i = 0; i < triangles.length; i++) {
      for (let h = 3 * triangles[i]; h < 3 * triangles[i] + 3; h++) {
        if (!(Math.abs(this.turns[h]) < FLAT_RAD)) continue;
        const u = (twin[h] / 3) | 0;
        if (this.facetOf[u] >= 0) continue;
        this.facetOf[u] = number;
        triangles.push(u);
      }
    }
    this.members.push(triangles);
    return number;
  }

  triangles(facet: number): readonly number[] {
    return this.members[facet];
  }

  /** Sides with a neighbour, in no order; null for a facet that is no plain polygon of few sides. */
  sides(facet: number): readonly FacetSide[] | null {
    const known = this.found[facet];
    if (known !== undefined) return known;
    const sides = this.workedOut(facet);
    this.found[facet] = sides;
    return sides;
  }

  length({ from, to }: FacetSide): number {
    return length3(...this.along(from, to));
  }

  /** Distance between two parallel sides; NaN where they are not. */
  apart(one: FacetSide, two: FacetSide): number {
    const way = unit(this.along(one.from, one.to));
    const [near, far] = [two.from, two.to].map((end) => {
      const arm = this.along(one.from, end);
      const along = dot(arm, way);
      return length3(arm[0] - along * way[0], arm[1] - along * way[1], arm[2] - along * way[2]);
    });
    return Math.abs(near - far) < PARALLEL * (near + far) ? (near + far) / 2 : NaN;
  }

  private workedOut(facet: number): readonly FacetSide[] | null {
    const own = this.members[facet];
    if (own.length > MOST_TRIANGLES) return null;
    const { twin } = this.graph;
    const beside = new Map<number, number[]>();
    for (const t of own) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        if (twin[h] < 0) continue;
        const across = this.facet((twin[h] / 3) | 0);
        if (across === facet) continue;
        const list = beside.get(across);
        if (list) list.push(h);
        else beside.set(across, [h]);
      }
    }
    if (beside.size > MOST_SIDES) return null;
    const sides: FacetSide[] = [];
    for (const [beyond, halfEdges] of beside) {
      const ends = this.lineOf(halfEdges);
      if (ends) sides.push({ beyond, ...ends, turnRad: this.turns[halfEdges[0]], halfEdges });
    }
    return sides;
  }

  /** First and last vertex of half-edges on one straight line, which a hole may have cut; undefined where they lie on none. */
  private lineOf(halfEdges: readonly number[]): { readonly from: number; readonly to: number } | undefined {
    const { triangles } = this.graph.indexed;
    const [first] = halfEdges;
    const way = this.along(triangles[first], triangles[nextSide(first)]);
    let from = triangles[first];
    let to = triangles[nextSide(first)];
    for (const h of halfEdges) {
      if (dot(this.along(from, triangles[h]), way) < 0) from = triangles[h];
      if (dot(this.along(to, triangles[nextSide(h)]), way) > 0) to = triangles[nextSide(h)];
    }
    const whole = this.along(from, to);
    const isAlong = (a: number, b: number): boolean => {
      const part = this.along(a, b);
      return a === b || dot(whole, part) > STRAIGHT * length3(...whole) * length3(...part);
    };
    const isStraight = halfEdges.every(
      (h) => isAlong(triangles[h], triangles[nextSide(h)]) && isAlong(from, triangles[h]),
    );
    return isStraight ? { from, to } : undefined;
  }

  private along(from: number, to: number): [number, number, number] {
    const { vertices } = this.graph.indexed;
    return [0, 1, 2].map((k) => vertices[3 * to + k] - vertices[3 * from + k]) as [number, number, number];
  }
}
