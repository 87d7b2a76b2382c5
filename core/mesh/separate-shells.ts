import { flattenSetsInto, joinSets, singleSets } from './disjoint-sets.ts';
import { COLLAPSED_EDGE, runSameWay } from './edge-adjacency.ts';
import type { IndexedMesh } from './mesh.ts';
import { pairedAdjacency } from './paired-adjacency.ts';

/** A mesh taken apart into the shells that bound metal, also where they share corners and edges. */
export interface SeparateShells {
  readonly count: number;
  /** Per triangle: its shell, in order of their lowest triangle; NO_SHELL for one that has collapsed. */
  readonly ofTriangle: Uint32Array;
  /** Per shell: 1 where it is closed and all one way round. */
  readonly sound: Uint8Array;
  /** Per half-edge: the one on the other side, or below 0. Three triangles and more at an edge are paired. */
  readonly twin: Int32Array;
}

export const NO_SHELL = 0xffffffff;

/**
 * Shells hang together over edges as pairedAdjacency pairs them, which gives bodies that touch at edges back apart.
 *
 * @param bodyOf per triangle, where the file says which body it belongs to
 */
export function separateShells(mesh: IndexedMesh, bodyOf?: Uint32Array): SeparateShells {
  const { triangles } = mesh;
  const total = triangles.length / 3;
  const { twin } = pairedAdjacency(mesh, bodyOf);
  const parent = singleSets(total);
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] > h) joinSets(parent, (h / 3) | 0, (twin[h] / 3) | 0);
  }
  flattenSetsInto(parent);
  const ofTriangle = new Uint32Array(total);
  let count = 0;
  for (let t = 0; t < total; t++) {
    if (twin[3 * t] === COLLAPSED_EDGE) ofTriangle[t] = NO_SHELL;
    else ofTriangle[t] = parent[t] === t ? count++ : ofTriangle[parent[t]];
  }
  const sound = new Uint8Array(count).fill(1);
  for (let h = 0; h < twin.length; h++) {
    const shell = ofTriangle[(h / 3) | 0];
    if (shell !== NO_SHELL && (twin[h] < 0 || runSameWay(triangles, h, twin[h]))) sound[shell] = 0;
  }
  return { count, ofTriangle, sound, twin };
}
