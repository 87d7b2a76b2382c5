import { nextSide, sideBefore } from '../mesh/half-edges.ts';
import { END, SMOOTH, type FacetChains } from './facet-chains.ts';

/** Triangles of a facet that are looked at. */
const MOST_LOOKED_AT = 200;
/** Facets that a cone is drawn with at least, and smooth edges of one of them at most. */
const LEAST_SPOKES = 5;
const MOST_SPOKES = 64;
/** Cosine between edges of one straight line. */
const STRAIGHT = 1 - 1e-6;
const NO_CORNER = -1;

/** Finds the facets that reach from rim to rim of a cylinder or cone, or from a cone's rim to its tip. */
export class RuledFacets {
  /** Of the facet looked at last: mean rise of the surface inward over its two long edges, and its mean square. */
  rise = NaN;
  rise2 = NaN;
  /** … and how long its rims are together, and how far apart: from the one to the other, or to the tip. */
  rimLength = NaN;
  depth = NaN;

  private readonly chains: FacetChains;
  private readonly tips = new Map<number, boolean>();

  constructor(chains: FacetChains) {
    this.chains = chains;
  }

  /**
   * Whether all the facet's smooth edges lie along two lines, and all else of it is a rim at their ends: one rim where
   * the lines meet in a tip, round which every facet is such a one, else two. Over such a facet the surface rises by the
   * same everywhere along a line, which no quadratic does where the lines draw together: it takes the arc of a pointed
   * cone's rim for twice as high.
   *
   * @param smooth the facet's smooth half-edges, `count` of them; each has six numbers in `slopes`, of which the fifth is the rise inward
   */
  mark(root: number, smooth: Int32Array, count: number, slopes: Float64Array): boolean {
    const { triangles } = this.chains.graph.indexed;
    if (count > MOST_SPOKES) return false;
    const rims = this.rims(root);
    if (rims !== 1 && rims !== 2) return false;
    let tip = NO_CORNER;
    for (let i = 0; i < count; i++) {
      const end = triangles[nextSide(smooth[i])];
      for (let k = 0; k < count; k++) {
        if (triangles[smooth[k]] !== end || this.runsAlong(smooth[i], smooth[k])) continue;
        if (tip !== NO_CORNER) return false;
        tip = k;
      }
    }
    if (rims !== (tip === NO_CORNER ? 2 : 1)) return false;
    if (tip !== NO_CORNER && !this.isTip(smooth[tip])) return false;
    const line = smooth[Math.max(tip, 0)];
    let [length1, risen1, length2, risen2] = [0, 0, 0, 0];
    for (let i = 0; i < count; i++) {
      const length = Math.sqrt(this.chains.edgeLength2(smooth[i]));
      const risen = length * slopes[6 * i + 4];
      if (this.runsAlong(smooth[i], line)) {
        length1 += length;
        risen1 += risen;
      } else {
        length2 += length;
        risen2 += risen;
      }
    }
    if (!(length1 > 0 && length2 > 0)) return false;
    const rise1 = risen1 / length1;
    const rise2 = risen2 / length2;
    this.rise = (rise1 + rise2) / 2;
    this.rise2 = (rise1 * rise1 + rise2 * rise2) / 2;
    return true;
  }

  /** Whether two edges point the same way. */
  private runsAlong(h: number, k: number): boolean {
    const { vertices, triangles } = this.chains.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const c = 3 * triangles[k];
    const d = 3 * triangles[nextSide(k)];
    const dot =
      (vertices[b] - vertices[a]) * (vertices[d] - vertices[c]) +
      (vertices[b + 1] - vertices[a + 1]) * (vertices[d + 1] - vertices[c + 1]) +
      (vertices[b + 2] - vertices[a + 2]) * (vertices[d + 2] - vertices[c + 2]);
    return (
      dot > 0 && dot * dot > STRAIGHT * STRAIGHT * this.chains.edgeLength2(h) * this.chains.edgeLength2(k)
    );
  }

  private rims(root: number): number {
    let rims = 0;
    let looked = 0;
    let area = 0;
    this.rimLength = 0;
    for (let t = root; t >= 0; t = this.chains.next[t]) {
      if (++looked > MOST_LOOKED_AT) return NaN;
      area += this.chains.graph.triangleAreas[t];
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        if (this.chains.sideOf(h) !== END) continue;
        rims++;
        this.rimLength += Math.sqrt(this.chains.edgeLength2(h));
      }
    }
    this.depth = (2 * area) / this.rimLength;
    return rims;
  }

  /** Whether the surface closes round the start of a half-edge, of facets that all reach a rim. */
  private isTip(spoke: number): boolean {
    const { twin } = this.chains.graph;
    const { triangles } = this.chains.graph.indexed;
    const { root, ends } = this.chains.facets;
    const tip = triangles[spoke];
    const known = this.tips.get(tip);
    if (known !== undefined) return known;
    let isOne = true;
    let spokes = 0;
    let at = spoke;
    do {
      at = twin[sideBefore(at)];
      isOne =
        at >= 0 && triangles[at] === tip && ends[root[(at / 3) | 0]] !== 0 && this.chains.sideOf(at) !== END;
      if (isOne && this.chains.sideOf(at) === SMOOTH) spokes++;
    } while (isOne && at !== spoke);
    isOne &&= spokes >= LEAST_SPOKES;
    this.tips.set(tip, isOne);
    return isOne;
  }
}
