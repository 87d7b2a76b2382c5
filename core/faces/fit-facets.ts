import { nextSide, sideBefore } from '../mesh/half-edges.ts';
import { BorderTriangles } from './border-triangles.ts';
import { ConeSpans } from './cone-spans.ts';
import { edgeTurns } from './edge-turns.ts';
import { FacetChains, INSIDE, SMOOTH } from './facet-chains.ts';
import { FacetCorners } from './facet-corners.ts';
import { FacetFrames, QUADRATIC, STRIDE } from './facet-frames.ts';
import { fitFourSidedInto } from './fit-four-sided.ts';
import { fitTriangleInto } from './fit-triangle.ts';
import { NormalSystem } from './normal-system.ts';
import { RuledFacets } from './ruled-facets.ts';

/** Weight of the corners between smooth facets against that of a slope. */
const STRONG = 10;
/** … of corners that may be cut into the facet. */
const WEAK = 0.1;
/** … of a smooth edge lying on the surface all along, as it does where the surface is ruled. */
const RULING = 0.02;
/** … of every curvature's pull towards 0. */
const RIDGE = 1e-3;
/** Half-edges of a facet that scratch has room for to begin with. */
const ROOM = 48;

/**
 * Fits the surface over one facet after the other, see facet-bulge.ts: triangles and four-sided facets in closed form, all others by
 * least squares. Scratch is kept from facet to facet.
 */
export class FacetFitter {
  /** See NO_GRAPH; with it a NormalSystem, a FacetCorners and a RuledFacets are kept. */
  static readonly KEPT = new FacetFitter(FacetChains.KEPT, FacetFrames.KEPT, 0, ConeSpans.KEPT);

  /** Per row: 1 where the slopes at the facet's edges agree with one another, 0 where they contradict. */
  readonly agreement: Float64Array;
  /** Per row: mean square of those slopes. */
  readonly slope2: Float64Array;
  /** Per row: see ruled-facets.ts; NaN for facets that are no such strips. */
  readonly ruledRise: Float64Array;
  readonly ruledRise2: Float64Array;
  readonly rimLength: Float64Array;
  readonly ruledDepth: Float64Array;

  private readonly chains: FacetChains;
  private readonly frames: FacetFrames;
  private readonly spans: ConeSpans;
  private readonly ruled: RuledFacets;
  private readonly atBorders: BorderTriangles;
  private readonly turns: Float32Array;
  private readonly system = new NormalSystem();
  private readonly corners: FacetCorners;
  /** Where the corners of the facet at hand lie in its frame. */
  private xs = new Float64Array(ROOM);
  private ys = new Float64Array(ROOM);
  /**
   * Of its smooth edges: x, y of the middle, inward normal, slope, length. The first four are only worked out for a fit by least
   * squares; until then the first is the place of its corner.
   */
  private slopes = new Float64Array(6 * ROOM);
  /** The sides of a four-sided facet in order, by their places; per side its distance as a + b x + c y, and its middle. */
  private readonly sides = new Int32Array(4);
  private readonly lines = new Float64Array(20);
  /** Per side the rise inward and its weight; then their mean square. */
  private readonly rises = new Float64Array(9);

  constructor(chains: FacetChains, frames: FacetFrames, rows: number, spans: ConeSpans) {
    this.spans = spans;
    this.chains = chains;
    this.frames = frames;
    this.corners = new FacetCorners(chains);
    this.ruled = new RuledFacets(chains);
    this.atBorders = new BorderTriangles(chains);
    this.turns = edgeTurns(chains.graph);
    this.agreement = new Float64Array(rows).fill(1);
    this.slope2 = new Float64Array(rows);
    this.ruledRise = new Float64Array(rows).fill(NaN);
    this.ruledRise2 = new Float64Array(rows).fill(NaN);
    this.rimLength = new Float64Array(rows);
    this.ruledDepth = new Float64Array(rows);
  }

  /** Works one facet out and leaves its quadratic in the frames. */
  fit(root: number, row: number): void {
    const { graph, facets } = this.chains;
    const { twin } = graph;
    const { frames, corners, spans } = this;
    const { values } = frames;
    const o = STRIDE * row;
    corners.gather(root);
    if (!frames.place(root, o, corners) || corners.longest < 0) return;
    const { count: edges, smoothCount: count, ends, kinds, places, smooth, smoothAt, longest2 } = corners;
    if (edges > this.xs.length) this.widen(kinds.length);
    // x along the longest smooth edge, each direction in its own scale: a long thin strip is fitted as well as a square.
    const { xs, ys, slopes } = this;
    const ox = values[o];
    const oy = values[o + 1];
    const oz = values[o + 2];
    const ux = values[o + 3];
    const uy = values[o + 4];
    const uz = values[o + 5];
    const vx = values[o + 6];
    const vy = values[o + 7];
    const vz = values[o + 8];
    let sx = 0;
    let sy = 0;
    for (let at = 0; at < edges; at++) {
      const dx = places[3 * at] - ox;
      const dy = places[3 * at + 1] - oy;
      const dz = places[3 * at + 2] - oz;
      const x = dx * ux + dy * uy + dz * uz;
      const y = dx * vx + dy * vy + dz * vz;
      xs[at] = x;
      ys[at] = y;
      if (Math.abs(x) > sx) sx = Math.abs(x);
      if (Math.abs(y) > sy) sy = Math.abs(y);
    }
    if (!(sx > 0 && sy > 0)) return;
    const longestLength = Math.sqrt(longest2);
    let known = 0;
    for (let i = 0; i < count; i++) {
      const h = smooth[i];
      const beyond = facets.root[(twin[h] / 3) | 0];
      const isPair =
        facets.size[root] === 1 &&
        facets.size[beyond] === 1 &&
        spans.parts[root] + spans.parts[beyond] > 0 &&
        !spans.tips.has(root);
      const a = smoothAt[i];
      const own = isPair ? spans.parts[root] : corners.extent(a);
      const across = isPair ? spans.parts[beyond] : this.chains.extent(beyond, twin[h]);
      const b = nextSide(a);
      const ax = xs[a];
      const ay = ys[a];
      const bx = xs[b];
      const by = ys[b];
      const length = Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay));
      if (!(own + across > 0) || !(length > 0)) continue;
      const k = 6 * known++;
      slopes[k] = a;
      slopes[k + 4] = (this.turns[h] * own) / (own + across);
      slopes[k + 5] = Math.sqrt(length / longestLength);
    }
    const maybeRuled = known === count && known >= 2 && (ends === 1 || ends === 2);
    if (maybeRuled && this.ruled.mark(root, corners, slopes)) {
      this.ruledRise[row] = this.ruled.rise;
      this.ruledRise2[row] = this.ruled.rise2;
      this.rimLength[row] = this.ruled.rimLength;
      this.ruledDepth[row] = this.ruled.depth;
    }
    if (facets.size[root] === 1) {
      const known3 = [NaN, NaN, NaN];
      for (let i = 0; i < count && known === count; i++) known3[smooth[i] - 3 * root] = slopes[6 * i + 4];
      if (this.spans.isCone(root)) this.straightenInto(known3, root);
      else this.atBorders.settleInto(known3, root);
      const own = [0, 1, 2].map((i): [number, number] => [xs[i], ys[i]]);
      fitTriangleInto(values, o + QUADRATIC, own, known3);
      return;
    }
    if (facets.size[root] === 2 && known === count && this.fitFourSided(root, row, count)) return;
    const s = Math.min(sx, sy);
    for (let k = 0; k < 6 * known; k += 6) {
      const a = slopes[k] | 0;
      const b = nextSide(a);
      const ex = xs[b] - xs[a];
      const ey = ys[b] - ys[a];
      const length = Math.sqrt(ex * ex + ey * ey);
      slopes[k] = (xs[a] + xs[b]) / 2 / sx;
      slopes[k + 1] = (ys[a] + ys[b]) / 2 / sy;
      slopes[k + 2] = (-ey / length) * (s / sx);
      slopes[k + 3] = (ex / length) * (s / sy);
    }
    const { system } = this;
    system.clear();
    for (let k = 0; k < 6 * known; k += 6) {
      const x = slopes[k];
      const y = slopes[k + 1];
      const mx = slopes[k + 2];
      const my = slopes[k + 3];
      system.row(0, mx, my, mx * x, mx * y + my * x, my * y);
      system.add(slopes[k + 5], slopes[k + 4]);
      this.touch(x, y, RULING);
    }
    for (let at = 0; at < edges; at++) {
      if (kinds[at] === INSIDE) continue;
      const weight = kinds[at] === SMOOTH ? STRONG : WEAK;
      this.touch(xs[at] / sx, ys[at] / sy, weight);
      this.touch(xs[nextSide(at)] / sx, ys[nextSide(at)] / sy, weight);
    }
    for (let i = 0; i < 6; i++) system.pull(i, i < 3 ? 1e-12 : RIDGE * RIDGE);
    const c = system.solve();
    let missed = 0;
    let wanted = 0;
    let weights = 0;
    for (let k = 0; k < 6 * known; k += 6) {
      const x = slopes[k];
      const y = slopes[k + 1];
      const found =
        slopes[k + 2] * (c[1] + c[3] * x + c[4] * y) + slopes[k + 3] * (c[2] + c[4] * x + c[5] * y);
      const g = slopes[k + 4];
      missed += slopes[k + 5] * (g - found) * (g - found);
      wanted += slopes[k + 5] * g * g;
      weights += slopes[k + 5];
    }
    if (wanted > 0) {
      this.agreement[row] = Math.max(0, 1 - missed / wanted);
      this.slope2[row] = wanted / weights;
    }
    const q = o + QUADRATIC;
    values[q] = c[0] * s;
    values[q + 1] = c[1] * (s / sx);
    values[q + 2] = c[2] * (s / sy);
    values[q + 3] = c[3] * (s / (sx * sx));
    values[q + 4] = c[4] * (s / (sx * sy));
    values[q + 5] = c[5] * (s / (sy * sy));
  }

  /** Fills in the rise at a cone's rim: along the line from the rim's middle to the triangle's third corner it is straight. */
  private straightenInto(rises: number[], t: number): void {
    const open = rises.findIndex((rise) => Number.isNaN(rise));
    if (open < 0 || this.spans.tips.has(t) || !this.spans.isRim(t, open)) return;
    // With p of border-triangles.ts: that line is (eᵢ − eⱼ) / 2, so pₖ = −(pᵢ + pⱼ) / 4.
    const length = (k: number): number => Math.sqrt(this.chains.edgeLength2(3 * t + k));
    const [i, j] = [(open + 1) % 3, (open + 2) % 3];
    rises[open] = (-length(open) * (rises[i] / length(i) + rises[j] / length(j))) / 4;
  }

  /**
   * The same for a four-sided facet of two triangles with all corners between smooth facets, the usual case.
   *
   * @param count smooth edges, all with their slopes in `slopes`, in the order of `smooth`; false when the facet is of another kind
   */
  private fitFourSided(root: number, row: number, count: number): boolean {
    const { xs, ys, slopes, sides, lines, rises } = this;
    const { kinds, smoothAt } = this.corners;
    if (count < 2) return false;
    let k = 0;
    while (k < 3 && kinds[k] !== INSIDE) k++;
    if (k === 3) return false;
    const across = 3 + (this.chains.graph.twin[3 * root + k] % 3);
    sides[0] = nextSide(k);
    sides[1] = sideBefore(k);
    sides[2] = nextSide(across);
    sides[3] = sideBefore(across);
    let before = kinds[sides[3]] === SMOOTH;
    for (let i = 0; i < 4; i++) {
      const a = sides[i];
      const b = nextSide(a);
      const here = kinds[a];
      if (here === INSIDE || (here !== SMOOTH && !before)) return false;
      before = here === SMOOTH;
      const ax = xs[a];
      const ay = ys[a];
      const ex = xs[b] - ax;
      const ey = ys[b] - ay;
      const length = Math.sqrt(ex * ex + ey * ey);
      if (!(length > 0)) return false;
      // Distance inward of the side: lines[…] + x · … + y · …
      lines[5 * i + 1] = -ey / length;
      lines[5 * i + 2] = ex / length;
      lines[5 * i] = (ey * ax - ex * ay) / length;
      lines[5 * i + 3] = ax + ex / 2;
      lines[5 * i + 4] = ay + ey / 2;
    }
    for (let i = 0; i < 4; i++) {
      let k = 0;
      while (k < count && smoothAt[k] !== sides[i]) k++;
      rises[2 * i] = k === count ? 0 : slopes[6 * k + 4];
      rises[2 * i + 1] = k === count ? 0 : slopes[6 * k + 5];
    }
    this.agreement[row] = fitFourSidedInto(this.frames.values, STRIDE * row + QUADRATIC, lines, rises);
    this.slope2[row] = rises[8];
    return true;
  }

  private widen(room: number): void {
    this.xs = new Float64Array(room);
    this.ys = new Float64Array(room);
    this.slopes = new Float64Array(6 * room);
  }

  /** The surface passes through the facet there. */
  private touch(x: number, y: number, weight: number): void {
    this.system.row(1, x, y, (x * x) / 2, x * y, (y * y) / 2);
    this.system.add(weight, 0);
  }
}
