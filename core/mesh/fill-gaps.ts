import { nextSide } from './half-edges.ts';
import type { ModelLoaders } from '../model-files/loader-parsers.ts';
import { edgeAdjacency, OPEN_EDGE } from './edge-adjacency.ts';
import { gapSource, type SourcedMesh } from './source-triangles.ts';
import { weld } from './weld.ts';

/** Cuts a simple polygon into triangles of point numbers. */
export type CutPolygon = ModelLoaders['cutPolygon'];

export interface FilledMesh extends SourcedMesh {
  /** Gaps closed, and gaps left because they are larger, too crooked, or run through one point twice. */
  readonly filled: number;
  readonly left: number;
}

/** A gap whose edge leaves its own mean plane by more than this share of its size is no flat hole. */
const CROOKED = 0.1;
/** Edges round one gap. */
const MOST_EDGES = 2000;

/**
 * Closes gaps no larger than `size` (longest side of the gap's box, model units) with flat pieces, which come last
 * and have a source of their own. Larger ones stay: what belongs there nobody can know.
 *
 * @param fileTriangles how many triangles the file has
 */
export function fillGaps(
  mesh: SourcedMesh,
  size: number,
  cutPolygon: CutPolygon,
  fileTriangles: number,
): FilledMesh {
  if (!(size > 0 && Number.isFinite(size))) throw new RangeError(`size: must be above 0, got ${size}`);
  const { vertices, triangles } = weld(mesh.positions);
  const { loops, tangled } = openLoops(triangles, vertices.length / 3);
  const added: number[] = [];
  const sources: number[] = [];
  let filled = 0;
  for (const { loop, sides } of loops) {
    const patch = patchFor(loop, vertices, size, cutPolygon);
    if (patch) {
      filled++;
      for (const v of patch) added.push(vertices[3 * v], vertices[3 * v + 1], vertices[3 * v + 2]);
      const source = sides.reduce((least, h) => {
        const here = gapSource(fileTriangles, mesh.sourceTriangle[(h / 3) | 0], h % 3);
        return Math.min(least, here);
      }, Infinity);
      for (let i = 0; i < patch.length; i += 3) sources.push(source);
    }
  }
  const left = loops.length - filled + tangled;
  if (filled === 0) return { ...mesh, filled, left };
  const positions = new Float32Array(mesh.positions.length + added.length);
  positions.set(mesh.positions);
  positions.set(added, mesh.positions.length);
  const sourceTriangle = new Uint32Array(positions.length / 9);
  sourceTriangle.set(mesh.sourceTriangle);
  sourceTriangle.set(sources, mesh.sourceTriangle.length);
  return { positions, sourceTriangle, filled, left };
}

/** Longest sides of the gaps' boxes, smallest first. */
export function gapSizes(positions: Float32Array): number[] {
  const { vertices, triangles } = weld(positions);
  return openLoops(triangles, vertices.length / 3)
    .loops.map(({ loop }) => sizeOf(loop, vertices))
    .sort((a, b) => a - b);
}

interface Gap {
  /** Vertices round it, in the direction that a patch runs: against the triangles beside it. */
  readonly loop: readonly number[];
  /** The half-edges round it. */
  readonly sides: readonly number[];
}

function openLoops(
  triangles: Uint32Array,
  vertexCount: number,
): { readonly loops: readonly Gap[]; readonly tangled: number } {
  const { twin } = edgeAdjacency(triangles, vertexCount);
  const before = new Map<number, number>();
  const crossed = new Set<number>();
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] !== OPEN_EDGE) continue;
    const to = triangles[nextSide(h)];
    if (before.has(to)) crossed.add(to);
    before.set(to, h);
  }
  const loops: Gap[] = [];
  let tangled = 0;
  const seen = new Set<number>();
  for (const start of before.keys()) {
    if (seen.has(start)) continue;
    const loop: number[] = [];
    const sides: number[] = [];
    let at: number | undefined = start;
    let simple = true;
    while (at !== undefined && !seen.has(at)) {
      seen.add(at);
      if (crossed.has(at)) simple = false;
      loop.push(at);
      const side: number | undefined = before.get(at);
      if (side !== undefined) sides.push(side);
      at = side === undefined ? undefined : triangles[side];
    }
    if (simple && at === start && loop.length >= 3) loops.push({ loop, sides });
    else tangled++;
  }
  return { loops, tangled };
}

function sizeOf(loop: readonly number[], vertices: Float32Array): number {
  let longest = 0;
  for (let k = 0; k < 3; k++) {
    let low = Infinity;
    let high = -Infinity;
    for (const v of loop) {
      low = Math.min(low, vertices[3 * v + k]);
      high = Math.max(high, vertices[3 * v + k]);
    }
    longest = Math.max(longest, high - low);
  }
  return longest;
}

function patchFor(
  loop: readonly number[],
  vertices: Float32Array,
  most: number,
  cutPolygon: CutPolygon,
): number[] | undefined {
  const size = sizeOf(loop, vertices);
  if (size > most * (1 + 1e-6) || loop.length > MOST_EDGES) return undefined;
  if (loop.length === 3) return [...loop];
  const at = (i: number): number[] => {
    const v = 3 * loop[i % loop.length];
    return [vertices[v], vertices[v + 1], vertices[v + 2]];
  };
  // Newell's normal: the mean plane of a polygon, right for crooked ones too.
  const normal = [0, 0, 0];
  const middle = [0, 0, 0];
  for (let i = 0; i < loop.length; i++) {
    const [p, q] = [at(i), at(i + 1)];
    for (let k = 0; k < 3; k++) {
      const [a, b] = [(k + 1) % 3, (k + 2) % 3];
      normal[k] += (p[a] - q[a]) * (p[b] + q[b]);
      middle[k] += p[k] / loop.length;
    }
  }
  const length = Math.hypot(normal[0], normal[1], normal[2]);
  if (!(length > 0)) return undefined;
  const n = normal.map((value) => value / length);
  const least = n.map(Math.abs).indexOf(Math.min(...n.map(Math.abs)));
  const axis = [0, 1, 2].map((k) => (k === least ? 1 : 0) - n[least] * n[k]);
  const axisLength = Math.hypot(axis[0], axis[1], axis[2]);
  const u = axis.map((value) => value / axisLength);
  const v = [n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0]];
  const flat: { x: number; y: number }[] = [];
  for (let i = 0; i < loop.length; i++) {
    const d = at(i).map((value, k) => value - middle[k]);
    if (Math.abs(d[0] * n[0] + d[1] * n[1] + d[2] * n[2]) > CROOKED * size) return undefined;
    flat.push({
      x: d[0] * u[0] + d[1] * u[1] + d[2] * u[2],
      y: d[0] * v[0] + d[1] * v[1] + d[2] * v[2],
    });
  }
  const cut = cutPolygon(flat);
  if (cut.length !== loop.length - 2) return undefined;
  return cut.flatMap(([a, b, c]) => {
    const turn =
      (flat[b].x - flat[a].x) * (flat[c].y - flat[a].y) - (flat[b].y - flat[a].y) * (flat[c].x - flat[a].x);
    return turn < 0 ? [loop[a], loop[c], loop[b]] : [loop[a], loop[b], loop[c]];
  });
}
