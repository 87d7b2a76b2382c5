import { weld } from './weld.ts';

export interface ChangedTriangles {
  /** Of the mesh before: not in the mesh after as they are. */
  readonly gone: Uint32Array;
  /** Of the mesh after: not in the mesh before as they are. */
  readonly come: Uint32Array;
}

/**
 * What differs between two meshes, triangle by triangle. Two are the same with the same corners to the last bit and the
 * same way round; which corner comes first does not count. Each stands for one of the other mesh at most, so that a
 * surface written twice and then once differs.
 *
 * @param before 9 floats a triangle
 * @param after 9 floats a triangle
 */
export function changedTriangles(before: Float32Array, after: Float32Array): ChangedTriangles {
  const both = new Float32Array(before.length + after.length);
  both.set(before);
  both.set(after, before.length);
  const { vertices, triangles } = weld(both);
  const corners = smallestFirst(triangles);
  const countBefore = before.length / 9;
  const count = both.length / 9;
  // Triangles before, in chains by their smallest corner.
  const first = new Int32Array(vertices.length / 3).fill(-1);
  const next = new Int32Array(countBefore);
  for (let t = countBefore - 1; t >= 0; t--) {
    next[t] = first[corners[3 * t]];
    first[corners[3 * t]] = t;
  }
  const isKept = new Uint8Array(countBefore);
  const come: number[] = [];
  for (let t = countBefore; t < count; t++) {
    let same = first[corners[3 * t]];
    while (same >= 0 && (isKept[same] === 1 || !alike(corners, same, t))) same = next[same];
    if (same < 0) come.push(t - countBefore);
    else isKept[same] = 1;
  }
  const gone: number[] = [];
  for (let t = 0; t < countBefore; t++) if (isKept[t] === 0) gone.push(t);
  return { gone: Uint32Array.from(gone), come: Uint32Array.from(come) };
}

const alike = (corners: Uint32Array, a: number, b: number): boolean =>
  corners[3 * a + 1] === corners[3 * b + 1] && corners[3 * a + 2] === corners[3 * b + 2];

/** Each triangle turned in itself so that its smallest corner number comes first. */
function smallestFirst(triangles: Uint32Array): Uint32Array {
  const turned = new Uint32Array(triangles.length);
  for (let at = 0; at < triangles.length; at += 3) {
    let low = 0;
    if (triangles[at + 1] < triangles[at]) low = 1;
    if (triangles[at + 2] < triangles[at + low]) low = 2;
    for (let k = 0; k < 3; k++) turned[at + k] = triangles[at + ((low + k) % 3)];
  }
  return turned;
}
