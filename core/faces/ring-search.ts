import { nextSide, sideBefore } from '../mesh/half-edges.ts';
import { edgeTurns } from './edge-turns.ts';
import { MOST_AT_CORNER, isFlatEdge, isOfOneWidth, isUnevenRound, nextOfQuads } from './quad-rings.ts';
import { circleOf, isAboutOneAxis, type RingCircle } from './ring-circles.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';

/** Corners of a ring: fewer may be meant, more is no drawing of one. */
const LEAST_ROUND = 8;
const MOST_ROUND = 4000;
/** Where over its rim a triangle's third corner stands, as shares: of 3 : 1 uneven steps between 1/4 and 3/4, of quads cut in two at 0 or 1. */
const STAGGERED = [0.2, 0.8] as const;
/** Corners of a ring that are looked at first. */
const LOOKED = 6;

/** Rings of corners, every one with its half-edges and the triangles after them. */
export interface RingChain {
  /** From corner to corner, on the side of the band after the ring; none for a corner in which a fan ends. */
  readonly rings: readonly (readonly number[])[];
  /** One a ring; none for a corner. */
  readonly circles: readonly (RingCircle | undefined)[];
  /** Triangles between a ring and the next. */
  readonly bands: readonly (readonly number[])[];
  /** The last band leads back to the first ring. */
  readonly isLoop: boolean;
}

/** How the triangles of a band are drawn: up and down by turns, or two to a quad whose corners stand over one another. */
type Drawing = 'staggered' | 'quads';

/**
 * Looks for rings of corners, by corners and neighbours alone: of triangles that stand up and down by turns, and of quads that are
 * not of one width.
 */
export class RingSearch {
  /** See NO_GRAPH. */
  static readonly KEPT = new RingSearch(NO_GRAPH);

  private readonly graph: SurfaceGraph;
  private readonly turns: Float32Array;
  /** Per triangle 1 where it belongs to a chain; made with the first ring. */
  private taken: Uint8Array | undefined;

  constructor(graph: SurfaceGraph) {
    this.graph = graph;
    this.turns = edgeTurns(graph);
  }

  isTaken(t: number): boolean {
    return this.taken !== undefined && this.taken[t] !== 0;
  }

  /** Leaves the triangles of a chain to others. */
  leave({ bands }: Pick<RingChain, 'bands'>): void {
    for (const band of bands) this.free(band);
  }

  /** The rings about a triangle or one beside it; their triangles are taken. */
  chainFrom(t: number): RingChain | undefined {
    for (let k = -1; k < 3; k++) {
      // The first triangle of a face may stand in a fan about its tip: beside it there is a band.
      const other = k < 0 ? 3 * t : this.graph.twin[3 * t + k];
      if (other < 0) continue;
      const u = (other / 3) | 0;
      if (this.isTaken(u)) continue;
      for (let rim = 3 * u; rim < 3 * u + 3; rim++) {
        const drawing: Drawing = this.isStaggered(rim) ? 'staggered' : 'quads';
        const ring = this.ringOf(rim, drawing);
        const circle = ring && this.circleOf(ring, drawing);
        const chain = circle && this.grown(ring, circle, drawing);
        if (chain) return chain;
      }
    }
    return undefined;
  }

  /** Whether a triangle stands over the middle of its side `rim`, and the one beside it upside down between it and the next. */
  private isStaggered(rim: number): boolean {
    const [right, left] = [nextSide(rim), sideBefore(rim)];
    // Quads and whatever is flat end here.
    if (isFlatEdge(this.turns, right) || isFlatEdge(this.turns, left)) return false;
    const beside = this.graph.twin[right];
    return beside >= 0 && this.standsOver(rim) && this.standsOver(sideBefore(beside));
  }

  private standsOver(h: number): boolean {
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const c = 3 * triangles[sideBefore(h)];
    let along = 0;
    let length2 = 0;
    for (let i = 0; i < 3; i++) {
      const e = vertices[b + i] - vertices[a + i];
      along += e * (vertices[c + i] - vertices[a + i]);
      length2 += e * e;
    }
    return along > STAGGERED[0] * length2 && along < STAGGERED[1] * length2;
  }

  /** The rims of a band's triangles on its one side, from one of them on until it comes round. */
  private ringOf(start: number, drawing: Drawing): number[] | undefined {
    const ring = [start];
    let looked = LOOKED;
    for (let h = start; ;) {
      h = drawing === 'quads' ? nextOfQuads(this.graph, this.turns, h) : this.nextStaggered(h);
      if (h < 0) return undefined;
      if (h === start) break;
      if (ring.length >= MOST_ROUND) return undefined;
      ring.push(h);
      // Most others end here: the first corners lie on no circle in a plane.
      if (ring.length === looked) {
        if (drawing === 'quads' && isOfOneWidth(this.graph, ring)) return undefined;
        if (!circleOf(this.graph, ring)) return undefined;
        looked *= 2;
      }
    }
    return ring.length >= LEAST_ROUND ? ring : undefined;
  }

  private nextStaggered(h: number): number {
    const { twin } = this.graph;
    const up = twin[nextSide(h)];
    const down = up < 0 ? -1 : twin[nextSide(up)];
    return down < 0 ? -1 : nextSide(down);
  }

  /** The circle on which a ring's corners lie, where they do and the ring is drawn so. */
  private circleOf(ring: readonly number[], drawing: Drawing, beside?: RingCircle): RingCircle | undefined {
    const circle = circleOf(this.graph, ring, beside?.off);
    if (!circle || drawing === 'staggered') return circle;
    const isOne = isUnevenRound(this.graph, ring, circle) && (!beside || isAboutOneAxis(circle, beside));
    return isOne ? circle : undefined;
  }

  /** The bands on both sides of a ring, as far as they go on. */
  private grown(start: number[], circle: RingCircle, drawing: Drawing): RingChain | undefined {
    this.taken ??= new Uint8Array(this.graph.triangleAreas.length);
    const onward = this.walk(start, circle, drawing);
    if (onward.isLoop) return onward;
    const back = this.walk(this.otherSide(start), circle, drawing);
    const rings = back.rings.slice(1).map((ring) => this.otherSide(ring));
    const chain = {
      rings: [...rings.reverse(), ...onward.rings],
      circles: [...back.circles.slice(1).reverse(), ...onward.circles],
      bands: [...[...back.bands].reverse(), ...onward.bands],
      isLoop: false,
    };
    if (onward.bands.length > 0) return chain;
    this.leave(chain);
    return undefined;
  }

  /** From a ring over band after band to the side that its half-edges are on. */
  private walk(start: readonly number[], circle: RingCircle, drawing: Drawing): RingChain {
    const rings = [start];
    const circles: (RingCircle | undefined)[] = [circle];
    const bands: number[][] = [];
    for (let ring = start; ring.length > 0;) {
      const band: number[] = [];
      const next = this.bandBeyond(ring, band);
      const around = next && next.length > 0 ? this.circleOf(next, drawing, circle) : undefined;
      if (!next || (next.length > 0 && !around)) {
        this.free(band);
        break;
      }
      bands.push(band);
      if (next.includes(start[0])) return { rings, circles, bands, isLoop: true };
      rings.push(next);
      circles.push(around);
      ring = next;
    }
    return { rings, circles, bands, isLoop: false };
  }

  /**
   * The ring beyond a band in which every corner is joined to one of this ring, as half-edges on its far side; none where it is
   * one corner. Takes the triangles between.
   *
   * @param band they are added to it
   */
  private bandBeyond(ring: readonly number[], band: number[]): number[] | undefined {
    const { twin, indexed } = this.graph;
    const { triangles } = indexed;
    const next: number[] = [];
    for (let k = 0; k < ring.length; k++) {
      const h = ring[k];
      const end = sideBefore(ring[k + 1 === ring.length ? 0 : k + 1]);
      if (h < 0 || !this.add(h, band)) return undefined;
      // Round the corner where this chord ends, from its triangle to that of the next.
      let at = nextSide(h);
      for (let steps = 0; twin[at] !== end; steps++) {
        const other = twin[at];
        if (other < 0 || steps > MOST_AT_CORNER || triangles[other] === triangles[at]) return undefined;
        if (!this.add(other, band)) return undefined;
        const beyond = twin[sideBefore(other)];
        if (beyond < 0) return undefined;
        next.push(beyond);
        at = nextSide(other);
      }
    }
    return next.length === 0 || next.length >= LEAST_ROUND ? next : undefined;
  }

  private add(h: number, band: number[]): boolean {
    const t = (h / 3) | 0;
    if (this.taken![t] !== 0) return false;
    this.taken![t] = 1;
    band.push(t);
    return true;
  }

  private free(band: readonly number[]): void {
    for (const t of band) this.taken![t] = 0;
  }

  /** The same ring with the half-edges on its other side, in order; −1 where there is nothing. */
  private otherSide(ring: readonly number[]): number[] {
    return ring.map((h) => this.graph.twin[h]).reverse();
  }
}
