import { nextSide } from '../mesh/half-edges.ts';
import { edgeTurns } from './edge-turns.ts';
import { NO_GRAPH, type SurfaceGraph } from './surface-graph.ts';
import { triangleChains } from './triangle-chains.ts';

/**
 * Finds where a face ends although the surface runs on smoothly: a plane or a bore that meets its fillet or bend.
 *
 * Turn alone cannot tell: at a tangent border it is half the step of the fillet's facets, less than inside the
 * fillet. Width alone cannot either, because a cylinder may be cut into uneven strips. What differs is curvature.
 * Along a bend of constant curvature, facets of extents e1 and e2 (measured across the edge) turn by
 * curvature · (e1 + e2) / 2, however uneven they are. So at an edge between a wide patch p and a narrow one q:
 *
 *   curvature of q  = turn / mean extent over q's other edges, those parallel to this edge counting most
 *   expected turn   = curvature of q · (extent of p + extent of q) / 2
 *   p stands apart  = p is at least twice as wide, and it turns less than half of what is expected
 *
 * Both leave room for uneven facets and for curvature that changes steadily (an ellipse, a spline), which differs
 * little from one facet to the next. Where q has no other parallel edge to tell its curvature, p stands apart when it
 * is four times as wide. A patch that breaks along most of its smooth edges is a face of its own: then its few
 * remaining smooth edges break as well. Tried: half as wide again instead of twice, which broke twice as many scraps
 * off a scanned surface and found no further plane on a rounded block.
 *
 * Only patches that are flat throughout take part. On a very fine mesh single turns are so small that patches run on
 * over curved surface; there nothing needs to break.
 *
 * @param patch per triangle: the lowest triangle of its flat patch
 * @param smoothRad edges that turn by less than this are smooth
 * @returns per half-edge 1 where a smooth edge must not join (set on the lower half-edge of the pair), or undefined
 *   when there is none
 */
export function curvatureBreaks(
  graph: SurfaceGraph,
  patch: Int32Array,
  smoothRad: number,
): Uint8Array | undefined {
  const { twin, triangleAreas } = graph;
  const turns = edgeTurns(graph);
  const patchArea = new Float64Array(patch.length);
  for (let t = 0; t < patch.length; t++) patchArea[patch[t]] += triangleAreas[t];

  let shapes: PatchShapes | undefined;
  let broken: Uint8Array | undefined;
  /** Per patch the length of its edges that break, and the patches that have some, in order. */
  let brokenLength: Float64Array | undefined;
  const wides: number[] = [];
  for (let t = 0; t < patch.length; t++) {
    const p = patch[t];
    const own = patchArea[p];
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const other = twin[h];
      if (other < h) continue;
      const q = patch[(other / 3) | 0];
      if (p === q) continue;
      // Area first: it costs little, and a patch twice as wide along a whole edge has twice the area.
      const beyond = patchArea[q];
      if ((own < 2 * beyond && beyond < 2 * own) || !(Math.abs(turns[h]) < smoothRad)) continue;
      shapes ??= new PatchShapes(graph, patch, patchArea);
      const wide = own > beyond ? p : q;
      if (shapes.standsApart(h, wide, p + q - wide)) {
        broken ??= new Uint8Array(twin.length);
        broken[h] = 1;
        brokenLength ??= new Float64Array(patch.length);
        if (brokenLength[wide] === 0) wides.push(wide);
        brokenLength[wide] += shapes.edgeLength(h);
      }
    }
  }
  if (!broken || !shapes || !brokenLength) return undefined;
  for (const p of wides) {
    if (brokenLength[p] >= MOST * shapes.smoothLength(p, smoothRad))
      shapes.breakAllInto(broken, p, smoothRad);
  }
  return broken;
}

/** Share of a patch's smooth edges that must break for the rest to break as well. */
const MOST = 0.7;
/** Least ratio of extents at which the wide one may stand apart. */
const WIDER = 2;
/** … and at which it does when its neighbour's curvature is unknown. */
const MUCH_WIDER = 4;
/** It turns less than this share of what its neighbour's curvature would make it turn. */
const FLATTER = 0.5;
/** Edges parallel enough to tell a curvature have this much length along the edge in question, as a share of it. */
const TELLING = 0.1;
/** Squared cosine from which on an edge runs along another, whatever its turn. */
const BESIDE = 0.5;
/** Turns above this are no bend that facets draw. */
const SHARP_RAD = Math.PI / 3;
/** Patches of more triangles than this have their curvature worked out once a neighbour, not once an edge. */
const LARGE_PATCH = 32;

/** Extents and curvature of flat patches, worked out only for those that are asked about. */
class PatchShapes {
  /** See NO_GRAPH. */
  static readonly KEPT = new PatchShapes(NO_GRAPH, new Int32Array(), new Float64Array());

  private readonly graph: SurfaceGraph;
  private readonly turns: Float32Array;
  private readonly patch: Int32Array;
  private readonly patchArea: Float64Array;
  /** See triangle-chains.ts; sets are the patches. */
  private readonly next: Int32Array;
  /** 3 a patch; worked out where `known` says so, with whether it is flat. */
  private readonly centroids: Float32Array;
  private readonly known: Uint8Array;
  private readonly curvatures = new Map<number, number>();

  constructor(graph: SurfaceGraph, patch: Int32Array, patchArea: Float64Array) {
    const count = patch.length;
    this.graph = graph;
    this.turns = edgeTurns(graph);
    this.patch = patch;
    this.patchArea = patchArea;
    this.next = triangleChains(patch);
    this.centroids = new Float32Array(3 * count);
    this.known = new Uint8Array(count);
  }

  standsApart(h: number, wide: number, narrow: number): boolean {
    if (!this.isFlat(wide) || !this.isFlat(narrow)) return false;
    const wideExtent = this.extent(wide, h);
    const narrowExtent = this.extent(narrow, h);
    if (wideExtent < WIDER * narrowExtent) return false;
    const curvature = this.curvatureBeside(narrow, wide, h);
    if (Number.isNaN(curvature)) return wideExtent >= MUCH_WIDER * narrowExtent;
    // Signed: a bend that changes over from convex to concave ends there too.
    const expected = (curvature * (wideExtent + narrowExtent)) / 2;
    return this.turns[h] / expected < FLATTER;
  }

  /** Length of all edges of patch `p` that lead smoothly to another patch. */
  smoothLength(p: number, smoothRad: number): number {
    let sum = 0;
    for (let t = p; t >= 0; t = this.next[t]) {
      for (let h = 3 * t; h < 3 * t + 3; h++) if (this.leadsOn(p, h, smoothRad)) sum += this.edgeLength(h);
    }
    return sum;
  }

  /** Marks the lower half-edge of each of them. */
  breakAllInto(broken: Uint8Array, p: number, smoothRad: number): void {
    const { twin } = this.graph;
    for (let t = p; t >= 0; t = this.next[t]) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        if (this.leadsOn(p, h, smoothRad)) broken[Math.min(h, twin[h])] = 1;
      }
    }
  }

  private leadsOn(p: number, h: number, smoothRad: number): boolean {
    const other = this.graph.twin[h];
    return other >= 0 && this.patch[(other / 3) | 0] !== p && Math.abs(this.turns[h]) < smoothRad;
  }

  edgeLength(h: number): number {
    const { vertices, triangles } = this.graph.indexed;
    const a = triangles[h] * 3;
    const b = triangles[nextSide(h)] * 3;
    const ex = vertices[b] - vertices[a];
    const ey = vertices[b + 1] - vertices[a + 1];
    const ez = vertices[b + 2] - vertices[a + 2];
    return Math.sqrt(ex * ex + ey * ey + ez * ez);
  }

  /** Curvature of `q` across `h`, from its edges other than those to `p`; NaN when none is parallel enough to tell. */
  private curvatureBeside(q: number, p: number, h: number): number {
    const before = this.curvatures.size > 0 ? this.curvatures.get(q * this.patch.length + p) : undefined;
    if (before !== undefined) return before;
    const { patch: patchOf, next, turns, centroids, known } = this;
    const { twin } = this.graph;
    const { vertices, triangles } = this.graph.indexed;
    const from = triangles[h] * 3;
    const to = triangles[nextSide(h)] * 3;
    const dx = vertices[to] - vertices[from];
    const dy = vertices[to + 1] - vertices[from + 1];
    const dz = vertices[to + 2] - vertices[from + 2];
    const length2 = dx * dx + dy * dy + dz * dz;
    if (known[q] === UNKNOWN) this.measure(q);
    const cx = centroids[3 * q];
    const cy = centroids[3 * q + 1];
    const cz = centroids[3 * q + 2];
    let turned = 0;
    let extents = 0;
    let weights = 0;
    let size = 0;
    for (let t = q; t >= 0; t = next[t]) {
      size++;
      for (let g = 3 * t; g < 3 * t + 3; g++) {
        if (twin[g] < 0) continue;
        const r = patchOf[(twin[g] / 3) | 0];
        if (r === q || r === p) continue;
        const a = triangles[g] * 3;
        const b = triangles[nextSide(g)] * 3;
        const ex = vertices[b] - vertices[a];
        const ey = vertices[b + 1] - vertices[a + 1];
        const ez = vertices[b + 2] - vertices[a + 2];
        const along = dx * ex + dy * ey + dz * ez;
        const otherLength2 = ex * ex + ey * ey + ez * ez;
        if (along === 0 || otherLength2 === 0) continue;
        // A sharp rim tells of the facet's bend only where it runs along, not where a cone's facet is wide.
        const cosine2 = (along * along) / (length2 * otherLength2);
        if (cosine2 < BESIDE && Math.abs(turns[g]) > SHARP_RAD) continue;
        const weight = cosine2 * Math.sqrt(otherLength2);
        weights += weight;
        turned += weight * turns[g];
        // How far both patches reach from that edge, as `extent` has it.
        if (known[r] === UNKNOWN) this.measure(r);
        const ax = vertices[a];
        const ay = vertices[a + 1];
        const az = vertices[a + 2];
        const own = reach(cx - ax, cy - ay, cz - az, ex, ey, ez, otherLength2);
        const beyond = reach(
          centroids[3 * r] - ax,
          centroids[3 * r + 1] - ay,
          centroids[3 * r + 2] - az,
          ex,
          ey,
          ez,
          otherLength2,
        );
        extents += (weight * (own + beyond)) / 2;
      }
    }
    const curvature = weights > TELLING * Math.sqrt(length2) && extents > 0 ? turned / extents : NaN;
    if (size > LARGE_PATCH) this.curvatures.set(q * this.patch.length + p, curvature);
    return curvature;
  }

  /** How far patch `p` reaches from edge `h`: twice the distance of its centroid from the edge's line. */
  private extent(p: number, h: number): number {
    const { vertices, triangles } = this.graph.indexed;
    const a = triangles[h] * 3;
    const b = triangles[nextSide(h)] * 3;
    const ex = vertices[b] - vertices[a];
    const ey = vertices[b + 1] - vertices[a + 1];
    const ez = vertices[b + 2] - vertices[a + 2];
    const length2 = ex * ex + ey * ey + ez * ez;
    if (this.known[p] === UNKNOWN) this.measure(p);
    const vx = this.centroids[3 * p] - vertices[a];
    const vy = this.centroids[3 * p + 1] - vertices[a + 1];
    const vz = this.centroids[3 * p + 2] - vertices[a + 2];
    return reach(vx, vy, vz, ex, ey, ez, length2 || 1);
  }

  private isFlat(p: number): boolean {
    if (this.known[p] === UNKNOWN) this.measure(p);
    return this.known[p] === FLAT;
  }

  /** Centroid, and whether the normals agree throughout: they can drift far apart in steps that each count as flat. */
  private measure(p: number): void {
    const { indexed, triangleAreas, normals } = this.graph;
    const { vertices, triangles } = indexed;
    let x = 0;
    let y = 0;
    let z = 0;
    let nx = 0;
    let ny = 0;
    let nz = 0;
    for (let t = p; t >= 0; t = this.next[t]) {
      const weight = triangleAreas[t];
      nx += weight * normals[3 * t];
      ny += weight * normals[3 * t + 1];
      nz += weight * normals[3 * t + 2];
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const v = triangles[h] * 3;
        x += weight * vertices[v];
        y += weight * vertices[v + 1];
        z += weight * vertices[v + 2];
      }
    }
    const area = this.patchArea[p] || 1;
    this.centroids[3 * p] = x / (3 * area);
    this.centroids[3 * p + 1] = y / (3 * area);
    this.centroids[3 * p + 2] = z / (3 * area);
    const agreement = Math.sqrt(nx * nx + ny * ny + nz * nz) / area;
    this.known[p] = 1 - agreement < SPREAD ? FLAT : CURVED;
  }
}

/** Twice the distance of a point at `v` from the line along `e` through the origin. */
function reach(
  vx: number,
  vy: number,
  vz: number,
  ex: number,
  ey: number,
  ez: number,
  length2: number,
): number {
  const along = vx * ex + vy * ey + vz * ez;
  const away2 = vx * vx + vy * vy + vz * vz - (along * along) / length2;
  return away2 > 0 ? 2 * Math.sqrt(away2) : 0;
}

const UNKNOWN = 0;
const FLAT = 1;
const CURVED = 2;
/** Least disagreement of a patch's normals to call it curved: half the square of a spread of 2e-3 rad. */
const SPREAD = 2e-6;
