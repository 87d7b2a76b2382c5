import type { FaceTable } from '../faces/face-table.ts';
import { flattenSetsInto, joinSets, singleSets } from './disjoint-sets.ts';

export interface Shells {
  readonly count: number;
  /** Per face row: its shell, numbered from 0 in order of their lowest triangle. */
  readonly ofFace: Uint32Array;
}

/**
 * Parts of the surface that hang together over edges with exactly two triangles: faces joined over their borders,
 * because a face hangs together by itself. Shells that only touch at a vertex or at a crowded edge stay apart.
 */
export function shellsOf(faces: Pick<FaceTable, 'count' | 'borders'>): Shells {
  const parent = singleSets(faces.count);
  for (let i = 0; i < faces.borders.a.length; i++) {
    joinSets(parent, faces.borders.a[i], faces.borders.b[i]);
  }
  flattenSetsInto(parent);
  const ofFace = new Uint32Array(faces.count);
  let count = 0;
  for (let face = 0; face < faces.count; face++) {
    ofFace[face] = parent[face] === face ? count++ : ofFace[parent[face]];
  }
  return { count, ofFace };
}
