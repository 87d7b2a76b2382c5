import { nextSide } from '../mesh/half-edges.ts';
import { FacetBulges } from './facet-bulge.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';
import type { KnownFace } from './surfaces/known-faces.ts';

/** One side of a chord: its facet's normal, the direction outward over the chord, and the surface above it. */
class BorderSide {
  /** See NO_GRAPH. */
  static readonly KEPT = new BorderSide(NO_GRAPH, FacetBulges.KEPT, new Float64Array(6));

  nx = NaN;
  ny = NaN;
  nz = NaN;
  tx = NaN;
  ty = NaN;
  tz = NaN;
  /** Of the surface over the facet. */
  height = NaN;
  /** How far its normal leans outward. */
  lean = NaN;

  private readonly graph: SurfaceGraph;
  private readonly bulges: FacetBulges;
  private readonly chord: Float64Array;
  private row = -1;
  private known: KnownFace | undefined;
  private readonly place = new Float64Array(3);
  private readonly normal = new Float64Array(3);
  /** The half-edge, and whether the next two are worked out of it: only a place that is looked up asks for them. */
  private h = -1;
  private isBent = false;
  private sagitta = NaN;
  private rimSlope = NaN;
  private tu = NaN;
  private tv = NaN;

  /** @param chord what the chord says of itself: a unit vector along it, the way the triangle at hand runs round; a place on it */
  constructor(graph: SurfaceGraph, bulges: FacetBulges, chord: Float64Array) {
    this.graph = graph;
    this.bulges = bulges;
    this.chord = chord;
  }

  /** @param known the surface of the face, if it is */
  set(h: number, curved: boolean, known: KnownFace | undefined): void {
    const { bulges, chord } = this;
    const ex = chord[0];
    const ey = chord[1];
    const ez = chord[2];
    const t = (h / 3) | 0;
    this.known = curved ? known : undefined;
    this.row = curved ? bulges.rowOf(t) : -1;
    if (this.known) {
      // Upright on the surface in the middle of the chord, as its gain is measured.
      const { vertices, triangles } = this.graph.indexed;
      const [a, b] = [3 * triangles[h], 3 * triangles[nextSide(h)]];
      for (let k = 0; k < 3; k++) this.place[k] = (vertices[a + k] + vertices[b + k]) / 2;
      this.known.surface.normalInto(this.normal, this.place);
      const { sign } = this.known;
      // Across the chord, which it nearly is.
      const along = this.normal[0] * ex + this.normal[1] * ey + this.normal[2] * ez;
      const [x, y, z] = [
        this.normal[0] - along * ex,
        this.normal[1] - along * ey,
        this.normal[2] - along * ez,
      ];
      const size = sign / (Math.sqrt(x * x + y * y + z * z) || 1);
      this.nx = x * size;
      this.ny = y * size;
      this.nz = z * size;
    } else if (this.row >= 0) {
      this.nx = bulges.frame(this.row, 9);
      this.ny = bulges.frame(this.row, 10);
      this.nz = bulges.frame(this.row, 11);
    } else {
      this.nx = this.graph.normals[3 * t];
      this.ny = this.graph.normals[3 * t + 1];
      this.nz = this.graph.normals[3 * t + 2];
    }
    this.tx = ey * this.nz - ez * this.ny;
    this.ty = ez * this.nx - ex * this.nz;
    this.tz = ex * this.ny - ey * this.nx;
    if (this.known) return;
    if (this.row < 0) {
      this.height = this.lean = 0;
      return;
    }
    this.tu =
      this.tx * bulges.frame(this.row, 3) +
      this.ty * bulges.frame(this.row, 4) +
      this.tz * bulges.frame(this.row, 5);
    this.tv =
      this.tx * bulges.frame(this.row, 6) +
      this.ty * bulges.frame(this.row, 7) +
      this.tz * bulges.frame(this.row, 8);
    this.h = h;
    this.isBent = false;
  }

  /** Looks up the lean at a place on the chord. */
  leanTo(middle: boolean): void {
    if (this.known) {
      const { surface, sign } = this.known;
      this.place[0] = this.chord[3];
      this.place[1] = this.chord[4];
      this.place[2] = this.chord[5];
      surface.normalInto(this.normal, this.place);
      const [nx, ny, nz] = this.normal;
      this.lean = (nx * this.tx + ny * this.ty + nz * this.tz) / (nx * this.nx + ny * this.ny + nz * this.nz);
      this.height = middle ? -sign * surface.off(this.place) : 0;
      return;
    }
    if (this.row < 0) return;
    const { at } = this.bulges;
    this.bulges.bulgeAt(this.row, this.chord[3], this.chord[4], this.chord[5]);
    this.height = at[0];
    if (middle && !this.isBent) this.bend();
    this.lean =
      middle && !Number.isNaN(this.rimSlope) ? -this.rimSlope : -(at[1] * this.tu + at[2] * this.tv);
  }

  /** … and the height there. */
  raise(middle: boolean): void {
    if (this.known || this.row < 0) return;
    if (!this.isBent) this.bend();
    if (!Number.isNaN(this.sagitta)) this.height = middle ? this.sagitta : 0;
  }

  private bend(): void {
    const { bulges } = this;
    this.isBent = true;
    this.sagitta = bulges.sagitta(this.h);
    this.rimSlope = bulges.rimSlope(this.row, Math.sqrt(bulges.chains.edgeLength2(this.h)));
  }
}

/** A straight edge that a border between two faces is drawn with, and the surfaces on both sides of it. */
export class BorderChord {
  /** See NO_GRAPH. */
  static readonly KEPT = new BorderChord(NO_GRAPH, new Uint32Array(), new Uint8Array(), FacetBulges.KEPT);

  readonly graph: SurfaceGraph;
  readonly faceOfTriangle: Uint32Array;
  readonly curved: Uint8Array;
  readonly bulges: FacetBulges;
  readonly one: BorderSide;
  readonly two: BorderSide;
  private readonly surfaces: ReadonlyMap<number, KnownFace> | undefined;
  length = NaN;

  /** Handed on in memory of its own: as arguments each number would cost a place of its own. */
  private readonly along = new Float64Array(6);
  private start = 0;
  private ex = NaN;
  private ey = NaN;
  private ez = NaN;

  /** @param curved per face 0 where it is left flat */
  constructor(
    graph: SurfaceGraph,
    faceOfTriangle: Uint32Array,
    curved: Uint8Array,
    bulges: FacetBulges,
    surfaces?: ReadonlyMap<number, KnownFace>,
  ) {
    this.surfaces = surfaces;
    this.graph = graph;
    this.faceOfTriangle = faceOfTriangle;
    this.curved = curved;
    this.bulges = bulges;
    this.one = new BorderSide(graph, bulges, this.along);
    this.two = new BorderSide(graph, bulges, this.along);
  }

  /** Looks at a half-edge with a triangle on both sides; false where it has no length. */
  set(h: number): boolean {
    const { curved, faceOfTriangle } = this;
    const { twin } = this.graph;
    const { vertices, triangles } = this.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const ex = vertices[b] - vertices[a];
    const ey = vertices[b + 1] - vertices[a + 1];
    const ez = vertices[b + 2] - vertices[a + 2];
    const length = Math.sqrt(ex * ex + ey * ey + ez * ez);
    if (!(length > 0)) return false;
    this.start = a;
    this.ex = ex;
    this.ey = ey;
    this.ez = ez;
    this.length = length;
    const other = twin[h];
    const way = triangles[h] === triangles[other] ? 1 / length : -1 / length;
    const f = faceOfTriangle[(h / 3) | 0];
    const g = faceOfTriangle[(other / 3) | 0];
    const { one, two, surfaces, along } = this;
    along[0] = ex / length;
    along[1] = ey / length;
    along[2] = ez / length;
    one.set(h, curved[f] !== 0, surfaces?.get(f));
    along[0] = way * ex;
    along[1] = way * ey;
    along[2] = way * ez;
    two.set(other, curved[g] !== 0, surfaces?.get(g));
    return true;
  }

  /** Looks up how both surfaces lean at the chord's start (0), middle (1) or end (2). */
  leanAt(step: number): void {
    const { vertices } = this.graph.indexed;
    const { along } = this;
    along[3] = vertices[this.start] + (step * this.ex) / 2;
    along[4] = vertices[this.start + 1] + (step * this.ey) / 2;
    along[5] = vertices[this.start + 2] + (step * this.ez) / 2;
    this.one.leanTo(step === 1);
    this.two.leanTo(step === 1);
  }

  /** … and how high they stand there: more to work out, and where they are tangent nobody asks. */
  raiseAt(step: number): void {
    this.one.raise(step === 1);
    this.two.raise(step === 1);
  }
}
