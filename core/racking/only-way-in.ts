import type { FaceTable } from '../faces/face-table.ts';

/**
 * Whether a hole is the only way from one side of it to the other: with its wall taken out of a closed surface, what lies at its two
 * rims no longer hangs together. What holds there shuts a hollow behind it off.
 *
 * @param rows the faces of its wall
 */
export function onlyWayIn(faces: FaceNeighbours, rows: readonly number[]): boolean {
  const { start, next } = faces;
  const wall = new Set(rows);
  const rims = new Set<number>();
  for (const row of rows) {
    for (let i = start[row]; i < start[row + 1]; i++) if (!wall.has(next[i])) rims.add(next[i]);
  }
  const [first] = rims;
  if (first === undefined) return false;
  rims.delete(first);
  const seen = new Set([first, ...rows]);
  const queue = [first];
  for (let head = 0; head < queue.length && rims.size > 0; head++) {
    const row = queue[head];
    for (let i = start[row]; i < start[row + 1]; i++) {
      const other = next[i];
      if (seen.has(other)) continue;
      seen.add(other);
      rims.delete(other);
      queue.push(other);
    }
  }
  return rims.size > 0;
}

/** Per face row those that border it: `next[start[row] … start[row + 1])`. */
export interface FaceNeighbours {
  readonly start: Uint32Array;
  readonly next: Uint32Array;
}

export function faceNeighbours({ count, borders }: Pick<FaceTable, 'count' | 'borders'>): FaceNeighbours {
  const { a, b } = borders;
  const start = new Uint32Array(count + 1);
  for (const side of [a, b]) for (const row of side) start[row + 1]++;
  for (let row = 0; row < count; row++) start[row + 1] += start[row];
  const fill = start.slice(0, count);
  const next = new Uint32Array(2 * a.length);
  for (let i = 0; i < a.length; i++) {
    next[fill[a[i]]++] = b[i];
    next[fill[b[i]]++] = a[i];
  }
  return { start, next };
}
