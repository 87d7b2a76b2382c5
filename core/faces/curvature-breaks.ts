import { turnAcross, type SurfaceGraph } from './surface-graph.ts';

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
 * Both leave room for uneven facets and for curvature that changes steadily (an ellipse, a spline), which
 * differs little from one facet to the next. Where q has no other parallel edge to tell its curvature, p stands apart
 * when it is four times as wide. A patch that breaks along most of its smooth edges is a face of its own: then its
 * few remaining smooth edges break as well. Tried: half as wide again instead of twice, which broke twice as many
 * scraps off a scanned surface and found no further plane on a rounded block.
 *
 * @param patch per triangle: the lowest triangle of its flat patch
 * @param smoothChord2 edges whose normals differ by less than this (squared chord) are smooth
 * @returns per half-edge 1 where a smooth edge must not join (set on the lower half-edge of the pair), or undefined
 *   when there is none
 */
export function curvatureBreaks(
  graph: SurfaceGraph,
  patch: Int32Array,
  smoothChord2: number,
): Uint8Array | undefined {
  const { twin, triangleAreas } = graph;
  const { triangles } = graph.indexed;
  const count = patch.length;
  const patchArea = new Float64Array(count);
  for (let t = 0; t < count; t++) patchArea[patch[t]] += triangleAreas[t];

  let shapes: PatchShapes | undefined;
  let broken: Uint8Array | undefined;
  const brokenLength = new Map<number, number>();
  for (let h = 0, t = 0, side = 0; h < twin.length; h++) {
    const other = twin[h];
    const p = patch[t];
    if (other > h) {
      const u = (other / 3) | 0;
      const q = patch[u];
      // Area first: it costs nothing, and a patch twice as wide along a whole edge has twice the area.
      if (p !== q && (patchArea[p] >= 2 * patchArea[q] || patchArea[q] >= 2 * patchArea[p])) {
        if (chord2(graph, t, u, triangles[h] === triangles[other]) < smoothChord2) {
          shapes ??= new PatchShapes(graph, patch, patchArea);
          const wide = patchArea[p] > patchArea[q] ? p : q;
          const narrow = wide === p ? q : p;
          if (shapes.standsApart(h, wide, narrow)) {
            broken ??= new Uint8Array(twin.length);
            broken[h] = 1;
            brokenLength.set(wide, (brokenLength.get(wide) ?? 0) + shapes.edgeLength(h));
          }
        }
      }
    }
    if (++side === 3) {
      side = 0;
      t++;
    }
  }
  if (!broken || !shapes) return undefined;

  for (const [p, length] of brokenLength) {
    const smooth: number[] = [];
    let smoothLength = 0;
    for (const h of shapes.outerEdges(p)) {
      const t = Math.floor(h / 3);
      const u = Math.floor(twin[h] / 3);
      if (chord2(graph, t, u, triangles[h] === triangles[twin[h]]) >= smoothChord2) continue;
      smooth.push(h);
      smoothLength += shapes.edgeLength(h);
    }
    if (length < MOST * smoothLength) continue;
    for (const h of smooth) broken[Math.min(h, twin[h])] = 1;
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
/** Patches of more triangles than this have their curvature worked out once a neighbour, not once an edge. */
const LARGE_PATCH = 32;

/** Squared chord between two triangles' normals: 2 − 2 cos of the turn, exact for small turns. */
export function chord2(graph: SurfaceGraph, t: number, u: number, turnedOver: boolean): number {
  const { normals } = graph;
  const i = 3 * t;
  const j = 3 * u;
  const sign = turnedOver ? -1 : 1;
  const dx = normals[i] - sign * normals[j];
  const dy = normals[i + 1] - sign * normals[j + 1];
  const dz = normals[i + 2] - sign * normals[j + 2];
  return dx * dx + dy * dy + dz * dz;
}

/** Extents and curvature of flat patches, worked out only for those that are asked about. */
class PatchShapes {
  private readonly head: Int32Array;
  private readonly next: Int32Array;
  private readonly centroids = new Map<number, readonly [number, number, number]>();
  private readonly curvatures = new Map<number, number>();

  constructor(
    private readonly graph: SurfaceGraph,
    private readonly patch: Int32Array,
    private readonly patchArea: Float64Array,
  ) {
    const count = patch.length;
    this.head = new Int32Array(count).fill(-1);
    this.next = new Int32Array(count);
    for (let t = count - 1; t >= 0; t--) {
      this.next[t] = this.head[patch[t]];
      this.head[patch[t]] = t;
    }
  }

  standsApart(h: number, wide: number, narrow: number): boolean {
    const wideExtent = this.extent(wide, h);
    const narrowExtent = this.extent(narrow, h);
    if (wideExtent < WIDER * narrowExtent) return false;
    const curvature = this.curvatureBeside(narrow, wide, h);
    if (Number.isNaN(curvature)) return wideExtent >= MUCH_WIDER * narrowExtent;
    const expected = (curvature * (wideExtent + narrowExtent)) / 2;
    const turn = turnAcross(this.graph, h);
    // Signed: a bend that changes over from convex to concave ends there too.
    return turn / expected < FLATTER;
  }

  /** Half-edges of patch `p` that have another patch across them. */
  *outerEdges(p: number): Generator<number> {
    const { twin } = this.graph;
    for (let t = this.head[p]; t >= 0; t = this.next[t]) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        if (twin[h] >= 0 && this.patch[Math.floor(twin[h] / 3)] !== p) yield h;
      }
    }
  }

  edgeLength(h: number): number {
    const [, , , ex, ey, ez] = this.edge(h);
    return Math.hypot(ex, ey, ez);
  }

  /** Curvature of `q` across `h`, from its edges other than those to `p`; NaN when none is parallel enough to tell. */
  private curvatureBeside(q: number, p: number, h: number): number {
    const key = q * this.patch.length + p;
    const known = this.curvatures.get(key);
    if (known !== undefined) return known;
    const { twin } = this.graph;
    const [, , , dx, dy, dz] = this.edge(h);
    const length = Math.hypot(dx, dy, dz);
    let turns = 0;
    let extents = 0;
    let weights = 0;
    for (const g of this.outerEdges(q)) {
      const r = this.patch[Math.floor(twin[g] / 3)];
      if (r === p) continue;
      const [, , , ex, ey, ez] = this.edge(g);
      const otherLength = Math.hypot(ex, ey, ez);
      const cosine = (dx * ex + dy * ey + dz * ez) / (length * otherLength || 1);
      const weight = otherLength * cosine * cosine;
      weights += weight;
      turns += weight * turnAcross(this.graph, g);
      extents += (weight * (this.extent(q, g) + this.extent(r, g))) / 2;
    }
    const curvature = weights > 0.1 * length && extents > 0 ? turns / extents : NaN;
    if (this.next[q] >= 0 && this.isLarge(q)) this.curvatures.set(key, curvature);
    return curvature;
  }

  private isLarge(p: number): boolean {
    let size = 0;
    for (let t = this.head[p]; t >= 0; t = this.next[t]) if (++size > LARGE_PATCH) return true;
    return false;
  }

  /** How far patch `p` reaches from edge `h`: twice the distance of its centroid from the edge's line. */
  private extent(p: number, h: number): number {
    const [cx, cy, cz] = this.centroid(p);
    const [mx, my, mz, ex, ey, ez] = this.edge(h);
    const vx = cx - mx;
    const vy = cy - my;
    const vz = cz - mz;
    const along2 = (vx * ex + vy * ey + vz * ez) ** 2 / (ex * ex + ey * ey + ez * ez || 1);
    return 2 * Math.sqrt(Math.max(0, vx * vx + vy * vy + vz * vz - along2));
  }

  private centroid(p: number): readonly [number, number, number] {
    const known = this.centroids.get(p);
    if (known) return known;
    const { vertices, triangles } = this.graph.indexed;
    let x = 0;
    let y = 0;
    let z = 0;
    for (let t = this.head[p]; t >= 0; t = this.next[t]) {
      const weight = this.graph.triangleAreas[t] / 3;
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const v = triangles[h] * 3;
        x += weight * vertices[v];
        y += weight * vertices[v + 1];
        z += weight * vertices[v + 2];
      }
    }
    const area = this.patchArea[p] || 1;
    const centroid = [x / area, y / area, z / area] as const;
    this.centroids.set(p, centroid);
    return centroid;
  }

  /** Middle of the edge and the vector along it. */
  private edge(h: number): readonly [number, number, number, number, number, number] {
    const { vertices, triangles } = this.graph.indexed;
    const a = triangles[h] * 3;
    const b = triangles[h % 3 === 2 ? h - 2 : h + 1] * 3;
    return [
      (vertices[a] + vertices[b]) / 2,
      (vertices[a + 1] + vertices[b + 1]) / 2,
      (vertices[a + 2] + vertices[b + 2]) / 2,
      vertices[b] - vertices[a],
      vertices[b + 1] - vertices[a + 1],
      vertices[b + 2] - vertices[a + 2],
    ];
  }
}
