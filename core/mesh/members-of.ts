/**
 * The members of each group, ascending.
 *
 * @param of per member its group, below 0 for none
 */
export function membersOf(of: Uint32Array | Int32Array, count: number): Uint32Array[] {
  const sizes = new Uint32Array(count);
  // Members of a group mostly come in runs.
  for (let t = 0; t < of.length;) {
    const group = of[t];
    const first = t;
    while (t < of.length && of[t] === group) t++;
    if (group >= 0) sizes[group] += t - first;
  }
  const lists = Array.from(sizes, (size) => new Uint32Array(size));
  sizes.fill(0);
  for (let t = 0; t < of.length;) {
    const group = of[t];
    if (group < 0) {
      t++;
      continue;
    }
    const list = lists[group];
    let at = sizes[group];
    for (; t < of.length && of[t] === group; t++) list[at++] = t;
    sizes[group] = at;
  }
  return lists;
}
