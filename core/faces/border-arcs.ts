import { nextSide, sideBefore } from '../mesh/half-edges.ts';
import { FacetBulges } from './facet-bulge.ts';
import { END } from './facet-chains.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';

/** Below this sine of the angle between two surfaces they are tangent: where they meet cannot be worked out from them. */
const TANGENT_SINE = Math.sin((20 * Math.PI) / 180);
/** Triangles that are gone through round one corner. */
const MOST_AT_CORNER = 1000;

/**
 * What two faces gain (or lose) because the border between them is drawn with chords: the area between the chord and
 * the line in which the two surfaces meet, seen from either side. At a place on the chord that line is off by D, across
 * the chord; the surface on either side lies h above its facet and has the normal N there, so N₁·D = h₁ and N₂·D = h₂.
 * A flat face has h = 0. Where the two are tangent this leaves open how far D goes along their common tangent plane:
 * there the border's own turns, from chord to chord, tell.
 *
 * @param halfEdges one of each pair along the border, both sides with a triangle
 * @param curved per face 0 where it is left flat
 * @param gain per face, added to; model units squared
 */
export function addBorderArcsInto(
  gain: Float64Array,
  graph: SurfaceGraph,
  halfEdges: readonly number[],
  faceOfTriangle: Uint32Array,
  curved: Uint8Array,
  bulges: FacetBulges,
): void {
  const { twin } = graph;
  const { vertices, triangles } = graph.indexed;
  const tangent: number[] = [];
  const one = new BorderSide(graph, bulges);
  const two = new BorderSide(graph, bulges);
  for (let i = 0; i < halfEdges.length; i++) {
    const h = halfEdges[i];
    const other = twin[h];
    const f = faceOfTriangle[(h / 3) | 0];
    const g = faceOfTriangle[(other / 3) | 0];
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const ex = vertices[b] - vertices[a];
    const ey = vertices[b + 1] - vertices[a + 1];
    const ez = vertices[b + 2] - vertices[a + 2];
    const length = Math.sqrt(ex * ex + ey * ey + ez * ez);
    if (!(length > 0)) continue;
    one.set(h, ex / length, ey / length, ez / length, curved[f] !== 0);
    const way = triangles[h] === triangles[other] ? 1 : -1;
    two.set(other, (way * ex) / length, (way * ey) / length, (way * ez) / length, curved[g] !== 0);
    const nn = one.nx * two.nx + one.ny * two.ny + one.nz * two.nz;
    const tn = one.tx * two.nx + one.ty * two.ny + one.tz * two.nz;
    const nt = one.nx * two.tx + one.ny * two.ty + one.nz * two.tz;
    const tt = one.tx * two.tx + one.ty * two.ty + one.tz * two.tz;
    let gain1 = 0;
    let gain2 = 0;
    let isTangent = false;
    // Simpson's rule over the chord.
    for (let step = 0; step < 3; step++) {
      const x = vertices[a] + (step * ex) / 2;
      const y = vertices[a + 1] + (step * ey) / 2;
      const z = vertices[a + 2] + (step * ez) / 2;
      one.lift(x, y, z, step === 1);
      two.lift(x, y, z, step === 1);
      // The second normal in the plane across the edge, along the first facet's normal and outward direction.
      const p = nn + two.lean * nt;
      const q = tn + two.lean * tt;
      const determinant = q - one.lean * p;
      const sine = determinant / Math.sqrt((1 + one.lean * one.lean) * (p * p + q * q));
      if (Math.abs(sine) < TANGENT_SINE) {
        isTangent = true;
        break;
      }
      const d1 = (one.height * q - one.lean * two.height) / determinant;
      const d2 = (two.height - p * one.height) / determinant;
      const weight = step === 1 ? (4 * length) / 6 : length / 6;
      gain1 += weight * d2;
      gain2 += weight * (d1 * nt + d2 * tt);
    }
    if (isTangent) tangent.push(i);
    else {
      gain[f] += gain1;
      gain[g] += gain2;
    }
  }
  if (tangent.length > 0) {
    addTangentArcsInto(gain, graph, tangent, halfEdges, faceOfTriangle, curved, bulges, one, two);
  }
}

/** One side of a chord: its facet's normal, the direction outward over the chord, and the surface above it. */
class BorderSide {
  /** See NO_GRAPH. */
  static readonly KEPT = new BorderSide(NO_GRAPH, FacetBulges.KEPT);

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
  private row = -1;
  private sagitta = NaN;
  private rimSlope = NaN;
  private tu = NaN;
  private tv = NaN;

  constructor(graph: SurfaceGraph, bulges: FacetBulges) {
    this.graph = graph;
    this.bulges = bulges;
  }

  /** @param ex unit vector along the chord, the way the triangle runs round */
  set(h: number, ex: number, ey: number, ez: number, curved: boolean): void {
    const { bulges } = this;
    const t = (h / 3) | 0;
    this.row = curved ? bulges.rowOf(t) : -1;
    if (this.row >= 0) {
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
    this.sagitta = bulges.sagitta(h);
    this.rimSlope = bulges.rimSlope(this.row, Math.sqrt(bulges.chains.edgeLength2(h)));
  }

  /** Looks up height and lean at a place on the chord. */
  lift(x: number, y: number, z: number, middle: boolean): void {
    if (this.row < 0) return;
    const { at } = this.bulges;
    this.bulges.bulgeAt(this.row, x, y, z);
    this.height = Number.isNaN(this.sagitta) ? at[0] : middle ? this.sagitta : 0;
    this.lean =
      middle && !Number.isNaN(this.rimSlope) ? -this.rimSlope : -(at[1] * this.tu + at[2] * this.tv);
  }
}

/**
 * Arcs of borders between tangent faces, from the turns of the border itself.
 *
 * @param tangent places in `halfEdges` where it is tangent; the others may be their neighbours along the border
 */
function addTangentArcsInto(
  gain: Float64Array,
  graph: SurfaceGraph,
  tangent: readonly number[],
  halfEdges: readonly number[],
  faceOfTriangle: Uint32Array,
  curved: Uint8Array,
  bulges: FacetBulges,
  one: BorderSide,
  two: BorderSide,
): void {
  const { twin } = graph;
  const { vertices, triangles } = graph.indexed;
  // The chords at every vertex, as chains: entry 2i is the start of chord i, 2i + 1 its end.
  const first = new Int32Array(vertices.length / 3).fill(-1);
  const next = new Int32Array(2 * halfEdges.length);
  const vertexOf = (entry: number): number => {
    const h = halfEdges[entry >> 1];
    return triangles[(entry & 1) === 0 ? h : nextSide(h)];
  };
  for (let entry = 0; entry < next.length; entry++) {
    const vertex = vertexOf(entry);
    next[entry] = first[vertex];
    first[vertex] = entry;
  }
  for (const i of tangent) {
    const h = halfEdges[i];
    const f = faceOfTriangle[(h / 3) | 0];
    const g = faceOfTriangle[(twin[h] / 3) | 0];
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    const ex = vertices[b] - vertices[a];
    const ey = vertices[b + 1] - vertices[a + 1];
    const ez = vertices[b + 2] - vertices[a + 2];
    const length = Math.sqrt(ex * ex + ey * ey + ez * ez);
    one.set(h, ex / length, ey / length, ez / length, curved[f] !== 0);
    const way = triangles[h] === triangles[twin[h]] ? 1 : -1;
    two.set(twin[h], (way * ex) / length, (way * ey) / length, (way * ez) / length, curved[g] !== 0);
    let bx = 0;
    let by = 0;
    let bz = 0;
    let ends = 0;
    for (let end = 0; end < 2; end++) {
      const vertex = vertexOf(2 * i + end);
      const start = 3 * vertex;
      const far = 3 * vertexOf(2 * i + 1 - end);
      for (let entry = first[vertex]; entry >= 0; entry = next[entry]) {
        const k = halfEdges[entry >> 1];
        if (k === h) continue;
        if (!isSameBorder(graph, bulges, faceOfTriangle, curved, h, vertex, k)) continue;
        const tip = 3 * vertexOf(entry ^ 1);
        const tx = vertices[tip] - vertices[start];
        const ty = vertices[tip + 1] - vertices[start + 1];
        const tz = vertices[tip + 2] - vertices[start + 2];
        const tipLength = Math.sqrt(tx * tx + ty * ty + tz * tz);
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
    if (ends === 0) continue;
    const bend1 = (bx * one.tx + by * one.ty + bz * one.tz) / ends;
    const bend2 = (bx * two.tx + by * two.ty + bz * two.tz) / ends;
    gain[f] -= segment(length, bend1);
    gain[g] -= segment(length, bend2);
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
  const beside = [faceOfTriangle[(k / 3) | 0], faceOfTriangle[(twin[k] / 3) | 0]];
  return [h, twin[h]].every((side) => {
    const face = faceOfTriangle[(side / 3) | 0];
    if (curved[face] === 0) return beside.includes(face);
    return runsRound(graph, bulges, side, vertex, k);
  });
}

/** Whether the surface beside half-edge `h` runs on smoothly round a corner of it to half-edge `k` of the same border. */
function runsRound(
  { twin, indexed: { triangles } }: SurfaceGraph,
  bulges: FacetBulges,
  h: number,
  vertex: number,
  k: number,
): boolean {
  let at = h;
  for (let steps = 0; steps < MOST_AT_CORNER; steps++) {
    at = triangles[at] === vertex ? sideBefore(at) : nextSide(at);
    if (at === k || at === twin[k]) return true;
    const other = twin[at];
    if (other < 0 || bulges.chains.sideOf(at) === END) return false;
    at = other;
  }
  return false;
}
