import { boundsOf } from '../mesh/bounds.ts';
import { flattenSetsInto, joinSets, singleSets } from '../mesh/disjoint-sets.ts';
import type { IndexedMesh } from '../mesh/mesh.ts';
import type { Plugs } from './plugs.ts';

/** A part with its plugs in, as the bath sees it. */
export interface PluggedMesh {
  readonly mesh: IndexedMesh;
  /** Per triangle of `mesh`: the part's own; of a plug's end below 0, see `wallOfEnd`. */
  readonly triangleOf: Int32Array;
  /**
   * The part's triangles that plugs shut off from the bath, ascending: a bore's bottom, a hollow whose every way in is plugged, the
   * walls of plugged bores that open to such a hollow alone.
   */
  readonly closedOff: Uint32Array;
  /** Of the hollows they shut, model units cubed. */
  readonly shutVolume: number;
}

export const isPlugEnd = (triangle: number): boolean => triangle < 0;

/** The triangle of the part, on the wall of the plug's bore, that a plug's end begins at. */
export const wallOfEnd = (end: number): number => -1 - end;

/** A closed surface that holds less than this share of the part's size times its own area is flat: a bottom under its plug. */
const FLAT = 1e-6;

/**
 * Takes the walls of plugged bores out of a closed mesh and puts a flat end, fanned from its middle, over each rim that is left. What
 * hangs together and is thereby shut in (it holds a hollow, or nothing) is taken out as well; without it the mesh is closed again.
 */
export function plugMesh(mesh: IndexedMesh, plugs: Plugs): PluggedMesh {
  const kept: number[] = [];
  const triangleOf: number[] = [];
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    if (plugs.onTriangle[i / 3] === 1) continue;
    kept.push(mesh.triangles[i]!, mesh.triangles[i + 1]!, mesh.triangles[i + 2]!);
    triangleOf.push(i / 3);
  }
  const middles: number[] = [];
  const vertexCount = mesh.vertices.length / 3;
  for (const { rim, wall } of rimsOf(mesh, plugs)) {
    const middle = vertexCount + middles.length / 3;
    middles.push(...middleOf(mesh.vertices, rim));
    rim.forEach((vertex, i) => {
      kept.push(vertex, rim[(i + 1) % rim.length]!, middle);
      triangleOf.push(wallOfEnd(wall));
    });
  }
  const vertices = new Float32Array(mesh.vertices.length + middles.length);
  vertices.set(mesh.vertices);
  vertices.set(middles, mesh.vertices.length);
  const outside = withoutShutIn({ vertices, triangles: Uint32Array.from(kept) }, Int32Array.from(triangleOf));
  const inner = innerWalls(mesh, plugs, outside.triangleOf);
  return { ...outside, closedOff: Uint32Array.from([...outside.closedOff, ...inner]).sort() };
}

/** The walls of plugs none of whose ends the bath reaches. */
function innerWalls({ vertices, triangles }: IndexedMesh, plugs: Plugs, seen: Int32Array): number[] {
  const walls: number[] = [];
  for (let t = 0; t < triangles.length / 3; t++) if (plugs.onTriangle[t] === 1) walls.push(t);
  const corners = Uint32Array.from(walls.flatMap((t) => [...triangles.subarray(3 * t, 3 * t + 3)]));
  const piece = pieceOfVertices(corners, vertices.length / 3);
  const pieceOf = (wall: number): number => piece[triangles[3 * wall]!]!;
  const outer = new Set<number>();
  for (const triangle of seen) if (isPlugEnd(triangle)) outer.add(pieceOf(wallOfEnd(triangle)));
  return walls.filter((wall) => !outer.has(pieceOf(wall)));
}

/**
 * Around each plugged wall the closed lines of edges it shares with the rest, run along as the wall does, so that an end put in its
 * place closes the surface; each with a triangle of the wall at it.
 */
function rimsOf({ vertices, triangles }: IndexedMesh, plugs: Plugs): { rim: number[]; wall: number }[] {
  const count = vertices.length / 3;
  const edges = new Map<number, number>();
  const wallAt = new Map<number, number>();
  for (let i = 0; i < triangles.length; i += 3) {
    if (plugs.onTriangle[i / 3] !== 1) continue;
    for (let k = 0; k < 3; k++) {
      const from = triangles[i + k]!;
      const to = triangles[i + ((k + 1) % 3)]!;
      wallAt.set(from, i / 3);
      const back = to * count + from;
      const waiting = edges.get(back);
      if (waiting === undefined) edges.set(from * count + to, (edges.get(from * count + to) ?? 0) + 1);
      else if (waiting === 1) edges.delete(back);
      else edges.set(back, waiting - 1);
    }
  }
  const next = new Map<number, number[]>();
  for (const [edge, times] of edges) {
    const from = Math.floor(edge / count);
    for (let i = 0; i < times; i++) next.set(from, [...(next.get(from) ?? []), edge % count]);
  }
  const rims: { rim: number[]; wall: number }[] = [];
  for (const start of next.keys()) {
    for (let ends = next.get(start)!; ends.length > 0;) {
      const rim = [start];
      for (let at = ends.pop()!; at !== start; at = next.get(at)!.pop()!) rim.push(at);
      rims.push({ rim, wall: wallAt.get(start)! });
    }
  }
  return rims;
}

/** Of the line itself, so that close corners on one side do not pull it there. */
function middleOf(vertices: Float32Array, rim: readonly number[]): number[] {
  const sum = [0, 0, 0];
  let length = 0;
  rim.forEach((vertex, i) => {
    const a = 3 * vertex;
    const b = 3 * rim[(i + 1) % rim.length]!;
    const edge = Math.hypot(
      vertices[b]! - vertices[a]!,
      vertices[b + 1]! - vertices[a + 1]!,
      vertices[b + 2]! - vertices[a + 2]!,
    );
    length += edge;
    for (let k = 0; k < 3; k++) sum[k]! += (edge * (vertices[a + k]! + vertices[b + k]!)) / 2;
  });
  const first = 3 * rim[0]!;
  return sum.map((value, k) => (length > 0 ? value / length : vertices[first + k]!));
}

/** Drops what plugs shut in, and the vertices nothing uses any more. */
function withoutShutIn(mesh: IndexedMesh, triangleOf: Int32Array): PluggedMesh {
  const { vertices, triangles } = mesh;
  const piece = pieceOfVertices(triangles, vertices.length / 3);
  const pieces = new Map<number, { volume: number; area: number; hasEnd: boolean }>();
  const { min: low, max: high } = boundsOf(vertices);
  const size = Math.hypot(...high.map((value, k) => value - low[k]!));
  for (let t = 0; t < triangleOf.length; t++) {
    const root = piece[triangles[3 * t]!]!;
    const sum = pieces.get(root) ?? { volume: 0, area: 0, hasEnd: false };
    const { volume, area } = spanOf(vertices, triangles, t, low);
    pieces.set(root, {
      volume: sum.volume + volume,
      area: sum.area + area,
      hasEnd: sum.hasEnd || isPlugEnd(triangleOf[t]!),
    });
  }
  const isShutIn = (t: number): boolean => {
    const { volume, area, hasEnd } = pieces.get(piece[triangles[3 * t]!]!)!;
    return hasEnd && volume <= FLAT * size * area;
  };
  const closedOff: number[] = [];
  let shutVolume = 0;
  for (const { volume, area, hasEnd } of pieces.values()) {
    if (hasEnd && volume <= FLAT * size * area) shutVolume -= Math.min(0, volume);
  }
  const left: number[] = [];
  for (let t = 0; t < triangleOf.length; t++) {
    if (!isShutIn(t)) left.push(t);
    else if (!isPlugEnd(triangleOf[t]!)) closedOff.push(triangleOf[t]!);
  }
  const placeOf = new Int32Array(vertices.length / 3).fill(-1);
  const used: number[] = [];
  const corners = new Uint32Array(3 * left.length);
  left.forEach((t, i) => {
    for (let k = 0; k < 3; k++) {
      const vertex = triangles[3 * t + k]!;
      if (placeOf[vertex] === -1) {
        placeOf[vertex] = used.length / 3;
        used.push(vertices[3 * vertex]!, vertices[3 * vertex + 1]!, vertices[3 * vertex + 2]!);
      }
      corners[3 * i + k] = placeOf[vertex]!;
    }
  });
  return {
    mesh: { vertices: Float32Array.from(used), triangles: corners },
    triangleOf: Int32Array.from(left, (t) => triangleOf[t]!),
    closedOff: Uint32Array.from(closedOff).sort(),
    shutVolume,
  };
}

/** Per vertex the lowest of those it hangs together with. */
function pieceOfVertices(triangles: Uint32Array, count: number): Int32Array {
  const sets = singleSets(count);
  for (let i = 0; i < triangles.length; i += 3) {
    joinSets(sets, triangles[i]!, triangles[i + 1]!);
    joinSets(sets, triangles[i]!, triangles[i + 2]!);
  }
  flattenSetsInto(sets);
  return sets;
}

/** What one triangle adds to the volume seen from `from`, and its area. */
function spanOf(
  vertices: Float32Array,
  triangles: Uint32Array,
  t: number,
  from: readonly number[],
): { volume: number; area: number } {
  const a = 3 * triangles[3 * t]!;
  const b = 3 * triangles[3 * t + 1]!;
  const c = 3 * triangles[3 * t + 2]!;
  const ux = vertices[b]! - vertices[a]!;
  const uy = vertices[b + 1]! - vertices[a + 1]!;
  const uz = vertices[b + 2]! - vertices[a + 2]!;
  const vx = vertices[c]! - vertices[a]!;
  const vy = vertices[c + 1]! - vertices[a + 1]!;
  const vz = vertices[c + 2]! - vertices[a + 2]!;
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const reach =
    (vertices[a]! - from[0]!) * nx + (vertices[a + 1]! - from[1]!) * ny + (vertices[a + 2]! - from[2]!) * nz;
  return { volume: reach / 6, area: Math.hypot(nx, ny, nz) / 2 };
}
