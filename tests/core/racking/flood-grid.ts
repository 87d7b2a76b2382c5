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
  const crossings: number[][] = Array.from({ length: nx * ny }, () => []);
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => points[mesh.triangles[t + k]]);
    const x0 = Math.max(0, Math.ceil((Math.min(a[0], b[0], c[0]) - start[0]) / cell - 0.5));
    const x1 = Math.min(nx - 1, Math.floor((Math.max(a[0], b[0], c[0]) - start[0]) / cell - 0.5));
    const y0 = Math.max(0, Math.ceil((Math.min(a[1], b[1], c[1]) - start[1]) / cell - 0.5));
    const y1 = Math.min(ny - 1, Math.floor((Math.max(a[1], b[1], c[1]) - start[1]) / cell - 0.5));
    for (let ix = x0; ix <= x1; ix++) {
      for (let iy = y0; iy <= y1; iy++) {
        const x = start[0] + (ix + 0.5) * cell;
        const y = start[1] + (iy + 0.5) * cell;
        const wa = (b[0] - x) * (c[1] - y) - (b[1] - y) * (c[0] - x);
        const wb = (c[0] - x) * (a[1] - y) - (c[1] - y) * (a[0] - x);
        const wc = (a[0] - x) * (b[1] - y) - (a[1] - y) * (b[0] - x);
        if (!((wa > 0 && wb > 0 && wc > 0) || (wa < 0 && wb < 0 && wc < 0))) continue;
        crossings[iy * nx + ix].push((wa * a[2] + wb * b[2] + wc * c[2]) / (wa + wb + wc));
      }
    }
  }
  const solid = new Uint8Array(nx * ny * nz);
  for (let column = 0; column < nx * ny; column++) {
    const heights = crossings[column].sort((a, b) => a - b);
    for (let i = 0; i + 1 < heights.length; i += 2) {
      const z0 = Math.max(0, Math.ceil((heights[i] - start[2]) / cell - 0.5));
      const z1 = Math.min(nz - 1, Math.floor((heights[i + 1] - start[2]) / cell - 0.5));
      for (let iz = z0; iz <= z1; iz++) solid[iz * nx * ny + column] = 1;
    }
  }
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
        const x = at % nx;
        const y = Math.floor(at / nx) % ny;
        if (x > 0) visit(at - 1, l);
        if (x < nx - 1) visit(at + 1, l);
        if (y > 0) visit(at - nx, l);
        if (y < ny - 1) visit(at + nx, l);
        if (at >= nx * ny) visit(at - nx * ny, l);
        if (at < solid.length - nx * ny) visit(at + nx * ny, l);
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
    const x = at % nx;
    const y = Math.floor(at / nx) % ny;
    const go = (next: number): void => {
      if (reached[next] || solid[next] || gas[next]) return;
      reached[next] = 1;
      open.push(next);
    };
    if (x > 0) go(at - 1);
    if (x < nx - 1) go(at + 1);
    if (y > 0) go(at - nx);
    if (y < ny - 1) go(at + nx);
    if (at >= nx * ny) go(at - nx * ny);
    if (at < solid.length - nx * ny) go(at + nx * ny);
  }
  let behind = 0;
  for (let at = 0; at < solid.length; at++) {
    if (!solid[at] && !gas[at] && !reached[at] && gasLevel[at] >= 0) behind++;
  }
  return { gas: sum(gas), liquid: sum(liquid), sheltered: behind * cell ** 3, cell };
}
