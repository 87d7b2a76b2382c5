/** Triangles of each set as a chain, ascending: head[root], next[…], until −1. */
export interface TriangleChains {
  readonly head: Int32Array;
  readonly next: Int32Array;
}

/** @param root per triangle the lowest triangle of its set */
export function triangleChains(root: Int32Array): TriangleChains {
  const head = new Int32Array(root.length).fill(-1);
  const next = new Int32Array(root.length);
  for (let t = root.length - 1; t >= 0; t--) {
    next[t] = head[root[t]];
    head[root[t]] = t;
  }
  return { head, next };
}
