import { nextSide } from './half-edges.ts';
import { boundsOf } from './bounds.ts';
import { edgeAdjacency, OPEN_EDGE } from './edge-adjacency.ts';
import { keepTriangles, type SourcedMesh } from './source-triangles.ts';
import { weld } from './weld.ts';

/**
 * Joins corners on open edges that lie within `distance` (model units) of each other, each to the first of them.
 * Corners inside the surface stay, so that nothing thin is pressed together. Triangles that become lines are left out.
 */
export function weldGaps(mesh: SourcedMesh, distance: number): SourcedMesh {
  if (!(distance > 0 && Number.isFinite(distance))) {
    throw new RangeError(`distance: must be above 0, got ${distance}`);
  }
  const { vertices, triangles } = weld(mesh.positions);
  const { twin } = edgeAdjacency(triangles, vertices.length / 3);
  const onEdge = new Uint8Array(vertices.length / 3);
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] !== OPEN_EDGE) continue;
    onEdge[triangles[h]] = 1;
    onEdge[triangles[nextSide(h)]] = 1;
  }
  const target = nearestFirst(vertices, onEdge, distance);
  if (!target) return mesh;
  const positions = mesh.positions.slice();
  for (let corner = 0; corner < triangles.length; corner++) {
    const to = target[triangles[corner]];
    if (to !== triangles[corner]) positions.set(vertices.subarray(3 * to, 3 * to + 3), 3 * corner);
  }
  return keepTriangles({ positions, sourceTriangle: mesh.sourceTriangle }, (t) => {
    const [a, b, c] = [0, 1, 2].map((k) => target[triangles[3 * t + k]]);
    return a !== b && b !== c && c !== a;
  });
}

/** Per vertex the one it moves to, itself for most; undefined where nothing moves. */
function nearestFirst(vertices: Float32Array, wanted: Uint8Array, distance: number): Uint32Array | undefined {
  const { min } = boundsOf(vertices);
  const cells = new Map<string, number[]>();
  const target = new Uint32Array(wanted.length);
  let moved = false;
  for (let v = 0; v < wanted.length; v++) {
    target[v] = v;
    if (wanted[v] === 0) continue;
    const cell = [0, 1, 2].map((k) => Math.floor((vertices[3 * v + k] - min[k]) / distance));
    let best = -1;
    let best2 = distance * distance;
    for (let x = cell[0] - 1; x <= cell[0] + 1; x++) {
      for (let y = cell[1] - 1; y <= cell[1] + 1; y++) {
        for (let z = cell[2] - 1; z <= cell[2] + 1; z++) {
          for (const other of cells.get(`${x} ${y} ${z}`) ?? []) {
            let d2 = 0;
            for (let k = 0; k < 3; k++) d2 += (vertices[3 * v + k] - vertices[3 * other + k]) ** 2;
            if (d2 > best2 || (d2 === best2 && best >= 0)) continue;
            best = other;
            best2 = d2;
          }
        }
      }
    }
    if (best >= 0) {
      target[v] = best;
      moved = true;
      continue;
    }
    const key = cell.join(' ');
    const list = cells.get(key);
    if (list) list.push(v);
    else cells.set(key, [v]);
  }
  return moved ? target : undefined;
}

/** Shares of the part's size that are tried as the width of a gap. */
const GAP_SHARES = [1e-6, 1e-5, 1e-4, 1e-3];
/** Corners this near, as a share of the part's size, are one, written down twice with other last digits. */
const ROUNDING_SHARE = 1e-5;

export interface WeldProposal {
  /** Model units. */
  readonly distance: number;
  /** That stay open. */
  readonly openEdges: number;
  /** Nothing stays open, and the corners differ in their last digits only. */
  readonly isRounding: boolean;
}

/**
 * The least of a few distances that closes the most open edges, and how many stay open; undefined where none closes
 * any. Only a proposal: the user accepts it.
 */
export function proposeWeld(mesh: Pick<SourcedMesh, 'positions'>): WeldProposal | undefined {
  const { vertices, triangles } = weld(mesh.positions);
  const { twin, openEdges: before } = edgeAdjacency(triangles, vertices.length / 3);
  if (before === 0) return undefined;
  const open: [number, number][] = [];
  const onEdge = new Uint8Array(vertices.length / 3);
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] !== OPEN_EDGE) continue;
    const ends: [number, number] = [triangles[h], triangles[nextSide(h)]];
    open.push(ends);
    onEdge[ends[0]] = onEdge[ends[1]] = 1;
  }
  const bounds = boundsOf(vertices);
  const size = Math.hypot(...bounds.max.map((high, k) => high - bounds.min[k]));
  let best = { distance: 0, openEdges: before, isRounding: false };
  for (const share of GAP_SHARES) {
    const target = nearestFirst(vertices, onEdge, share * size);
    if (!target) continue;
    const openEdges = unmatched(open, target);
    if (openEdges < best.openEdges) {
      best = { distance: share * size, openEdges, isRounding: openEdges === 0 && share <= ROUNDING_SHARE };
    }
    if (openEdges === 0) break;
  }
  return best.openEdges < before ? best : undefined;
}

/** Open edges that find no partner once their ends have moved; those that shrink to a point are gone. */
function unmatched(open: readonly (readonly [number, number])[], target: Uint32Array): number {
  const count = target.length;
  const sides = new Map<number, number>();
  for (const [from, to] of open) {
    const [a, b] = [target[from], target[to]];
    if (a === b) continue;
    const key = Math.min(a, b) * count + Math.max(a, b);
    sides.set(key, (sides.get(key) ?? 0) + 1);
  }
  let left = 0;
  for (const uses of sides.values()) if (uses !== 2) left += uses;
  return left;
}
