import { nearestOnTriangle } from '../field/nearest-on-triangle.ts';
import type { PartGeometry } from './part-geometry.ts';

type Pieced = Pick<PartGeometry, 'positions' | 'sourceTriangle' | 'triangleCount'> & {
  readonly graph: Pick<PartGeometry['graph'], 'twin'>;
};

/**
 * The pieces that fusing cut some triangles of the file into: per source the lists of mesh triangles that hang together.
 * A wall across a plate leaves two pieces of each triangle it crosses, one on either side.
 */
export function piecesOfSources(
  { sourceTriangle, triangleCount, graph }: Pieced,
  sources: ReadonlySet<number>,
): Map<number, number[][]> {
  const pieces = new Map<number, number[][]>();
  if (!sourceTriangle) return pieces;
  const seen = new Uint8Array(triangleCount);
  for (let first = 0; first < triangleCount; first++) {
    const source = sourceTriangle[first];
    if (seen[first] === 1 || !sources.has(source)) continue;
    seen[first] = 1;
    const piece = [first];
    for (let i = 0; i < piece.length; i++) {
      for (let h = 3 * piece[i]; h < 3 * piece[i] + 3; h++) {
        const t = graph.twin[h] < 0 ? -1 : (graph.twin[h] / 3) | 0;
        if (t < 0 || seen[t] === 1 || sourceTriangle[t] !== source) continue;
        seen[t] = 1;
        piece.push(t);
      }
    }
    const known = pieces.get(source);
    if (known) known.push(piece);
    else pieces.set(source, [piece]);
  }
  return pieces;
}

/** The one that lies nearest to a place, model units. */
export function pieceAt(
  { positions }: Pick<PartGeometry, 'positions'>,
  pieces: readonly number[][],
  at: readonly [number, number, number],
): number[] | undefined {
  let best: number[] | undefined;
  let best2 = Infinity;
  for (const piece of pieces) {
    for (const t of piece) {
      const near = nearestOnTriangle(Float64Array.from(positions.subarray(9 * t, 9 * t + 9)), 0, at);
      const d2 = (near[0] - at[0]) ** 2 + (near[1] - at[1]) ** 2 + (near[2] - at[2]) ** 2;
      if (d2 < best2) [best, best2] = [piece, d2];
    }
  }
  return best;
}

/** A place inside a piece, by which it is found again: the middle of its largest triangle. */
export function placeOfPiece(
  { positions }: Pick<PartGeometry, 'positions'>,
  piece: readonly number[],
  triangleAreas: Float64Array,
): [number, number, number] {
  const largest = piece.reduce((best, t) => (triangleAreas[t] > triangleAreas[best] ? t : best));
  const middle = (k: number): number =>
    (positions[9 * largest + k] + positions[9 * largest + 3 + k] + positions[9 * largest + 6 + k]) / 3;
  return [middle(0), middle(1), middle(2)];
}
