/** Half-edges are numbered as edge-adjacency.ts says: 3t + k is side k of triangle t, from its corner k to the next. */

/** The half-edge after `h` in its triangle: it starts where `h` ends. */
export function nextSide(h: number): number {
  return h % 3 === 2 ? h - 2 : h + 1;
}

/** The half-edge before `h` in its triangle: it ends where `h` starts. */
export function sideBefore(h: number): number {
  return h % 3 === 0 ? h + 2 : h - 1;
}
