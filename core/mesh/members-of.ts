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
  for (let t = 0; t < of.length; t++) if (of[t] >= 0) lists[of[t]][sizes[of[t]]++] = t;
  return lists;
}
