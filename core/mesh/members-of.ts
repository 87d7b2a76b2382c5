const NONE = new Uint32Array();

/**
 * The members of each group, ascending.
 *
 * @param of per member its group, below 0 for none
 */
export function membersOf(of: Uint32Array | Int32Array, count: number): Uint32Array[] {
  const sizes = new Uint32Array(count);
  for (let t = 0; t < of.length; t++) if (of[t] >= 0) sizes[of[t]]++;
  const lists = Array.from(sizes, (size) => new Uint32Array(size));
  sizes.fill(0);
  // Members of a group mostly come in runs.
  let group = -1;
  let list = NONE;
  let at = 0;
  for (let t = 0; t < of.length; t++) {
    if (of[t] < 0) continue;
    if (of[t] !== group) {
      if (group >= 0) sizes[group] = at;
      group = of[t];
      list = lists[group];
      at = sizes[group];
    }
    list[at++] = t;
  }
  return lists;
}
