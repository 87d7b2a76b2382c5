import { CROWDED_EDGE } from './edge-adjacency.ts';

/**
 * Triangles that use the same three vertices as an earlier one, either way round. Two such triangles share all three
 * edges, so only those are looked at whose edges are all crowded or all lead to one and the same neighbour.
 *
 * @returns triangle numbers, ascending, the first of each set left out
 */
export function duplicateTriangles(triangles: Uint32Array, twin: Int32Array): Uint32Array {
  const duplicates: number[] = [];
  const byLowest = new Map<number, number[]>();
  for (let h = 0; h < twin.length; h += 3) {
    const first = twin[h];
    const second = twin[h + 1];
    const third = twin[h + 2];
    if (first === CROWDED_EDGE) {
      if (second !== CROWDED_EDGE || third !== CROWDED_EDGE) continue;
    } else {
      // Two half-edges of one triangle are at most 2 apart: this turns nearly all away without a division.
      if (first < 0 || second < 0 || third < 0 || Math.abs(first - second) > 2) continue;
      const across = (first / 3) | 0;
      if (((second / 3) | 0) !== across || ((third / 3) | 0) !== across) continue;
    }
    const key = Math.min(triangles[h], triangles[h + 1], triangles[h + 2]);
    const before = byLowest.get(key);
    if (before === undefined) {
      byLowest.set(key, [h]);
      continue;
    }
    if (isAmong(triangles, before, h)) duplicates.push(h / 3);
    else before.push(h);
  }
  return Uint32Array.from(duplicates);
}

/** A function of its own: with one in the loop that knows `h` every triangle of the part would cost a place in memory. */
function isAmong(triangles: Uint32Array, before: readonly number[], h: number): boolean {
  return before.some((other) => sameVertices(triangles, h, other));
}

function sameVertices(triangles: Uint32Array, h: number, g: number): boolean {
  for (let i = h; i < h + 3; i++) {
    const v = triangles[i];
    if (triangles[g] !== v && triangles[g + 1] !== v && triangles[g + 2] !== v) return false;
  }
  return true;
}
