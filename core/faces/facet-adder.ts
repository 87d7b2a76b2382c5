import { nextSide } from '../mesh/half-edges.ts';
import { edgeTurns } from './edge-turns.ts';
import { FacetBulges } from './facet-bulge.ts';
import { INSIDE, SMOOTH } from './facet-chains.ts';
import { QUADRATIC, STRIDE } from './facet-frames.ts';
import type { FacetGains } from './facet-gains.ts';
import { EDGE_ARC, FACE_FLAT } from './flat-facets.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';
import { MOST_WEDGES, TINY_TURN_RAD } from './triangle-gains.ts';

/** What is added up, one entry a face: of the gains, and how much the agreement is worth so far. */
type Sums = Omit<FacetGains, 'border' | 'facetCount' | 'most'> & { readonly weight: Float64Array };

const NONE = new Float64Array();

/**
 * Adds what facets cut off whose bulges are worked out: those of more triangles, and those with a side where the surface does not run on
 * smoothly, see facet-correction.ts for the scheme. All others are added by triangle-gains.ts.
 */
export class FacetAdder {
  /** See NO_GRAPH. */
  static readonly KEPT = new FacetAdder(
    {
      own: NONE,
      weight: NONE,
      agreement: NONE,
      leastFacet: NONE,
      mostFacet: NONE,
      edgeLength: NONE,
      edgeTurn: NONE,
      edgeTurn2: NONE,
      creaseLength: NONE,
      creaseTurn: NONE,
      creaseTurn2: NONE,
    },
    NO_GRAPH,
    new Uint32Array(),
    new Uint8Array(),
    FacetBulges.KEPT,
  );

  /** Half-edges along borders and creases of the facets added, one of each pair. */
  readonly borders: number[] = [];

  private readonly own: Float64Array;
  private readonly weight: Float64Array;
  private readonly agreement: Float64Array;
  private readonly leastFacet: Float64Array;
  private readonly mostFacet: Float64Array;
  private readonly edgeLength: Float64Array;
  private readonly edgeTurn: Float64Array;
  private readonly edgeTurn2: Float64Array;
  private readonly creaseLength: Float64Array;
  private readonly creaseTurn: Float64Array;
  private readonly creaseTurn2: Float64Array;
  private readonly graph: SurfaceGraph;
  private readonly turns: Float32Array;
  private readonly faceOfTriangle: Uint32Array;
  private readonly mode: Uint8Array;
  private readonly bulges: FacetBulges;
  private readonly known: Uint8Array | undefined;

  /** @param mode per face and `known` per half-edge, see flat-facets.ts */
  constructor(
    sums: Sums,
    graph: SurfaceGraph,
    faceOfTriangle: Uint32Array,
    mode: Uint8Array,
    bulges: FacetBulges,
    known?: Uint8Array,
  ) {
    this.own = sums.own;
    this.weight = sums.weight;
    this.agreement = sums.agreement;
    this.leastFacet = sums.leastFacet;
    this.mostFacet = sums.mostFacet;
    this.edgeLength = sums.edgeLength;
    this.edgeTurn = sums.edgeTurn;
    this.edgeTurn2 = sums.edgeTurn2;
    this.creaseLength = sums.creaseLength;
    this.creaseTurn = sums.creaseTurn;
    this.creaseTurn2 = sums.creaseTurn2;
    this.graph = graph;
    this.turns = edgeTurns(graph);
    this.faceOfTriangle = faceOfTriangle;
    this.mode = mode;
    this.bulges = bulges;
    this.known = known;
  }

  /**
   * @param r root of the facet
   * @param row of its bulge
   */
  add(r: number, row: number): void {
    const { bulges, faceOfTriangle, mode, turns, known } = this;
    const { twin, triangleAreas } = this.graph;
    const { vertices, triangles } = this.graph.indexed;
    const f = faceOfTriangle[r];
    const { chains } = bulges;
    const { values } = bulges.frames;
    const o = STRIDE * row;
    const ox = values[o];
    const oy = values[o + 1];
    const oz = values[o + 2];
    const ux = values[o + 3];
    const uy = values[o + 4];
    const uz = values[o + 5];
    const vx = values[o + 6];
    const vy = values[o + 7];
    const vz = values[o + 8];
    const c0 = values[o + QUADRATIC];
    const c1 = values[o + QUADRATIC + 1];
    const c2 = values[o + QUADRATIC + 2];
    const c3 = values[o + QUADRATIC + 3];
    const c4 = values[o + QUADRATIC + 4];
    const c5 = values[o + QUADRATIC + 5];
    const isRuled = !Number.isNaN(bulges.ruledRise[row]);
    let gain = 0;
    let wedges = 0;
    let area = 0;
    for (let t = r; t >= 0; t = chains.next[t]) {
      let squares = 0;
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const a = 3 * triangles[h];
        const b = 3 * triangles[nextSide(h)];
        const ax = vertices[a];
        const ay = vertices[a + 1];
        const az = vertices[a + 2];
        const ex = vertices[b] - ax;
        const ey = vertices[b + 1] - ay;
        const ez = vertices[b + 2] - az;
        const side = chains.sideOf(h);
        const smooth = side === SMOOTH;
        if (!isRuled) {
          // The wedge between the facets under a curved edge: height times slope along it, by Simpson's rule. The edge
          // turned inward, as long as it is, in the facet's own directions:
          const mu = ex * -vx + ey * -vy + ez * -vz;
          const mv = ex * ux + ey * uy + ez * uz;
          let wedge = 0;
          // At the edge's middle, its start and its end; as bulgeAt has it.
          const places = smooth ? 3 : 1;
          for (let place = 0; place < places; place++) {
            const share = place === 0 ? 0.5 : place - 1;
            const dx = ax + share * ex - ox;
            const dy = ay + share * ey - oy;
            const dz = az + share * ez - oz;
            const x = dx * ux + dy * uy + dz * uz;
            const y = dx * vx + dy * vy + dz * vz;
            const height = c0 + c1 * x + c2 * y + (c3 * x * x) / 2 + c4 * x * y + (c5 * y * y) / 2;
            const gx = c1 + c3 * x + c4 * y;
            const gy = c2 + c4 * x + c5 * y;
            if (place === 0) {
              squares += gx * gx + gy * gy;
              wedge = 4 * height * (gx * mu + gy * mv);
            } else wedge += height * (gx * mu + gy * mv);
          }
          if (smooth) wedges += wedge / 6;
        }
        const other = twin[h];
        if (other < 0 || side === INSIDE) continue;
        const g = faceOfTriangle[(other / 3) | 0];
        if (!smooth && (mode[g] === FACE_FLAT || h < other) && known?.[h] !== EDGE_ARC) this.borders.push(h);
        if (smooth || g === f) {
          const turn = Math.abs(turns[h]);
          const length = Math.sqrt(ex * ex + ey * ey + ez * ez);
          if (!smooth) {
            this.creaseLength[f] += length;
            this.creaseTurn[f] += length * turn;
            this.creaseTurn2[f] += length * turn * turn;
          } else if (turn > TINY_TURN_RAD) {
            this.edgeLength[f] += length;
            this.edgeTurn[f] += length * turn;
            this.edgeTurn2[f] += length * turn * turn;
          }
        }
      }
      gain += (triangleAreas[t] * (isRuled ? bulges.ruledRise2[row] : squares)) / 6;
      area += triangleAreas[t];
    }
    const { leastFacet, mostFacet } = this;
    leastFacet[f] = leastFacet[f] > 0 ? Math.min(leastFacet[f], area) : area;
    mostFacet[f] = Math.max(mostFacet[f], area);
    const most = 2 * MOST_WEDGES * gain;
    this.own[f] += gain + Math.max(-most, Math.min(most, wedges));
    const claim = (area * bulges.slope2[row]) / 3;
    this.weight[f] += claim;
    this.agreement[f] += claim * bulges.agreement[row];
  }
}
