import { nextSide, sideBefore } from '../mesh/half-edges.ts';
import { ConeSpans } from './cone-spans.ts';
import { FacetChains, INSIDE, SMOOTH } from './facet-chains.ts';
import { FacetFrames, QUADRATIC, STRIDE } from './facet-frames.ts';
import { FacetFitter } from './fit-facets.ts';
import type { FlatFacets } from './flat-facets.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';

/**
 * How far the true surface stands above flat facets: for each a quadratic h(x, y) = c₀ + c₁ x + c₂ y + c₃ x²/2 + c₄ x y +
 * c₅ y²/2 in its plane, fitted to what the mesh tells about it. Corners between smooth facets lie on the surface
 * (h = 0); at the middle of a smooth edge the surface rises from the facet by its share of the turn, the facet's own extent from
 * the edge against both. Other corners are probably on the surface as well, or cut into the facet by a hole: they only
 * decide what the first two leave open.
 *
 * All facets are kept in one array: there may be hundreds of thousands.
 */
export class FacetBulges {
  /** See NO_GRAPH. */
  static readonly KEPT = new FacetBulges(NO_GRAPH, FacetChains.KEPT.facets, [], ConeSpans.KEPT);

  readonly chains: FacetChains;
  /** Per facet added: 1 where the slopes at its edges agree with one another, 0 where they contradict. */
  readonly agreement: Float64Array;
  /** Per facet added: mean square of those slopes. */
  readonly slope2: Float64Array;
  /** Height over the facet and its gradient along the facet's two directions, as bulgeAt leaves them. */
  readonly at = new Float64Array(3);

  /**
   * Per facet added that reaches from rim to rim of a cylinder or cone, or from a cone's rim to its tip: the mean rise of the
   * surface inward over its two long edges, and the mean square of it. NaN for the others.
   */
  readonly ruledRise: Float64Array;
  readonly ruledRise2: Float64Array;

  private readonly rimLength: Float64Array;
  private readonly ruledDepth: Float64Array;
  readonly frames: FacetFrames;
  private readonly rowOfRoot: Int32Array;

  /** @param roots facets to work out, see flat-facets.ts */
  constructor(graph: SurfaceGraph, facets: FlatFacets, roots: readonly number[], spans: ConeSpans) {
    this.chains = new FacetChains(graph, facets);
    this.frames = new FacetFrames(this.chains, roots.length);
    this.rowOfRoot = new Int32Array(facets.root.length).fill(-1);
    const fitter = new FacetFitter(this.chains, this.frames, roots.length, spans);
    for (let row = 0; row < roots.length; row++) {
      this.rowOfRoot[roots[row]] = row;
      fitter.fit(roots[row], row);
    }
    this.agreement = fitter.agreement;
    this.slope2 = fitter.slope2;
    this.ruledRise = fitter.ruledRise;
    this.ruledRise2 = fitter.ruledRise2;
    this.rimLength = fitter.rimLength;
    this.ruledDepth = fitter.ruledDepth;
  }

  /** Row of the facet that a triangle belongs to, −1 when it was not among the roots. */
  rowOf(triangle: number): number {
    return this.rowOfRoot[this.chains.facets.root[triangle]];
  }

  /** One number of a facet's frame: 0-2 origin, 3-5 and 6-8 its directions, 9-11 its normal. */
  frame(row: number, index: number): number {
    return this.frames.values[STRIDE * row + index];
  }

  /** Leaves h and its gradient at a point of space, seen along the facet's normal, in `at`. */
  bulgeAt(row: number, px: number, py: number, pz: number): void {
    const { at } = this;
    const { values } = this.frames;
    const o = STRIDE * row;
    const q = o + QUADRATIC;
    const dx = px - values[o];
    const dy = py - values[o + 1];
    const dz = pz - values[o + 2];
    const x = dx * values[o + 3] + dy * values[o + 4] + dz * values[o + 5];
    const y = dx * values[o + 6] + dy * values[o + 7] + dz * values[o + 8];
    const c3 = values[q + 3];
    const c4 = values[q + 4];
    const c5 = values[q + 5];
    at[0] =
      values[q] + values[q + 1] * x + values[q + 2] * y + (c3 * x * x) / 2 + c4 * x * y + (c5 * y * y) / 2;
    at[1] = values[q + 1] + c3 * x + c4 * y;
    at[2] = values[q + 2] + c4 * x + c5 * y;
  }

  /**
   * Height of the surface over the middle of a side, from the slopes at the two smooth edges that the side joins; NaN
   * where it does not join two, or those two meet elsewhere than in the tip of a cone. Better than the quadratic where the
   * facet grows along them: the strip of a cone.
   */
  sagitta(h: number): number {
    const { chains } = this;
    const { twin } = chains.graph;
    const { vertices, triangles } = chains.graph.indexed;
    const t = (h / 3) | 0;
    const root = chains.facets.root[t];
    const row = this.rowOfRoot[root];
    if (!Number.isNaN(this.ruledRise[row]))
      return (this.ruledRise[row] * Math.sqrt(chains.edgeLength2(h))) / 4;
    if (chains.facets.size[root] === 1) return NaN;
    const from = 3 * triangles[h];
    const to = 3 * triangles[nextSide(h)];
    const ex = vertices[to] - vertices[from];
    const ey = vertices[to + 1] - vertices[from + 1];
    const ez = vertices[to + 2] - vertices[from + 2];
    const o = STRIDE * row;
    const { values } = this.frames;
    const eu = ex * values[o + 3] + ey * values[o + 4] + ez * values[o + 5];
    const ev = ex * values[o + 6] + ey * values[o + 7] + ez * values[o + 8];
    const c3 = values[o + QUADRATIC + 3];
    const c4 = values[o + QUADRATIC + 4];
    const c5 = values[o + QUADRATIC + 5];
    let rise = 0;
    for (let end = 0; end < 2; end++) {
      // Round the corner, inside the facet.
      let k = end === 0 ? sideBefore(h) : nextSide(h);
      let side = chains.sideOf(k);
      while (side === INSIDE && k !== h) {
        k = end === 0 ? sideBefore(twin[k]) : nextSide(twin[k]);
        side = chains.sideOf(k);
      }
      if (side !== SMOOTH) return NaN;
      const a = 3 * triangles[k];
      const b = 3 * triangles[nextSide(k)];
      this.bulgeAt(
        row,
        (vertices[a] + vertices[b]) / 2,
        (vertices[a + 1] + vertices[b + 1]) / 2,
        (vertices[a + 2] + vertices[b + 2]) / 2,
      );
      // From the edge's middle to its end at the side the surface bends along the edge as well: a sphere's zone, but no cone.
      const corner = end === 0 ? from : to;
      const far = a === corner ? b : a;
      const du = this.across(o + 3, far, corner);
      const dv = this.across(o + 6, far, corner);
      const bend = (c3 * du * du + 2 * c4 * du * dv + c5 * dv * dv) / (du * du + dv * dv || 1);
      const along = this.at[1] * eu + this.at[2] * ev + (bend * (du * eu + dv * ev)) / 2;
      rise += end === 0 ? along : -along;
    }
    return rise / 8;
  }

  /**
   * How fast the surface rises outward over the middle of a rim, from rulings that draw apart there or together; NaN where the
   * facet is not ruled. The quadratic makes it twice as fast.
   *
   * @param length of the rim
   */
  rimSlope(row: number, length: number): number {
    if (Number.isNaN(this.ruledRise[row])) return NaN;
    const other = this.rimLength[row] - length;
    return (this.ruledRise[row] * (length - other)) / (4 * this.ruledDepth[row]);
  }

  /** How far it is from one vertex to another along one of a facet's directions, at `at` in the frames. */
  private across(at: number, from: number, to: number): number {
    const { vertices } = this.chains.graph.indexed;
    const { values } = this.frames;
    return (
      (vertices[to] - vertices[from]) * values[at] +
      (vertices[to + 1] - vertices[from + 1]) * values[at + 1] +
      (vertices[to + 2] - vertices[from + 2]) * values[at + 2]
    );
  }
}
