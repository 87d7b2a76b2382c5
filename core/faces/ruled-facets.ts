import { nextSide, sideBefore } from '../mesh/half-edges.ts';
import { END, MOST_LOOKED_AT, SMOOTH, type FacetChains } from './facet-chains.ts';
import type { FacetCorners } from './facet-corners.ts';

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
   * @param corners of the facet
   * @param slopes six numbers for each of its smooth edges, of which the fifth is the rise inward
   */
  mark(root: number, corners: FacetCorners, slopes: Float64Array): boolean {
    const { smooth, smoothAt, smoothCount: count, vertexOf, ends: rims } = corners;
    if (count > MOST_SPOKES || corners.count > 3 * MOST_LOOKED_AT) return false;
    if (rims !== 1 && rims !== 2) return false;
    let tip = NO_CORNER;
    for (let i = 0; i < count; i++) {
      const end = vertexOf[nextSide(smoothAt[i])];
      for (let k = 0; k < count; k++) {
        if (vertexOf[smoothAt[k]] !== end || runsAlong(corners, smoothAt[i], smoothAt[k])) continue;
        // Between two rims lines meet nowhere, and above one of them in one tip.
        if (rims === 2 || tip !== NO_CORNER) return false;
        tip = k;
      }
    }
    if (rims === 1 && tip === NO_CORNER) return false;
    if (tip !== NO_CORNER && !this.isTip(smooth[tip])) return false;
    const line = smoothAt[Math.max(tip, 0)];
    let [length1, risen1, length2, risen2] = [0, 0, 0, 0];
    for (let i = 0; i < count; i++) {
      const length = Math.sqrt(corners.length2(smoothAt[i]));
      const risen = length * slopes[6 * i + 4];
      if (runsAlong(corners, smoothAt[i], line)) {
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
    this.measureRims(root, corners);
    return true;
  }

  private measureRims(root: number, corners: FacetCorners): void {
    const { next, graph } = this.chains;
    let area = 0;
    for (let t = root; t >= 0; t = next[t]) area += graph.triangleAreas[t];
    this.rimLength = 0;
    for (let at = 0; at < corners.count; at++) {
      if (corners.kinds[at] === END) this.rimLength += Math.sqrt(corners.length2(at));
    }
    this.depth = (2 * area) / this.rimLength;
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

/** Whether two edges of a facet, by the places of their corners, point the same way. */
function runsAlong(corners: FacetCorners, h: number, k: number): boolean {
  const { places } = corners;
  const a = 3 * h;
  const b = 3 * nextSide(h);
  const c = 3 * k;
  const d = 3 * nextSide(k);
  const dot =
    (places[b] - places[a]) * (places[d] - places[c]) +
    (places[b + 1] - places[a + 1]) * (places[d + 1] - places[c + 1]) +
    (places[b + 2] - places[a + 2]) * (places[d + 2] - places[c + 2]);
  return dot > 0 && dot * dot > STRAIGHT * STRAIGHT * corners.length2(h) * corners.length2(k);
}
