import { nextSide, sideBefore } from '../mesh/half-edges.ts';
import { BorderChord } from './border-chord.ts';
import type { FacetBulges } from './facet-bulge.ts';
import type { SurfaceGraph } from './surface-graph.ts';

/** Triangles that are gone through round one corner. */
const MOST_AT_CORNER = 1000;

/** A chord beside one that is longer by more than this says nothing of it. */
const MOST_UNEVEN = 5;

/** Arcs of borders between tangent faces, from the turns of the border itself. */
export class TangentArcs {
  /** See NO_GRAPH. */
  static readonly KEPT = new TangentArcs(BorderChord.KEPT, []);

  /** What lies between the chord looked at last and its arc, seen from either side; model units squared. */
  one = NaN;
  two = NaN;

  private readonly chord: BorderChord;
  private readonly halfEdges: readonly number[];
  /** The chords at every vertex, as chains: entry 2i is the start of chord i, 2i + 1 its end. */
  private readonly first: Int32Array;
  private readonly next: Int32Array;

  /**
   * @param chord looks at the half-edge that is asked about
   * @param halfEdges along the borders, tangent or not: they may be neighbours along one
   */
  constructor(chord: BorderChord, halfEdges: readonly number[]) {
    this.chord = chord;
    this.halfEdges = halfEdges;
    const first = new Int32Array(chord.graph.indexed.vertices.length / 3).fill(-1);
    const next = new Int32Array(2 * halfEdges.length);
    this.first = first;
    this.next = next;
    for (let entry = 0; entry < next.length; entry++) {
      const vertex = this.vertexOf(entry);
      next[entry] = first[vertex];
      first[vertex] = entry;
    }
  }

  /** Works out the arc over chord `i` of the half-edges; false where the border does not run on. */
  lookAt(i: number): boolean {
    const { chord, halfEdges, first, next } = this;
    const { graph, faceOfTriangle, curved, bulges, one, two } = chord;
    const { vertices } = graph.indexed;
    const h = halfEdges[i];
    let bx = 0;
    let by = 0;
    let bz = 0;
    let ends = 0;
    for (let end = 0; end < 2; end++) {
      const vertex = this.vertexOf(2 * i + end);
      const start = 3 * vertex;
      const far = 3 * this.vertexOf(2 * i + 1 - end);
      for (let entry = first[vertex]; entry >= 0; entry = next[entry]) {
        const k = halfEdges[entry >> 1];
        if (k === h) continue;
        if (!isSameBorder(graph, bulges, faceOfTriangle, curved, h, vertex, k)) continue;
        const tip = 3 * this.vertexOf(entry ^ 1);
        const tx = vertices[tip] - vertices[start];
        const ty = vertices[tip + 1] - vertices[start + 1];
        const tz = vertices[tip + 2] - vertices[start + 2];
        const tipLength = Math.sqrt(tx * tx + ty * ty + tz * tz);
        // Too short to tell how a long chord bends: where a straight edge runs out into a corner's fillet it does not.
        if (chord.length > MOST_UNEVEN * tipLength) continue;
        const cx = vertices[tip] - vertices[far];
        const cy = vertices[tip + 1] - vertices[far + 1];
        const cz = vertices[tip + 2] - vertices[far + 2];
        // Of the circle through the three corners: twice the sine of the turn over the chord from the first to the last. The
        // sine is what the next chord leads away from this one.
        const bend = 2 / (tipLength * Math.sqrt(cx * cx + cy * cy + cz * cz));
        bx += bend * tx;
        by += bend * ty;
        bz += bend * tz;
        ends++;
        break;
      }
    }
    if (ends === 0) return false;
    this.one = segment(chord.length, (bx * one.tx + by * one.ty + bz * one.tz) / ends);
    this.two = segment(chord.length, (bx * two.tx + by * two.ty + bz * two.tz) / ends);
    return true;
  }

  private vertexOf(entry: number): number {
    const { triangles } = this.chord.graph.indexed;
    const h = this.halfEdges[entry >> 1];
    return triangles[(entry & 1) === 0 ? h : nextSide(h)];
  }
}

/** Area between a chord and its arc of this curvature, with the curvature's sign. */
function segment(chord: number, curvature: number): number {
  const sine = Math.max(-1, Math.min(1, (chord * curvature) / 2));
  // Below this the closed form is a small difference of large numbers: the first terms of its series.
  if (Math.abs(sine) < 0.05) return chord * chord * sine * (1 / 6 + (sine * sine) / 20);
  return (chord * chord * (Math.asin(sine) - sine * Math.sqrt(1 - sine * sine))) / (4 * sine * sine);
}

/** Whether the border runs on from one half-edge over a corner to another: between the same faces, or those that they run on into. */
function isSameBorder(
  graph: SurfaceGraph,
  bulges: FacetBulges,
  faceOfTriangle: Uint32Array,
  curved: Uint8Array,
  h: number,
  vertex: number,
  k: number,
): boolean {
  const { twin } = graph;
  const f = faceOfTriangle[(k / 3) | 0];
  const g = faceOfTriangle[(twin[k] / 3) | 0];
  for (let side = h, sides = 0; sides < 2; side = twin[h], sides++) {
    const face = faceOfTriangle[(side / 3) | 0];
    const runsOn = curved[face] === 0 ? face === f || face === g : runsRound(graph, bulges, side, vertex, k);
    if (!runsOn) return false;
  }
  return true;
}

/** Whether the surface beside half-edge `h` runs on smoothly round a corner of it to half-edge `k` of the same border. */
function runsRound(
  { twin, indexed: { triangles } }: SurfaceGraph,
  bulges: FacetBulges,
  h: number,
  vertex: number,
  k: number,
): boolean {
  const { root, smooth } = bulges.chains.facets;
  let at = h;
  for (let steps = 0; steps < MOST_AT_CORNER; steps++) {
    at = triangles[at] === vertex ? sideBefore(at) : nextSide(at);
    if (at === k || at === twin[k]) return true;
    const other = twin[at];
    if (other < 0) return false;
    // END of facet-chains.ts; most are smooth, and need no more looking up.
    if (smooth[at] === 0 && root[(other / 3) | 0] !== root[(at / 3) | 0]) return false;
    at = other;
  }
  return false;
}
