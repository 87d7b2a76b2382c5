/**
 * Triangles of each set as a chain, ascending: the root, which is the first, then next[root], next[…], until −1.
 *
 * @param root per triangle the lowest triangle of its set
 */
export function triangleChains(root: Int32Array): Int32Array {
  const next = new Int32Array(root.length).fill(-1);
  // From the back: a root comes last of its set, and until then leads to the lowest one so far.
  for (let t = root.length - 1; t >= 0; t--) {
    const first = root[t];
    if (first === t) continue;
    next[t] = next[first];
    next[first] = t;
  }
  return next;
}
