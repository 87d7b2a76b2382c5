import { FACE_KINDS, type FaceTable } from './face-table.ts';
import { edgeTurns } from './edge-turns.ts';
import type { FlatFacets } from './flat-facets.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';

const CONE = FACE_KINDS.indexOf('cone');
/** Radii of a triangle's corners that differ by less than this share of all their differences belong to one rim. */
const ONE_RIM = 0.2;

/** Turn over a rim against that over a slanted side from which on the surface bends along its axis as well, whatever the face is taken for. */
const BARREL = 0.1;
/** Radius of a cone's tip against that of the next rim: rounding. */
const TIP = 1e-3;

/**
 * What two triangles share the turn of their edge by. On most surfaces their heights over it, for which their areas stand. A cone is
 * straight one way and bends less the farther from its tip: over a triangle with one side round the axis the rise at each other
 * side goes with length / (height · radius) of that one, and at it with 1 / height. For triangles that stand up and down by turns heights
 * would give those at the wider rim too much, and what they cut off grows with its square.
 */
export class ConeSpans {
  /** See NO_GRAPH. */
  static readonly KEPT = new ConeSpans(NO_GRAPH);

  /** Per triangle: its part of a turn against that of the triangle beyond the edge; NaN where that is for the areas to say. */
  readonly parts: Float64Array;

  /** Triangles that have a part. */
  readonly onCones: number[] = [];
  /** … and of these those that reach from a rim to the tip of their cone. */
  readonly tips = new Set<number>();

  private readonly graph: SurfaceGraph;
  private readonly facets: FlatFacets | undefined;
  private readonly faces: FaceTable | undefined;
  private readonly radii = new Float64Array(3);

  /** @param mode per face, see flat-facets.ts: 0 is left out */
  constructor(graph: SurfaceGraph, facets?: FlatFacets, faces?: FaceTable, mode?: Uint8Array) {
    this.graph = graph;
    this.facets = facets;
    this.faces = faces;
    this.parts = graph.triangleAreas;
    if (!facets || !faces || !faces.kind.some((kind, f) => kind === CONE && mode?.[f] !== 0)) return;
    this.parts = new Float64Array(graph.triangleAreas.length).fill(NaN);
    for (let t = 0; t < this.parts.length; t++) {
      if (this.isCone(t) && facets.size[facets.root[t]] === 1) this.parts[t] = this.partOf(t);
    }
  }

  isCone(t: number): boolean {
    return this.faces !== undefined && this.faces.kind[this.faces.faceOfTriangle[t]] === CONE;
  }

  /** Puts the rises that the parts give in place of those by heights at the sides of a triangle, where it has a part. */
  shareInto(rises: Float64Array, t: number): void {
    if (this.onCones.length === 0 || !(this.parts[t] > 0)) return;
    const turns = edgeTurns(this.graph);
    for (let k = 0; k < 3; k++) {
      const share = this.parts[t] / (this.parts[t] + this.parts[(this.graph.twin[3 * t + k] / 3) | 0]);
      if (share > 0 && rises[k] !== 0) rises[k] = turns[3 * t + k] * share;
    }
  }

  /** The side of a triangle on a cone that runs round it, −1 where none does. */
  rimOf(t: number): number {
    return [0, 1, 2].findIndex((k) => this.isRim(t, k));
  }

  /** Whether side `k` of a triangle on a cone runs round it. */
  isRim(t: number, k: number): boolean {
    const { radii } = this;
    if (!this.isCone(t)) return false;
    this.lookUp(t);
    const [one, two, three] = [radii[k], radii[(k + 1) % 3], radii[(k + 2) % 3]];
    return Math.abs(one - two) < ONE_RIM * Math.abs((one + two) / 2 - three);
  }

  private partOf(t: number): number {
    const { radii } = this;
    const k = this.rimOf(t);
    if (k < 0) return NaN;
    const turns = edgeTurns(this.graph);
    const beside = turns[3 * t + ((k + 1) % 3)];
    if (this.facets!.smooth[3 * t + k] !== 0 && turns[3 * t + k] * beside > BARREL * beside * beside)
      return NaN;
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[3 * t + k];
    const b = 3 * triangles[3 * t + ((k + 1) % 3)];
    let length2 = 0;
    for (let i = 0; i < 3; i++) length2 += (vertices[b + i] - vertices[a + i]) ** 2;
    if (radii[(k + 2) % 3] < TIP * radii[k]) this.tips.add(t);
    this.onCones.push(t);
    return (2 * length2) / (this.graph.triangleAreas[t] * (radii[k] + radii[(k + 1) % 3]));
  }

  private lookUp(t: number): void {
    const { axis, point, faceOfTriangle } = this.faces!;
    const { vertices, triangles } = this.graph.indexed;
    const f = 3 * faceOfTriangle[t];
    for (let k = 0; k < 3; k++) {
      const v = 3 * triangles[3 * t + k];
      const x = vertices[v] - point[f];
      const y = vertices[v + 1] - point[f + 1];
      const z = vertices[v + 2] - point[f + 2];
      const along = x * axis[f] + y * axis[f + 1] + z * axis[f + 2];
      this.radii[k] = Math.sqrt(Math.max(0, x * x + y * y + z * z - along * along));
    }
  }
}
