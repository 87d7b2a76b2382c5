import type { IndexedMesh } from '../../../core/mesh/mesh.ts';
import { rotate, rotationForUp } from '../../../core/racking/pose.ts';
import type { Vec3 } from '../../../core/racking/vec3.ts';

/**
 * Brute force: the part on a grid of cubes, then flooding from outside. For every open cube the lowest point of the
 * best way out is found with a bucket queue; a cube higher than that holds gas. The other way up for liquid.
 */
export function floodGrid(
  mesh: IndexedMesh,
  up: Vec3,
  cells: number,
): { gas: number; liquid: number; sheltered: number; cell: number } {
  const rotation = rotationForUp(up);
  const points: Vec3[] = [];
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < mesh.vertices.length; i += 3) {
    const p = rotate(rotation, [mesh.vertices[i], mesh.vertices[i + 1], mesh.vertices[i + 2]]);
    points.push(p);
    for (let k = 0; k < 3; k++) {
      min[k] = Math.min(min[k], p[k]);
      max[k] = Math.max(max[k], p[k]);
    }
  }
  const wide = Math.max(...[0, 1, 2].map((k) => max[k] - min[k]));
  const cell = wide / cells;
  const n = [0, 1, 2].map((k) => Math.ceil((max[k] - min[k]) / cell) + 3);
  const [nx, ny, nz] = n;
  // Off the vertices, so that no column runs along an edge.
  const start = [0, 1, 2].map((k) => min[k] - cell * (1.03 + 0.0137 * (k + 1)));
  const stride = [1, nx, nx * ny];
  const solid = new Uint8Array(nx * ny * nz);
  // Per axis and cube: the surface lies between its middle and the next one's, so walls thinner than a cube hold.
  const wall = [0, 1, 2].map(() => new Uint8Array(solid.length));
  for (let axis = 0; axis < 3; axis++) {
    const u = (axis + 1) % 3;
    const v = (axis + 2) % 3;
    const crossings: number[][] = Array.from({ length: n[u] * n[v] }, () => []);
    for (let t = 0; t < mesh.triangles.length; t += 3) {
      const [a, b, c] = [0, 1, 2].map((k) => points[mesh.triangles[t + k]]);
      const low = (k: number): number =>
        Math.max(0, Math.ceil((Math.min(a[k], b[k], c[k]) - start[k]) / cell - 0.5));
      const high = (k: number): number =>
        Math.min(n[k] - 1, Math.floor((Math.max(a[k], b[k], c[k]) - start[k]) / cell - 0.5));
      for (let iu = low(u); iu <= high(u); iu++) {
        for (let iv = low(v); iv <= high(v); iv++) {
          const x = start[u] + (iu + 0.5) * cell;
          const y = start[v] + (iv + 0.5) * cell;
          const wa = (b[u] - x) * (c[v] - y) - (b[v] - y) * (c[u] - x);
          const wb = (c[u] - x) * (a[v] - y) - (c[v] - y) * (a[u] - x);
          const wc = (a[u] - x) * (b[v] - y) - (a[v] - y) * (b[u] - x);
          if (!((wa > 0 && wb > 0 && wc > 0) || (wa < 0 && wb < 0 && wc < 0))) continue;
          crossings[iv * n[u] + iu].push((wa * a[axis] + wb * b[axis] + wc * c[axis]) / (wa + wb + wc));
        }
      }
    }
    for (let column = 0; column < crossings.length; column++) {
      const base = (column % n[u]) * stride[u] + Math.floor(column / n[u]) * stride[v];
      const met = crossings[column].sort((a, b) => a - b);
      for (const at of met) {
        const before = Math.floor((at - start[axis]) / cell - 0.5);
        if (before >= 0 && before < n[axis]) wall[axis][base + before * stride[axis]] = 1;
      }
      if (axis !== 2) continue;
      for (let i = 0; i + 1 < met.length; i += 2) {
        const first = Math.max(0, Math.ceil((met[i] - start[2]) / cell - 0.5));
        const last = Math.min(nz - 1, Math.floor((met[i + 1] - start[2]) / cell - 0.5));
        for (let iz = first; iz <= last; iz++) solid[base + iz * stride[2]] = 1;
      }
    }
  }
  const step = (at: number, to: (next: number) => void): void => {
    const place = [at % nx, Math.floor(at / nx) % ny, Math.floor(at / (nx * ny))];
    for (let axis = 0; axis < 3; axis++) {
      if (place[axis] > 0 && !wall[axis][at - stride[axis]]) to(at - stride[axis]);
      if (place[axis] < n[axis] - 1 && !wall[axis][at]) to(at + stride[axis]);
    }
  };
  /** Per cube: the layer of the lowest point of its best way out, or −1 when there is none. */
  const best = (flip: boolean): Int32Array => {
    const level = new Int32Array(solid.length).fill(-1);
    const buckets: number[][] = Array.from({ length: nz }, () => []);
    const layer = (at: number): number => {
      const z = Math.floor(at / (nx * ny));
      return flip ? nz - 1 - z : z;
    };
    const visit = (at: number, from: number): void => {
      if (solid[at] || level[at] >= 0) return;
      level[at] = Math.min(from, layer(at));
      buckets[level[at]].push(at);
    };
    for (let at = 0; at < solid.length; at++) {
      const x = at % nx;
      const y = Math.floor(at / nx) % ny;
      const z = Math.floor(at / (nx * ny));
      if (x === 0 || y === 0 || z === 0 || x === nx - 1 || y === ny - 1 || z === nz - 1) visit(at, nz - 1);
    }
    for (let l = nz - 1; l >= 0; l--) {
      for (let at = buckets[l].pop(); at !== undefined; at = buckets[l].pop()) {
        step(at, (next) => visit(next, l));
      }
    }
    return level;
  };
  const count = (flip: boolean, level: Int32Array): Uint8Array => {
    const held = new Uint8Array(solid.length);
    for (let at = 0; at < solid.length; at++) {
      const z = Math.floor(at / (nx * ny));
      if (!solid[at] && level[at] >= 0 && level[at] < (flip ? nz - 1 - z : z)) held[at] = 1;
    }
    return held;
  };
  const gasLevel = best(false);
  const gas = count(false, gasLevel);
  const liquid = count(true, best(true));
  const sum = (flags: Uint8Array): number => flags.reduce((total, flag) => total + flag, 0) * cell ** 3;
  // What can be reached only through gas.
  const reached = new Uint8Array(solid.length);
  const open = [0];
  reached[0] = 1;
  while (open.length > 0) {
    const at = open.pop()!;
    step(at, (next) => {
      if (reached[next] || solid[next] || gas[next]) return;
      reached[next] = 1;
      open.push(next);
    });
  }
  let behind = 0;
  for (let at = 0; at < solid.length; at++) {
    if (!solid[at] && !gas[at] && !reached[at] && gasLevel[at] >= 0) behind++;
  }
  return { gas: sum(gas), liquid: sum(liquid), sheltered: behind * cell ** 3, cell };
}
