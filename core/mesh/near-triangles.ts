import { buildTriangleBvh } from '../racking/triangle-bvh.ts';

/**
 * Goes through the pairs of triangles, one of `own` and one of `others`, whose boxes come within `slack` of each
 * other. `each` may return true to stop.
 *
 * @param positions 9 floats a triangle
 * @returns whether it was stopped
 */
export function nearTriangles(
  positions: Float32Array,
  own: Uint32Array,
  others: Uint32Array,
  slack: number,
  each: (own: number, other: number) => boolean | void,
): boolean {
  if (own.length === 0 || others.length === 0) return false;
  const corners = new Uint32Array(3 * others.length);
  for (let i = 0; i < others.length; i++) {
    for (let k = 0; k < 3; k++) corners[3 * i + k] = 3 * others[i] + k;
  }
  const { bounds, link, count, order } = buildTriangleBvh(positions, corners);
  const stack = new Uint32Array(256);
  for (const t of own) {
    const i = 9 * t;
    const x0 = Math.min(positions[i], positions[i + 3], positions[i + 6]) - slack;
    const y0 = Math.min(positions[i + 1], positions[i + 4], positions[i + 7]) - slack;
    const z0 = Math.min(positions[i + 2], positions[i + 5], positions[i + 8]) - slack;
    const x1 = Math.max(positions[i], positions[i + 3], positions[i + 6]) + slack;
    const y1 = Math.max(positions[i + 1], positions[i + 4], positions[i + 7]) + slack;
    const z1 = Math.max(positions[i + 2], positions[i + 5], positions[i + 8]) + slack;
    let top = 0;
    stack[top++] = 0;
    while (top > 0) {
      const node = stack[--top];
      const b = 6 * node;
      if (
        bounds[b] > x1 ||
        bounds[b + 3] < x0 ||
        bounds[b + 1] > y1 ||
        bounds[b + 4] < y0 ||
        bounds[b + 2] > z1 ||
        bounds[b + 5] < z0
      ) {
        continue;
      }
      const leaf = count[node];
      if (leaf === 0) {
        stack[top++] = node + 1;
        stack[top++] = link[node];
        continue;
      }
      for (let place = link[node]; place < link[node] + leaf; place++) {
        const other = others[order[place]];
        const j = 9 * other;
        if (
          Math.min(positions[j], positions[j + 3], positions[j + 6]) <= x1 &&
          Math.max(positions[j], positions[j + 3], positions[j + 6]) >= x0 &&
          Math.min(positions[j + 1], positions[j + 4], positions[j + 7]) <= y1 &&
          Math.max(positions[j + 1], positions[j + 4], positions[j + 7]) >= y0 &&
          Math.min(positions[j + 2], positions[j + 5], positions[j + 8]) <= z1 &&
          Math.max(positions[j + 2], positions[j + 5], positions[j + 8]) >= z0 &&
          each(t, other) === true
        ) {
          return true;
        }
      }
    }
  }
  return false;
}

/** Those of `triangles` whose box reaches into the box from `low` to `high`. */
export function trianglesInBox(
  positions: Float32Array,
  triangles: Uint32Array,
  low: readonly number[],
  high: readonly number[],
): Uint32Array {
  return triangles.filter((t) => {
    const i = 9 * t;
    for (let k = 0; k < 3; k++) {
      const p = positions[i + k];
      const q = positions[i + 3 + k];
      const r = positions[i + 6 + k];
      if (Math.min(p, q, r) > high[k] || Math.max(p, q, r) < low[k]) return false;
    }
    return true;
  });
}
