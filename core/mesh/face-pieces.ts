import { flattenSetsInto, joinSets, singleSets } from './disjoint-sets.ts';
import { NO_SHELL, separateShells } from './separate-shells.ts';
import { weld } from './weld.ts';

/** A piece smaller than this share of its face is what rounding leaves beside a cut, and no face of its own. */
const SLIVER_SHARE = 0.01;

/**
 * The pieces that faces are in after fusing: a wall across a plate leaves two of its top, and a tube that ends on a wall cuts
 * one off that lies inside it, where no bath comes. Slivers go with the largest piece of their face in the same shell, so that a
 * piece never lies in two shells.
 *
 * @param faceOf per triangle its face, negative for those of none, which stay apart
 * @param areas of the triangles
 * @returns per triangle: the lowest triangle of its piece
 */
export function facePieces(positions: Float32Array, faceOf: Int32Array, areas: Float64Array): Int32Array {
  const shells = separateShells(weld(positions));
  const { twin, ofTriangle } = shells;
  const piece = singleSets(faceOf.length);
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] <= h) continue;
    const [a, b] = [(h / 3) | 0, (twin[h] / 3) | 0];
    if (faceOf[a] >= 0 && faceOf[a] === faceOf[b]) joinSets(piece, a, b);
  }
  flattenSetsInto(piece);
  const areaOf = new Float64Array(faceOf.length);
  piece.forEach((first, t) => (areaOf[first] += areas[t]));
  const firsts = [...piece.keys()].filter((t) => piece[t] === t && faceOf[t] >= 0);
  /** The largest piece of each face, and of each face in each shell. */
  const whole = new Map<number, number>();
  const inShell = new Map<string, number>();
  const shellKey = (t: number): string => `${faceOf[t]} ${ofTriangle[t]}`;
  for (const t of firsts) {
    keepLargest(whole, faceOf[t], t, areaOf);
    keepLargest(inShell, shellKey(t), t, areaOf);
  }
  for (const t of firsts) {
    const largest = whole.get(faceOf[t])!;
    if (ofTriangle[t] === NO_SHELL || areaOf[largest] === 0) joinSets(piece, largest, t);
    else if (areaOf[t] < SLIVER_SHARE * areaOf[largest]) joinSets(piece, inShell.get(shellKey(t))!, t);
  }
  flattenSetsInto(piece);
  return piece;
}

function keepLargest<Key>(best: Map<Key, number>, key: Key, piece: number, areaOf: Float64Array): void {
  const known = best.get(key);
  if (known === undefined || areaOf[piece] > areaOf[known]) best.set(key, piece);
}
