/**
 * Whether a hole is the only way from one side of it to the other: with its wall taken out of a closed surface, what lies at its two
 * rims no longer hangs together. What holds there shuts a hollow behind it off.
 *
 * @param neighbours of all faces, see faceNeighbours
 * @param rows the faces of its wall
 */
export function onlyWayIn(
  neighbours: ReadonlyMap<number, readonly number[]>,
  rows: readonly number[],
): boolean {
  const wall = new Set(rows);
  const rims = new Set<number>();
  for (const row of rows) {
    for (const other of neighbours.get(row) ?? []) if (!wall.has(other)) rims.add(other);
  }
  const [first] = rims;
  if (first === undefined) return false;
  rims.delete(first);
  const seen = new Set([first, ...rows]);
  const queue = [first];
  for (let head = 0; head < queue.length && rims.size > 0; head++) {
    const row = queue[head];
    for (const other of neighbours.get(row) ?? []) {
      if (seen.has(other)) continue;
      seen.add(other);
      rims.delete(other);
      queue.push(other);
    }
  }
  return rims.size > 0;
}
