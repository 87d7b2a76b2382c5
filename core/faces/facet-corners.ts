import { nextSide, sideBefore } from '../mesh/half-edges.ts';
import { END, FacetChains, INSIDE, MOST_LOOKED_AT, SMOOTH } from './facet-chains.ts';

/** Half-edges of a facet that there is room for to begin with. */
const ROOM = 48;

/**
 * The corners of one facet after the other, triangle after triangle, side by side in scratch that is kept from facet to facet: what is
 * worked out of a facet goes over them several times. A corner's place among them is that of the half-edge that starts there.
 */
export class FacetCorners {
  /** See NO_GRAPH. */
  static readonly KEPT = new FacetCorners(FacetChains.KEPT);

  /** Of the facet at hand: its triangles' corners, its smooth edges, its sides that end it. */
  count = 0;
  smoothCount = 0;
  ends = 0;
  /** Its longest smooth edge, −1 where none has a length, its corner's place, and that length squared. */
  longest = -1;
  longestAt = -1;
  longest2 = NaN;

  /** Per corner: where its half-edge leads, its vertex, and 3 numbers where it is. */
  kinds = new Uint8Array(ROOM);
  vertexOf = new Int32Array(ROOM);
  places = new Float64Array(3 * ROOM);
  /** The smooth edges: half-edge, and its corner's place. */
  smooth = new Int32Array(ROOM);
  smoothAt = new Int32Array(ROOM);

  private readonly chains: FacetChains;
  /** Of a facet of two triangles: the corner of each that the other has not. */
  private lone0 = -1;
  private lone1 = -1;

  constructor(chains: FacetChains) {
    this.chains = chains;
  }

  gather(root: number): void {
    const { next, graph, facets } = this.chains;
    const { twin } = graph;
    const { vertices, triangles } = graph.indexed;
    const { root: rootOf, smooth: isSmooth } = facets;
    let { kinds, vertexOf, places, smooth, smoothAt } = this;
    let at = 0;
    let count = 0;
    let ends = 0;
    let longest = -1;
    let longestAt = -1;
    let longest2 = 0;
    let inside = -1;
    for (let t = root; t >= 0; t = next[t]) {
      if (at + 3 > kinds.length) {
        this.widen();
        ({ kinds, vertexOf, places, smooth, smoothAt } = this);
      }
      const first = at;
      for (let h = 3 * t; h < 3 * t + 3; h++, at++) {
        const vertex = triangles[h];
        vertexOf[at] = vertex;
        places[3 * at] = vertices[3 * vertex];
        places[3 * at + 1] = vertices[3 * vertex + 1];
        places[3 * at + 2] = vertices[3 * vertex + 2];
      }
      for (let side = 0; side < 3; side++) {
        const h = 3 * t + side;
        const own = first + side;
        const other = twin[h];
        if (other >= 0 && rootOf[(other / 3) | 0] === root) {
          kinds[own] = INSIDE;
          inside = own;
          continue;
        }
        if (other < 0 || isSmooth[h] === 0) {
          kinds[own] = END;
          ends++;
          continue;
        }
        kinds[own] = SMOOTH;
        smooth[count] = h;
        smoothAt[count++] = own;
        const a = 3 * own;
        const b = side === 2 ? 3 * first : a + 3;
        const x = places[b] - places[a];
        const y = places[b + 1] - places[a + 1];
        const z = places[b + 2] - places[a + 2];
        const length2 = x * x + y * y + z * z;
        if (length2 > longest2) {
          longest2 = length2;
          longest = h;
          longestAt = own;
        }
      }
    }
    this.count = at;
    this.smoothCount = count;
    this.ends = ends;
    this.longest = longest;
    this.longestAt = longestAt;
    this.longest2 = longest2;
    this.lone0 = this.lone1 = -1;
    if (at === 6 && inside >= 3) {
      this.lone1 = sideBefore(inside);
      this.lone0 = sideBefore(twin[3 * next[root] + inside - 3] - 3 * root);
    }
  }

  /** Length squared of the half-edge that starts at a corner. */
  length2(at: number): number {
    const { places } = this;
    const a = 3 * at;
    const b = 3 * nextSide(at);
    const x = places[b] - places[a];
    const y = places[b + 1] - places[a + 1];
    const z = places[b + 2] - places[a + 2];
    return x * x + y * y + z * z;
  }

  /** How far the facet reaches from the line of one of its edges: see facet-extent.ts. */
  extent(at: number): number {
    const { places, vertexOf } = this;
    const a = 3 * at;
    const b = 3 * nextSide(at);
    const ax = places[a];
    const ay = places[a + 1];
    const az = places[a + 2];
    const ex = places[b] - ax;
    const ey = places[b + 1] - ay;
    const ez = places[b + 2] - az;
    const from = vertexOf[at];
    const to = vertexOf[nextSide(at)];
    // Of two triangles no more than two corners lie off the line: the third one of its own, and the other's alone.
    const arePair = this.lone0 >= 0;
    const count = arePair ? 2 : Math.min(this.count, 3 * MOST_LOOKED_AT);
    let most2 = 0;
    for (let k = 0; k < count; k++) {
      const i = !arePair ? k : k === 0 ? sideBefore(at) : at < 3 ? this.lone1 : this.lone0;
      if (vertexOf[i] === from || vertexOf[i] === to) continue;
      const x = places[3 * i] - ax;
      const y = places[3 * i + 1] - ay;
      const z = places[3 * i + 2] - az;
      const cx = y * ez - z * ey;
      const cy = z * ex - x * ez;
      const cz = x * ey - y * ex;
      const away2 = cx * cx + cy * cy + cz * cz;
      if (away2 > most2) most2 = away2;
    }
    return Math.sqrt(most2 / (ex * ex + ey * ey + ez * ez || 1));
  }

  /** Makes room for twice as many corners, and keeps what is known of those that are there. */
  private widen(): void {
    const room = 2 * this.kinds.length;
    const kinds = new Uint8Array(room);
    kinds.set(this.kinds);
    this.kinds = kinds;
    const wider = (from: Int32Array): Int32Array<ArrayBuffer> => {
      const to = new Int32Array(room);
      to.set(from);
      return to;
    };
    this.vertexOf = wider(this.vertexOf);
    this.smooth = wider(this.smooth);
    this.smoothAt = wider(this.smoothAt);
    const places = new Float64Array(3 * room);
    places.set(this.places);
    this.places = places;
  }
}
