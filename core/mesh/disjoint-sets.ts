/**
 * Disjoint sets over 0 … n − 1, kept in one array of parents. The lowest member is always the root, so the sets come
 * out in order of their lowest member and `parent[i] <= i` holds throughout.
 */
export function singleSets(count: number): Int32Array<ArrayBuffer> {
  const parent = new Int32Array(count);
  for (let i = 0; i < count; i++) parent[i] = i;
  return parent;
}

export function rootOf(parent: Int32Array, member: number): number {
  let i = member;
  let p = parent[i];
  while (p !== i) {
    const above = parent[p];
    parent[i] = above;
    i = above;
    p = parent[i];
  }
  return i;
}

export function joinSets(parent: Int32Array, a: number, b: number): void {
  if (parent[a] === parent[b]) return;
  const rootA = rootOf(parent, a);
  const rootB = rootOf(parent, b);
  if (rootA < rootB) parent[rootB] = rootA;
  else if (rootB < rootA) parent[rootA] = rootB;
}

/** Points every member straight at its root. Changes `parent`. */
export function flattenSetsInto(parent: Int32Array): void {
  // Parents are never above their children, so one ascending pass is enough.
  for (let i = 0; i < parent.length; i++) parent[i] = parent[parent[i]];
}
